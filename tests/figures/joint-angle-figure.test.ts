/** Carry-over and angles of tests on their last yard: marks of the finished drawing, read against its own axes. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { jointAngle, type JointAngle } from "../../src/dose/joint-angle.js";
import { figuresAt, type NamedFigure } from "../../src/figures/figure-list.js";
import { figureSizes, framed, roomOf } from "../../src/figures/frame.js";
import {
  hasAngles,
  jointAngleFigure,
  testAngleFigure,
} from "../../src/figures/joint-angle-figure.js";
import { figureTheme } from "../../src/figures/theme.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { shippedEvidence } from "../answers/evidence-under-test.js";
import { handMadeSet } from "../dose/hand-made-set.js";
import { coefficientOfPercent } from "../tables/all-different.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";
import { marksIn, pointsOf, readersOf } from "./read-plot.js";

const log = (percent: number): number => Math.log1p(percent / 100);
const gain = (percent: readonly [number, number, number]) => ({
  kind: "told",
  ...coefficientOfPercent("", percent, [0.02, 0, 0]),
});
const at = (arm: string, trained: number, testAngle: number, percent: number) => ({
  effectId: `${arm}${testAngle}`,
  study: "Elm",
  arm,
  series: arm,
  distance: Math.abs(trained - testAngle),
  testAngle,
  estimate: log(percent),
  variance: 0.0004,
});
const fitted = (distance: number, low: number, middle: number, high: number) => ({
  distance,
  estimate: log(middle),
  interval: { low: log(low), high: log(high) },
});
const short = {
  muscleLength: "short",
  effects: 31,
  studies: 4,
  people: 57,
  distances: { low: 0, high: 40, distinct: 5 },
  level: gain([6.2, 9.4, 12.6]),
  halfWidth: {
    kind: "told",
    degrees: 9.46,
    interval: { low: 7.23, high: 14.7 },
    degreesOfFreedom: 5,
  },
  left: [],
  average: gain([3.3, 5.5, 7.7]),
  curve: [fitted(0, 6.2, 9.4, 12.6), fitted(20, 0.4, 1.6, 2.8), fitted(40, -0.3, 0.1, 0.5)],
  points: [at("a", 30, 30, 9.9), at("a", 30, 50, 2.2), at("a", 30, 70, 0.7), at("b", 35, 45, 4.1)],
  notes: [],
};
const long = {
  muscleLength: "long",
  effects: 22,
  studies: 1,
  people: 64,
  distances: { low: 0, high: 60, distinct: 4 },
  level: { kind: "refusal", code: "made-up", reason: "no level" },
  halfWidth: { kind: "refusal", code: "made-up", reason: "too few studies" },
  left: [],
  average: { kind: "refusal", code: "made-up", reason: "no average" },
  curve: [],
  points: [at("c", 95, 95, 6.4), at("c", 95, 35, 8.6)],
  notes: [{ code: "robust-few-degrees-of-freedom", message: "few degrees of freedom" }],
};
const answer = {
  confidence: 0.9,
  longAgainstShort: {
    kind: "told",
    level: gain([1, 2, 3]),
    widthRatio: {
      estimate: 1.83,
      interval: { low: 1.14, high: 2.95 },
      degreesOfFreedom: 5,
      p: 0.04,
    },
  },
  assumptions: ["a bell"],
  lengths: [
    short,
    long,
    { muscleLength: "middle", effects: 3, studies: 1, people: 9, distances: undefined, points: [] },
  ],
} as unknown as JointAngle;
const input = {
  answer,
  family: "joint torque",
  scale: "log-ratio-of-means",
  borrowed: ["b45"],
} as const;

describe("made up so that no two numbers agree", () => {
  test.each(figureSizes)(
    "%s: effects, curve and half width stand where the answer puts them",
    async (size) => {
      const figure = framed(jointAngleFigure(input, roomOf(size)), { size });
      expectSoundFigure(figure);
      const svg = await drawSvg(figure);
      const { x, y } = readersOf(svg);
      const read = (group: string) =>
        marksIn(svg, group).map((one) => [x(one.x), y(one.y)] as const);
      const arms = read("carry_over_short__arms_marks");
      const expected = [
        [0, 9.9],
        [20, 2.2],
        [40, 0.7],
        [10, 4.1],
      ] as const;
      expect(arms).toHaveLength(4);
      expected.forEach(([distance, percent], place) => {
        expect(Math.abs(arms[place]![0] - distance)).toBeLessThan(0.6);
        expect(Math.abs(arms[place]![1] - percent)).toBeLessThan(0.25);
      });
      // Half of the level on the scale of the analysis: by hand √1.094 = 1.04594.
      const [bar] = read("carry_over_short__where_half_is_left_marks");
      expect(Math.abs(bar![0] - 7.23)).toBeLessThan(0.6);
      expect(Math.abs(bar![1] - 4.594)).toBeLessThan(0.25);
      const fills = marksIn(svg, "carry_over_short__arms_marks").map(({ fill }) => fill);
      expect(fills[3]).toBe(figureTheme.modes.light.background);
      expect(fills[0]).toBe(figureTheme.modes.light.mark);
      expect(marksIn(svg, "carry_over_long__arms_marks")).toHaveLength(2);
    },
  );

  test("its words: the answer in the title, the average beside it, what is not drawn", () => {
    const figure = jointAngleFigure(input);
    expect(figure.title).toBe("Joint torque: half of the gain is left 9.5° away (short length)");
    const drawn = JSON.stringify(figure.specification).replaceAll('","', " ");
    expect(drawn).toContain(
      "the gain reaches 1.8 times as far as after short length (1.1 to 3.0).",
    );
    expect(drawn).toContain("Average over all angles tested: 5.5% (3.3 to 7.7).");
    expect(drawn).toContain("No width: too few studies.");
    expect(figure.caption).toContain("with its 90% interval");
    expect(figure.caption).toContain(
      "3 effects, all at one distance, not drawn. A bell. Few degrees of freedom.",
    );
  });

  test.each([
    [{ low: null, high: null }, "33° from the trained angle (no lower limit to no upper limit)"],
    [{ low: 12.5, high: null }, "33° from the trained angle (13° to no upper limit)"],
    [{ low: null, high: 44.4 }, "33° from the trained angle (no lower limit to 44°)"],
  ])("a width open to a side: %j", (interval, words) => {
    const lengths = [{ ...short, halfWidth: { kind: "told", degrees: 33.3, interval } }];
    const open = { ...answer, lengths } as unknown as JointAngle;
    expect(jointAngleFigure({ ...input, answer: open }).description).toContain(words);
  });

  test("tests at their angles, a line an arm, ringed where it trained", async () => {
    const figure = testAngleFigure(input);
    expectSoundFigure(figure);
    const svg = await drawSvg(framed(figure));
    const { x, y } = readersOf(svg);
    const read = (group: string) =>
      marksIn(svg, group).map((one) => [Math.round(x(one.x)), Math.round(y(one.y))]);
    // The arm with one test has no course over angles.
    expect(read("angles_short__arms_marks")).toEqual([
      [30, 10],
      [50, 2],
      [70, 1],
    ]);
    expect(read("angles_short__trained_where_tested_marks")).toEqual([[30, 10]]);
    expect(read("angles_long__trained_where_tested_marks")).toEqual([[95, 6]]);
    // By hand: a gained most at 30°, which it trained; c at 35°, which it did not.
    expect(figure.title).toBe(
      "Joint torque: the gain is largest at the angle trained in 1 of 2 arms",
    );
  });
});

test.each(figureSizes)("at %s every arm is seen where several gained the same", async (size) => {
  const angles = [95, 75, 35];
  const gains = { d: [6.4, 4.2, 1.3], e: [9.1, 5.7, 2.8] };
  const points = ["c", "c2", "c3", "d", "e"].flatMap((arm) =>
    angles.map((angle, place) => at(arm, 95, angle, (gains[arm as "d"] ?? gains.d)[place]!)),
  );
  const lengths = [{ ...long, points }];
  const five = { ...answer, lengths } as unknown as JointAngle;
  const svg = await drawSvg(
    framed(testAngleFigure({ ...input, answer: five }, roomOf(size)), { size }),
  );
  const marks = marksIn(svg, "angles_long__arms_marks");
  expect(marks).toHaveLength(15);
  const { x, y } = readersOf(svg);
  for (const [place, one] of marks.entries()) {
    // Beside its place, and never off its height.
    expect(Math.abs(x(one.x) - angles[place % 3]!)).toBeLessThan(8);
    expect(Math.abs(y(one.y) - 100 * Math.expm1(points[place]!.estimate))).toBeLessThan(0.3);
    for (const other of marks.slice(place + 1))
      expect(Math.hypot(one.x - other.x, one.y - other.y)).toBeGreaterThan(6);
  }
  const lines = marksIn(svg, "angles_long__arms_of_one_study_\\w*").filter(
    (line) => pointsOf(line).length === angles.length,
  );
  expect(new Set(lines.map(({ path }) => path)).size).toBe(5);
});

test("the invented register draws both, each with its own answer", async () => {
  const { figures } = await ask("joint-angle", {}, shippedEvidence("demo-register.csv"));
  const drawn = figures.map((figure: NamedFigure) => figuresAt("page")(figure)[0]!);
  expect(drawn.map(({ title }) => title)).toEqual([
    expect.stringMatching(/^Strength: half of the gain is left \d+° away \(short length\)/),
    expect.stringMatching(/^Strength: the gain is largest at the angle trained in \d of \d arms$/),
  ]);
  const ringed = rowsOf(drawn[1]!, "angles long: trained where tested");
  expect(ringed.every(({ x }) => Math.round(Number(x) / 5) * 5 === 90)).toBe(true);
});

test("without a test away from the trained angle there is nothing to draw", () => {
  const nothing = jointAngle(handMadeSet([]));
  expect(hasAngles(nothing)).toBe(false);
  expect(() => jointAngleFigure({ ...input, answer: nothing })).toThrow(/two distances or more/);
});
