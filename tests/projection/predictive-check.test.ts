import { describe, expect, test } from "vitest";
import { randomStream } from "../../src/numeric/random-stream.js";
import { prepareProjection } from "../../src/projection/prepare-projection.js";
import type { ProjectionShape } from "../../src/projection/projection-shapes.js";
import { checkSentence } from "../../src/tables/projection-basis-table.js";
import { handMadeSet, sessionOf } from "../dose/hand-made-set.js";
import { quickOptions } from "./hand-made-register.js";

type Gain = (intensity: number, repetitions: number) => number;

/** Twenty-four precise trials of three arms each. */
const checked = (gain: Gain, shapes?: readonly ProjectionShape[]) => {
  const stream = randomStream(8);
  const arms = Array.from({ length: 24 }, (_, study) => {
    const level = 0.03 * stream.normal();
    return [40, 65, 95].map((intensity, arm) => {
      const repetitions = [6, 12, 24][stream.integer(3)]!;
      return {
        study: `study ${study + 1}`,
        arm: `arm ${arm + 1}`,
        estimate: gain(intensity, repetitions) + level + 0.015 * stream.normal(),
        variance: 0.0002,
        row: { ...sessionOf(1, repetitions, 6, intensity), muscleLength: "middle" as const },
      };
    });
  }).flat();
  const prepared = prepareProjection(handMadeSet(arms), {
    ...quickOptions,
    ...(shapes === undefined ? {} : { shapes }),
  });
  if (prepared.kind !== "ready") throw new Error(prepared.reason);
  return prepared;
};

const turned: Gain = (intensity) => 0.25 - 0.1 * ((intensity - 65) / 28) ** 2;
const crossed: Gain = (intensity, repetitions) =>
  0.2 + 0.18 * Math.log(intensity / 65) * Math.log(repetitions / 12);

describe("the model misses the arms", () => {
  test("where one logarithm meets a dose that turns, and says in what", () => {
    const { check, notes } = checked(turned, ["logarithm"]);
    expect(check.p).toBeLessThan(0.02);
    expect(check.misses).toBe(true);
    const most = [...check.terms].sort((a, b) => b.ratio - a.ratio)[0]!;
    expect(most.term).toBe("intensity squared");
    expect(checkSentence(check)).toContain("most of all in intensity squared");
    expect(notes.map(({ code }) => code)).toContain("model-misses-arms");
  });

  test("where two doses act together in a way no model has", () => {
    const { check } = checked(crossed);
    expect(check.misses).toBe(true);
    const most = [...check.terms].sort((a, b) => b.ratio - a.ratio)[0]!;
    expect(most.term).toBe("intensity × tension time in a session");
  });

  test("not where the shapes hold it", () => {
    const { check, notes } = checked(turned);
    expect(check.p).toBeGreaterThan(0.2);
    expect(check.misses).toBe(false);
    expect(checkSentence(check)).toBe(
      `Trials made up by the model bend as those of the file do (p ${check.p.toFixed(2)}).`,
    );
    expect(notes.map(({ code }) => code)).not.toContain("model-misses-arms");
  });
});
