/**
 * Kinds of evidence: registers simulated from the demonstration truth, whose widths are known, identities
 * between the answers, and refusals. Coverage is asked of a fixed seed; its bound is where a binomial count with
 * the stated confidence falls in one of a hundred such tests.
 */
import { describe, expect, test } from "vitest";
import { jointAngle } from "../../src/dose/joint-angle.js";
import { demoTruthDefaults } from "../../src/demo/demo-truth.js";
import { carryOverHalfWidth } from "../../src/demo/true-change.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { handMadeSet } from "./hand-made-set.js";
import { simulatedSet, type SimulatedStudy } from "./simulated-set.js";

const studies = (count: number): readonly SimulatedStudy[] =>
  Array.from({ length: count }, (_, number) => ({
    study: `S${number}`,
    arms: [
      {
        arm: "short",
        muscleLength: "short",
        trainingAngle: 40,
        testAngles: [30, 40, 55, 70, 90],
        weeks: [8],
      },
      {
        arm: "long",
        muscleLength: "long",
        trainingAngle: 90,
        testAngles: [30, 50, 70, 90, 100],
        weeks: [8],
      },
    ],
  }));

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;

describe("registers with a known truth", () => {
  const runs = 24;
  const truth = {
    short: carryOverHalfWidth(demoTruthDefaults, "short"),
    long: carryOverHalfWidth(demoTruthDefaults, "long"),
  };
  const stream = randomStream(20261125);
  const widths = { short: [] as number[], long: [] as number[] };
  const covered = { short: 0, long: 0, ratio: 0 };
  const told = { short: 0, long: 0, ratio: 0 };
  for (let run = 0; run < runs; run++) {
    const { lengths, longAgainstShort } = jointAngle(simulatedSet(studies(6), stream));
    for (const length of ["short", "long"] as const) {
      const width = lengths.find(({ muscleLength }) => muscleLength === length)!.halfWidth;
      if (width.kind === "refusal") continue;
      told[length] += 1;
      widths[length].push(width.degrees);
      const { low, high } = width.interval;
      if ((low ?? 0) <= truth[length] && (high ?? Infinity) >= truth[length]) covered[length] += 1;
    }
    if (longAgainstShort.kind === "refusal") continue;
    told.ratio += 1;
    const { low, high } = longAgainstShort.widthRatio.interval;
    if (low <= truth.long / truth.short && high >= truth.long / truth.short) covered.ratio += 1;
  }

  test("the widths come back: within a fifth in the middle of the registers", () => {
    // One width of six studies misses by a quarter or so, the middle of 24 by a sixteenth; three times that.
    expect(told.short).toBeGreaterThanOrEqual(runs - 2);
    expect(told.long).toBeGreaterThanOrEqual(runs - 2);
    expect(Math.abs(median(widths.short) / truth.short - 1)).toBeLessThan(0.2);
    expect(Math.abs(median(widths.long) / truth.long - 1)).toBeLessThan(0.2);
  });

  test("the 95% intervals hold them", () => {
    // Of 24 tries at 95 %, 20 or fewer happen in under one of a hundred.
    for (const what of ["short", "long", "ratio"] as const)
      expect(covered[what] / told[what], what).toBeGreaterThan(20 / 24);
  });

  test("long length carries further than short in nearly every register", () => {
    const further = widths.long.filter((width, run) => width > widths.short[run]!);
    expect(further.length).toBeGreaterThanOrEqual(runs - 2);
  });
});

describe("short, middle and long side by side", () => {
  const answer = jointAngle(simulatedSet(studies(6), randomStream(3)), { degrees: [5] });
  const [short, long] = answer.lengths;

  test("stand apart, in one order, with only the lengths that were trained", () => {
    expect(answer.lengths.map(({ muscleLength }) => muscleLength)).toEqual(["short", "long"]);
    expect(short!.effects + long!.effects).toBe(60);
    expect(short!.left.map(({ degrees }) => degrees)).toEqual([5]);
  });

  test("the comparison is the difference of the two levels and the ratio of the two widths", () => {
    const { longAgainstShort: compared } = answer;
    if (
      compared.kind === "refusal" ||
      short!.level.kind === "refusal" ||
      long!.level.kind === "refusal"
    )
      throw new Error("a comparison");
    if (short!.halfWidth.kind === "refusal" || long!.halfWidth.kind === "refusal")
      throw new Error("widths");
    expect(compared.level.estimate).toBeCloseTo(long!.level.estimate - short!.level.estimate, 12);
    expect(compared.widthRatio.estimate).toBeCloseTo(
      long!.halfWidth.degrees / short!.halfWidth.degrees,
      12,
    );
    expect(compared.widthRatio.interval.low).toBeLessThan(compared.widthRatio.estimate);
    expect(compared.widthRatio.interval.high).toBeGreaterThan(compared.widthRatio.estimate);
  });

  test("the average over angles hides what training at short length does at its angle", () => {
    // The truth: 0.9 × 0.3 × (1 − e^(−8/4)) at the trained angle, and nearly nothing 30° away.
    if (short!.average.kind === "refusal" || short!.level.kind === "refusal")
      throw new Error("an average");
    expect(short!.average.estimate).toBeLessThan(0.7 * short!.level.estimate);
  });

  test("what the answer leans on is said", () => {
    expect(answer.assumptions.join(" ")).toMatch(/both sides.*nearest one counts.*learning/);
    const against = jointAngle({ ...handMadeSet([]), contrast: "against-control" });
    expect(against.assumptions.join(" ")).not.toContain("learning");
    expect(against.lengths).toEqual([]);
  });
});

describe("refusals", () => {
  test("without one of the widths there is no comparison", () => {
    const onlyShort = studies(6).map(({ study, arms }) => ({ study, arms: arms.slice(0, 1) }));
    const { longAgainstShort } = jointAngle(simulatedSet(onlyShort, randomStream(4)));
    expect(longAgainstShort).toEqual({
      kind: "refusal",
      code: "no-width",
      reason: "no width after training at long length to compare with",
    });
  });

  test("contrasts of two trained arms and distances below zero", () => {
    const set = handMadeSet([]);
    expect(() => jointAngle({ ...set, contrast: "between-arms" })).toThrow(/two doses each/);
    expect(() => jointAngle(set, { degrees: [10, -1] })).toThrow(/distances of 0 degrees or more/);
  });
});
