/**
 * Kinds of evidence: registers simulated from the demonstration truth, whose time constant is known, effects laid
 * on a known course, identities, and refusals. Coverage is asked of a fixed seed.
 */
import { describe, expect, test } from "vitest";
import { timeCourse } from "../../src/dose/time-course.js";
import { demoTruthDefaults } from "../../src/demo/demo-truth.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { handMadeSet, type WrittenEffect } from "./hand-made-set.js";
import { simulatedSet, type SimulatedStudy } from "./simulated-set.js";

const studies = (count: number): readonly SimulatedStudy[] =>
  Array.from({ length: count }, (_, number) => ({
    study: `S${number}`,
    arms: [
      { arm: "a", weeks: [2, 4, 8, 12].filter((_week, place) => (number + place) % 4 !== 0) },
      { arm: "b", weeks: [4, 8, 12] },
    ],
  }));

/** Effects of some studies, each on the same course with a level of its own. */
const onCourse = (
  gainAt: (week: number) => number,
  {
    count = 6,
    weeks = [2, 4, 8, 12],
    wave = 0.002,
  }: Readonly<{ count?: number; weeks?: readonly number[]; wave?: number }> = {},
) =>
  handMadeSet(
    Array.from({ length: count }, (_, study) =>
      weeks.map((week, place): WrittenEffect => ({
        study: `S${study}`,
        arm: "training",
        estimate:
          gainAt(week) * (1 + 0.05 * (study - (count - 1) / 2)) +
          wave * Math.cos(2.4 * study + 1.7 * place),
        variance: 0.0004,
        row: { weeks: 12, weekMeasured: week },
      })),
    ).flat(),
  );

const missing = (answer: Readonly<{ kind: string; reason?: string }>): string =>
  answer.reason ?? "";

describe("registers with a known truth", () => {
  const runs = 24;
  const truth = demoTruthDefaults.families.strength.weeksConstant;
  const stream = randomStream(20261126);
  const constants: number[] = [];
  let covered = 0;
  let heaviest = 0;
  for (let run = 0; run < runs; run++) {
    const { timeConstant, courses } = timeCourse(simulatedSet(studies(8), stream));
    const [flattening, ...others] = courses;
    if (others.every(({ weight }) => weight! < flattening!.weight!)) heaviest += 1;
    if (timeConstant.kind === "refusal") continue;
    constants.push(timeConstant.weeks);
    const { low, high } = timeConstant.interval;
    if ((low ?? 0) <= truth && (high ?? Infinity) >= truth) covered += 1;
  }

  test("the time constant comes back, and its 95% interval holds it", () => {
    expect(constants.length).toBeGreaterThanOrEqual(runs - 2);
    const middle = constants.toSorted((a, b) => a - b)[Math.floor(constants.length / 2)]!;
    expect(Math.abs(middle / truth - 1)).toBeLessThan(0.2);
    // Of 24 tries at 95 %, 20 or fewer happen in under one of a hundred.
    expect(covered / constants.length).toBeGreaterThan(20 / 24);
  });

  test("the flattening course outweighs line and logarithm in most registers", () => {
    expect(heaviest).toBeGreaterThan(runs / 2);
  });
});

describe("effects on a known flattening course", () => {
  const answer = timeCourse(onCourse((week) => 0.3 * -Math.expm1(-week / 4)));

  test("give its time constant and final gain back", () => {
    expect(answer.shown).toBe("rising and flattening");
    expect(answer.timeConstant.kind === "told" && answer.timeConstant.weeks).toBeCloseTo(4, 0);
    expect(answer.finalGain.kind === "told" && answer.finalGain.estimate).toBeCloseTo(0.3, 1.5);
    expect(answer.span).toEqual({ first: 2, last: 12, distinct: 4 });
  });

  test("gains lie on the curve and shares are ratios of them", () => {
    const at = new Map(answer.gains.map(({ week, estimate }) => [week, estimate]));
    expect([...at.keys()]).toEqual([2, 4, 6, 8, 12]);
    for (const { week, share, interval } of answer.shares) {
      expect(share).toBeCloseTo(at.get(week)! / at.get(12)!, 10);
      expect(interval.low).toBeLessThan(share);
      expect(interval.high).toBeGreaterThan(share);
    }
    expect(answer.curve[0]).toMatchObject({ week: 0, estimate: 0 });
    expect(answer.curve.at(-1)!.estimate).toBeCloseTo(at.get(12)!, 12);
  });

  test("weights of the courses add up to one", () => {
    expect(answer.courses.reduce((sum, { weight }) => sum + weight!, 0)).toBeCloseTo(1, 12);
    expect(answer.courses[0]!.weight).toBeGreaterThan(100 * answer.courses[1]!.weight!);
    // The criterion by hand: −2ℓ + 2k + 2k(k + 1)/(n − k − 1).
    for (const { criterion, logLikelihood, parameters: k } of answer.courses)
      expect(criterion).toBeCloseTo(-2 * logLikelihood + 2 * k + (2 * k * (k + 1)) / (23 - k), 10);
  });

  test("a reference week after the last one measured is said to lie beyond the data", () => {
    const later = timeCourse(
      onCourse((week) => 0.3 * -Math.expm1(-week / 4)),
      { referenceWeek: 20 },
    );
    expect(later.notes.map(({ code }) => code)).toContain("beyond-data");
    expect(later.gains.find(({ week }) => week === 20)!.beyondData).toBe(true);
    expect(later.gains.find(({ week }) => week === 8)!.beyondData).toBe(false);
  });
});

