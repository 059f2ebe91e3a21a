/**
 * Two protocols that differ in one dose, asked of `compare` and of `dose`. Kind of evidence: five registers, made up with gains that
 * rise to 68% of MVC and fall beyond (seeds 1 to 5), on which the two must not contradict each other.
 */
import { describe, expect, test } from "vitest";
import { curvesOf } from "../../src/answers/curve-spans.js";
import { gainAt, doseResponse } from "../../src/dose/dose-response.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { compareProtocols } from "../../src/projection/compare-protocols.js";
import { prepareProjection } from "../../src/projection/prepare-projection.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { verdictSentences } from "../../src/tables/comparison-table.js";
import { registerOf } from "../projection/shape-registers.js";

const goal = "strength at the trained angle";
const at = (intensity: number, hold = 10) =>
  parsePrescription(
    `1 x ${hold === 10 ? 12 : 6} x ${hold} s at ${intensity}%, 3/week, 8 weeks, middle`,
  );
const registers = [1, 2, 3, 4, 5].map((seed) => {
  const set = registerOf(
    { truth: "inverted U", studies: 12, confounded: false },
    randomStream(seed),
  );
  return { seed, set, curveOn: curvesOf(set) };
});

describe.each(registers)("an inverted U, register $seed", ({ set, curveOn }) => {
  const prepared = prepareProjection(set, { goal });
  const pairs = [
    [40, 65],
    [65, 95],
    [40, 95],
  ] as const;
  const compared = (first: number, second: number) => {
    const found = compareProtocols(prepared, [at(first), at(second)], { course: false, curveOn });
    if (found.kind === "refusal") throw new Error(found.reason);
    return found;
  };

  test.each(pairs)(
    "%d against %d: what is called is not against the curve of intensity",
    (a, b) => {
      const comparison = compared(a, b);
      const [{ verdict, curve, average }] = comparison.differences as readonly [
        (typeof comparison.differences)[number],
      ];
      const [words] = verdictSentences(comparison);
      const way = { "first is better": 1, "second is better": -1, tie: 0 }[verdict.call];
      if (curve === undefined) return;
      // The curve's own answer, asked as `dose` is.
      const dose = doseResponse(set, "intensityPercent");
      if (dose.kind !== "told") throw new Error("no curve");
      const [one, other] = [gainAt(dose, a), gainAt(dose, b)];
      if (one.kind !== "told" || other.kind !== "told") throw new Error("outside");
      expect(curve.estimate).toBeCloseTo(one.point.estimate - other.point.estimate, 9);
      expect(way * curve.estimate).toBeGreaterThanOrEqual(0);
      // Where the curve is sure of a difference, the model does not point the other way.
      if (curve.interval.low > 0 || curve.interval.high < 0)
        expect(Math.sign(average.estimate)).toBe(Math.sign(curve.estimate));
      if (verdict.short === "no difference that counts")
        expect(Math.max(-curve.interval.low, curve.interval.high)).toBeLessThanOrEqual(
          Math.log(1.05),
        );
      expect(words).toContain("The curve of intensity alone gives");
    },
  );
});

test("a pair that differs in more than one dose has no curve, and a hold takes tension time with it", () => {
  const { set, curveOn } = registers[0]!;
  const prepared = prepareProjection(set, { goal });
  const axes: string[] = [];
  const asked = (first: ReturnType<typeof at>, second: ReturnType<typeof at>) =>
    compareProtocols(prepared, [first, second], {
      course: false,
      curveOn: (axis, from, to) => {
        axes.push(`${axis} ${from} to ${to}`);
        return curveOn(axis, from, to);
      },
    });
  asked(at(60), at(80, 20));
  expect(axes).toEqual([]);
  asked(at(60, 20), at(60));
  // 6 × 20 s are as much tension as 12 × 10 s.
  expect(axes).toEqual(["holdSeconds 10 to 20"]);
  asked({ ...at(60), repetitions: 6 }, { ...at(60), repetitions: 12 });
  expect(axes.at(-1)).toBe("tensionTimePerSessionSeconds 120 to 60");
  asked({ ...at(60), holdSeconds: 12 }, at(60));
  expect(axes.at(-1)).toBe("holdSeconds 10 to 12");
});
