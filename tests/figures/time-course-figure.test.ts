/** The course over the weeks on its last yard: marks of the finished drawing, read against its own axes. */
import { describe, expect, test } from "vitest";
import { timeCourse, type TimeCourse } from "../../src/dose/time-course.js";
import { figureSizes, framed, roomOf } from "../../src/figures/frame.js";
import { timeCourseFigure } from "../../src/figures/time-course-figure.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { handMadeSet } from "../dose/hand-made-set.js";
import { expectSoundFigure } from "./figure-checks.js";
import { marksIn, pointsOf, readersOf } from "./read-plot.js";

const log = (percent: number): number => Math.log1p(percent / 100);
const at = (arm: string, week: number, percent: number) => ({
  effectId: `${arm}${week}`,
  study: "Elm",
  arm,
  series: arm,
  week,
  estimate: log(percent),
  variance: 0.001,
});
const fitted = (week: number, low: number, middle: number, high: number) => ({
  week,
  estimate: log(middle),
  interval: { low: log(low), high: log(high) },
});
const course = {
  effects: 42,
  studies: 3,
  people: 203,
  confidence: 0.9,
  span: { first: 2, last: 10, distinct: 4 },
  timeConstant: {
    kind: "told",
    weeks: 4.36,
    interval: { low: 2.14, high: 9.72 },
    degreesOfFreedom: 5,
  },
  shown: "rising and flattening",
  referenceWeek: 12,
  gains: [{ beyondData: true, ...fitted(12, 7.3, 9.9, 12.8) }],
  shares: [
    { week: 4, share: 0.634, interval: { low: 0.516, high: 0.747 } },
    { week: 8, share: 0.872, interval: { low: 0.751, high: 0.993 } },
    { week: 11, share: 0.95, interval: { low: 0.9, high: 0.99 } },
  ],
  courses: [
    { name: "rising and flattening", weight: 0.628 },
    { name: "straight line", weight: null },
    { name: "logarithm", weight: 0.372 },
  ],
  curve: [fitted(0, 0, 0, 0), fitted(5, 4.1, 5.2, 6.4), fitted(10, 6.7, 8.8, 11.1)],
  points: [at("a", 2, 2.3), at("a", 6, 5.8), at("a", 10, 9.4), at("b", 4, 3.6), at("b", 8, 7.1)],
  notes: [{ code: "x", message: "a doubt" }],
  assumptions: ["levels differ"],
} as unknown as TimeCourse;
const input = { answer: course, family: "joint torque", scale: "log-ratio-of-means" } as const;

describe.each(figureSizes)("%s", (size) => {
  test("effects and course stand at their weeks, weeks of one arm joined", async () => {
    const figure = framed(timeCourseFigure(input, roomOf(size)), { size });
    expectSoundFigure(figure);
    const svg = await drawSvg(figure);
    const { x, y } = readersOf(svg);
    const arms = marksIn(svg, "course__arms_marks").map((one) => [x(one.x), y(one.y)] as const);
    const expected = [
      [2, 2.3],
      [6, 5.8],
      [10, 9.4],
      [4, 3.6],
      [8, 7.1],
    ] as const;
    expected.forEach(([week, percent], place) => {
      expect(arms[place]![0]).toBeCloseTo(week, 1);
      expect(Math.abs(arms[place]![1] - percent)).toBeLessThan(0.2);
    });
    expect(
      marksIn(svg, "course__arms_of_one_study_marks").map((one) => pointsOf(one).length),
    ).toEqual([3, 2]);
    const thick = marksIn(svg, "course__lines_marks").filter(({ width }) => width === 2.4);
    const ends = pointsOf(thick[0]!);
    expect(thick).toHaveLength(1);
    expect([x(ends[0]!.x), x(ends.at(-1)!.x)].map((week) => Number(week.toFixed(1)) + 0)).toEqual([
      0, 10,
    ]);
    expect(Math.abs(y(ends.at(-1)!.y) - 8.8)).toBeLessThan(0.2);
  });
});

test("shares stand under their weeks, those beyond the last week measured left out", async () => {
  const svg = await drawSvg(framed(timeCourseFigure(input)));
  const { x } = readersOf(svg);
  const read = (line: number) =>
    marksIn(svg, `below_the_axis_${line}_marks`).map((one) => [Math.round(x(one.x)), one.text]);
  expect(read(1)).toEqual([
    [4, "63%"],
    [8, "87%"],
  ]);
  expect(read(2)).toEqual([
    [4, "52 to 75%"],
    [8, "75 to 99%"],
  ]);
});

test("its words: the answer in the title, the rest below", () => {
  const figure = timeCourseFigure(input);
  expect(figure.title).toBe(
    "Joint torque: 63% of the final gain is reached after 4.4 weeks (90% interval 2.1 to 9.7)",
  );
  expect(figure.description).toContain(
    "Gain at 12 weeks: 9.9% (7.3 to 12.8), beyond the data. 42 effects from 3 studies that measured an arm more than once.",
  );
  expect(figure.caption).toContain(
    "rising and flattening 63%, logarithm 37%. Levels differ. A doubt.",
  );
});

test("without an answer the lines stand alone and the reason is said", async () => {
  const figure = timeCourseFigure({
    ...input,
    answer: {
      ...course,
      gains: [],
      shown: undefined,
      curve: [],
      shares: [],
      courses: [],
      timeConstant: { kind: "refusal", code: "made-up", reason: "too flat" },
    } as unknown as TimeCourse,
  });
  expect(figure.title).toBe("Joint torque: how fast the gain comes cannot be told from this file");
  expect(figure.description).toContain("How fast the gain comes cannot be told: too flat.");
  const svg = await drawSvg(framed(figure));
  expect(marksIn(svg, "course__arms_marks")).toHaveLength(5);
  expect(svg).not.toContain("course__lines_marks");
});

test("without an arm measured more than once there is nothing to draw", () => {
  const answer = timeCourse(handMadeSet([]));
  expect(() => timeCourseFigure({ ...input, answer })).toThrow(/two weeks or more/);
});