test("a straight rise has no time constant but a least one, and the line is shown", () => {
  const answer = timeCourse(onCourse((week) => 0.02 * week));
  if (answer.timeConstant.kind === "told") throw new Error("a time constant");
  expect(answer.timeConstant.reason).toContain("straight line up to week 12");
  expect(answer.timeConstant.atLeast).toBeGreaterThan(12);
  expect(answer.shown).toBe("straight line");
  expect(answer.shares).toEqual([]);
  expect(answer.gains.find(({ week }) => week === 8)!.estimate).toBeCloseTo(0.16, 2);
});

test("a gain that is all there at once has a greatest time constant", () => {
  const answer = timeCourse(onCourse(() => 0.2));
  if (answer.timeConstant.kind === "told") throw new Error("a time constant");
  expect(answer.timeConstant.reason).toContain("by the first measurement (week 2)");
  expect(answer.timeConstant.atMost).toBeLessThan(2);
  expect(answer.shown).toBe("rising and flattening");
});

describe("who is measured more than once", () => {
  test("an arm measured once, a week before training and weeks after it are left out", () => {
    const base = onCourse((week) => 0.3 * -Math.expm1(-week / 4));
    const [first] = base.effects;
    const also = (id: string, row: object) => ({
      ...first!,
      effectId: id,
      row: { ...first!.row, ...row },
    });
    const more = {
      ...base,
      effects: [
        ...base.effects,
        { ...also("once", { weekMeasured: 8 }), cohort: "S9", study: "S9" },
        also("after", { weekMeasured: 16 }),
        also("not coded", { weekMeasured: undefined }),
      ],
    };
    const answer = timeCourse(more);
    expect(answer.effects).toBe(24);
    expect(
      answer.points.some(({ effectId }) => ["once", "after", "not coded"].includes(effectId)),
    ).toBe(false);
    expect(answer.notes.map(({ message }) => message)).toContain(
      "1 effect measured after the end of training is left out",
    );
  });

  test("points of one arm and measurement share a series, and no others do", () => {
    const { points } = timeCourse(onCourse((week) => 0.02 * week, { count: 3 }));
    expect(new Set(points.map(({ series }) => series)).size).toBe(3);
  });
});

describe("refusals", () => {
  test("too few studies", () => {
    const rising = (week: number): number => 0.3 * -Math.expm1(-week / 4);
    expect(missing(timeCourse(handMadeSet([])).timeConstant)).toBe(
      "no study measured an arm more than once during training; at least 3 are needed",
    );
    const two = timeCourse(onCourse(rising, { count: 2 }));
    expect(missing(two.timeConstant)).toBe(
      "2 studies measured an arm more than once during training; at least 3 are needed",
    );
    expect(two.points).toHaveLength(8);
    expect(two.shown).toBeUndefined();
    expect(two.curve).toEqual([]);
  });

  test("too few weeks", () => {
    const answer = timeCourse(onCourse((week) => 0.02 * week, { weeks: [4, 8] }));
    expect(missing(answer.finalGain)).toContain("at 2 different weeks in all; at least 3");
  });

  test("contrasts of two trained arms and weeks of nought", () => {
    const set = handMadeSet([]);
    expect(() => timeCourse({ ...set, contrast: "between-arms" })).toThrow(/two doses each/);
    expect(() => timeCourse(set, { weeks: [0] })).toThrow(/weeks above 0/);
    expect(() => timeCourse(set, { referenceWeek: Infinity })).toThrow(/weeks above 0/);
  });
});
