/**
 * Kinds of evidence: identities with the slopes the table is made of, counts by eye, the stated rules, and published
 * ranges as plausibility only.
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { doseAxes, tabledAxes } from "../../src/dose/dose-axes.js";
import { doseData, studyMeansOf } from "../../src/dose/dose-data.js";
import { judged, variableTable } from "../../src/dose/variable-table.js";
import { holmAdjusted, verdictNames } from "../../src/dose/verdict.js";
import { withinBetweenSlopeOf } from "../../src/dose/within-between-slope.js";
import { effectSubset } from "../../src/effects/effect-subset.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { readRecords } from "../../src/records/read-records.js";
import { handMadeSet, sessionOf } from "./hand-made-set.js";

const records = readRecords(
  readTable(readFileSync(new URL("../../data/demo-register.csv", import.meta.url))),
);
const set = effectsFromRows(records.rows, { contrast: "change-within-arm" });
const table = variableTable(set);

describe("the table of the demonstration register", () => {
  test("has one row a contrast, and every variable of every family in one of them, families outermost", () => {
    expect(table.families).toEqual(["strength", "size", "tendon", "symptoms"]);
    expect([...new Set(table.rows.map(({ family }) => family))]).toEqual(table.families);
    for (const family of table.families) {
      const own = table.rows.filter((row) => row.family === family);
      const names = own.flatMap(({ axis, withIt }) => [axis, ...withIt].map(({ name }) => name));
      expect([...names].sort(), family).toEqual([...tabledAxes].sort());
      const places = own.map(({ axis }) => tabledAxes.indexOf(axis.name));
      expect(places).toEqual([...places].sort((one, other) => one - other));
    }
  });

  test.each(["within", "between"] as const)(
    "every %s-study cell is a number with an interval, or a reason",
    (part) => {
      for (const row of table.rows) {
        const where = `${row.family} ${row.axis.name}`;
        const answer = row[part];
        if (answer === undefined) {
          expect(row.missing[part], where).toMatch(/\w{3}/);
          continue;
        }
        expect(row.missing[part], where).toBeUndefined();
        const { estimate, standardError, interval, degreesOfFreedom, p } = answer;
        for (const value of [estimate, standardError, interval.low, interval.high, p])
          expect(Number.isFinite(value), where).toBe(true);
        expect(interval.low, where).toBeLessThan(estimate);
        expect(interval.high, where).toBeGreaterThan(estimate);
        expect(degreesOfFreedom, where).toBeGreaterThanOrEqual(1);
      }
    },
  );

  test("every row has a verdict with its reason, and one known only between studies cannot be told", () => {
    for (const { verdict, within, between } of table.rows) {
      expect(verdictNames).toContain(verdict.verdict);
      expect(verdict.reason).toMatch(/\w{3}/);
      if (within === undefined)
        expect(verdict.verdict).toBe(between === undefined ? "not studied" : "cannot be told");
    }
  });

  test("questions counts the within-study answers, and p among all is Holm's over them all", () => {
    const asked = table.rows.filter(({ within }) => within !== undefined);
    expect(table.questions).toBe(asked.length);
    expect(table.questions).toBeGreaterThan(10);
    expect(asked.map(({ adjustedP }) => adjustedP)).toEqual(
      holmAdjusted(asked.map(({ within }) => within!.p)),
    );
    expect(table.rows.filter(({ adjustedP }) => adjustedP === undefined)).toHaveLength(
      table.rows.length - asked.length,
    );
    // Half of the questions asked of the same rows: each p among all can only fall.
    const half = judged(asked.slice(0, asked.length / 2), 0.95);
    half.forEach(({ adjustedP }, place) =>
      expect(adjustedP!).toBeLessThanOrEqual(asked[place]!.adjustedP!),
    );
  });

  test.each([
    ["strength", "contractionsPerSession", Math.log],
    ["size", "tensionTimePerSessionSeconds", Math.log],
    ["tendon", "intensityPercent", (dose: number) => dose],
  ] as const)("%s on %s is the slope of its own fit, over the span", (family, name, measure) => {
    // The table starts its fits elsewhere and shares models; the answer must not depend on that.
    const own = effectSubset(set, ({ row }) => row.outcomeFamily === family);
    const data = doseData(own, doseAxes[name]);
    const doses = data.doses.map(measure);
    const slope = withinBetweenSlopeOf({
      ...data,
      doses,
      studyMeans: studyMeansOf(data.effects, doses),
    });
    const row = table.rows.find((one) => one.family === family && one.axis.name === name)!;
    if (slope.within.kind === "refusal") throw new Error("a slope");
    const { low, high } = row.compared!;
    const stretch = measure(high) - measure(low);
    const scale = slope.within.robust.standardError * stretch;
    expect(Math.abs(row.within!.estimate - slope.within.robust.estimate * stretch)).toBeLessThan(
      1e-3 * scale,
    );
    expect(
      Math.abs(row.within!.interval.low - slope.within.robust.interval.low * stretch),
    ).toBeLessThan(1e-2 * scale);
    expect(row.within!.p).toBeCloseTo(slope.within.robust.p, 3);
    expect(row.studiesWithin).toBe(data.support.studiesWithin);
    expect(row.people).toBe(data.people);
  });

  test("plausibility: long length beats short for size, of the order of published ranges", () => {
    // Oranchuk et al. 2019: 0.86–1.69 % a week at long, 0.08–0.83 % at short length, equal volume: so 0.03 to
    // 1.61 points a week. Over programmes of 4 to 16 weeks that is between nothing and 26 %.
    const row = table.rows.find(
      ({ family, axis }) => family === "size" && axis.name === "muscleLength",
    )!;
    const percent = 100 * Math.expm1(row.within!.estimate);
    expect(percent).toBeGreaterThan(0);
    expect(percent).toBeLessThan(26);
  });
});

describe("one contrast, one row", () => {
  /** Studies whose arms differ as told; the estimates do not matter here. */
  const written = (
    studies: number,
    arm: (study: number, arm: number) => Parameters<typeof sessionOf>,
  ) =>
    handMadeSet(
      Array.from({ length: studies }, (_, study) =>
        [0, 1].map((place) => ({
          study: `S${study}`,
          arm: `arm ${place}`,
          estimate: 0.1 + 0.01 * Math.cos(5 * study + 2 * place),
          variance: 0.002,
          row: { ...sessionOf(...arm(study, place)), restBetweenRepetitionsSeconds: 10 },
        })),
      ).flat(),
    );
  const rowOf = (of: ReturnType<typeof written>, name: string, axes = tabledAxes) =>
    variableTable(of, { axes }).rows.find(({ axis }) => axis.name === name);

  test("where only the hold was varied, tension time, torque–time and duty cycle stand in its row", () => {
    const holds = written(5, (study, arm) => [4, 6, [3 + study, 12 + study][arm]!, 70]);
    const row = rowOf(holds, "holdSeconds")!;
    expect(row.withIt.map(({ name }) => name)).toEqual([
      "tensionTimePerSessionSeconds",
      "torqueTimePerSession",
      "dutyCyclePercent",
    ]);
    expect(row.inseparable).toBeUndefined();
    expect(variableTable(holds).questions).toBe(1);
    expect(rowOf(holds, "tensionTimePerSessionSeconds")).toBeUndefined();
    // Asked for alone, the tension time leads the row, and the hold stands with it.
    const alone = rowOf(holds, "tensionTimePerSessionSeconds", ["tensionTimePerSessionSeconds"])!;
    expect(alone.withIt.map(({ name }) => name)).toContain("holdSeconds");
  });

  test("with the tension time held even, it is the number of holds that cannot be separated from their length", () => {
    const even = written(5, (study, arm) => [4, [12, 3][arm]!, [3, 12][arm]! * (1 + study), 70]);
    const row = rowOf(even, "holdSeconds")!;
    expect(row.withIt.map(({ name }) => name)).toEqual(["dutyCyclePercent"]);
    expect(row.inseparable).toMatchObject({
      axis: { name: "contractionsPerSession" },
      studies: 5,
    });
    expect(row.inseparable!.r).toBeLessThan(-0.8);
    expect(row.verdict.verdict).toBe("cannot be separated");
    expect(row.verdict.reason).toMatch(
      /^cannot be separated from holds in a session \(r −0\.\d\d inside 5 studies\)$/,
    );
  });

  test("other totals are told when asked for, and lie in the row of what was varied", () => {
    const weeks = written(4, (study, arm) => [4, 6, [3 + study, 12][arm]!, 70]);
    const asked = variableTable(weeks, {
      axes: ["holdSeconds", "tensionTimePerWeekSeconds", "sets"],
    });
    expect(asked.rows.map(({ axis }) => axis.name)).toEqual(["holdSeconds", "sets"]);
    expect(asked.rows[0]!.withIt.map(({ name }) => name)).toContain("tensionTimePerWeekSeconds");
  });
});

describe("what is not studied", () => {
  const few = variableTable(
    handMadeSet([
      { study: "A", arm: "a", estimate: 0.1, variance: 0.01, row: sessionOf(4, 10, 3) },
      { study: "B", arm: "b", estimate: 0.2, variance: 0.01, row: sessionOf(4, 10, 3) },
      { study: "B", arm: "c", estimate: 0.2, variance: 0.01, row: sessionOf(4, 10, 3) },
    ]),
    { axes: ["holdSeconds", "trainingAngleDegrees"] },
  );

  test("is said with the reason, counts and span standing", () => {
    const [hold, angle] = few.rows;
    expect(hold).toMatchObject({
      effects: 3,
      studies: 2,
      studiesWithin: 0,
      people: 30,
      span: { low: 3, high: 3 },
      agreement: "none",
      verdict: { verdict: "not studied" },
    });
    expect(hold).toMatchObject({ compared: undefined, adjustedP: undefined });
    expect(hold!.missing.within).toBe(
      "all arms have a hold length of 3 s: no slope for hold length",
    );
    expect(angle).toMatchObject({
      effects: 0,
      span: undefined,
      verdict: { verdict: "not studied" },
    });
    expect(angle!.missing.within).toBe(
      "training angle cannot be told for any arm: no slope for training angle",
    );
    expect(few.questions).toBe(0);
  });
});

describe("amounts", () => {
  const one = handMadeSet([
    { study: "A", arm: "a", estimate: 0.1, variance: 0.01, row: sessionOf(4, 10, 3) },
  ]);

  test("stand for the family unless given", () => {
    const amountOf = (amounts: Readonly<Record<string, number>>) =>
      variableTable(one, { axes: ["sets"], amounts }).rows[0]!.amount;
    expect(amountOf({})).toBeCloseTo(Math.log(1.05), 12);
    expect(amountOf({ strength: 0.2 })).toBe(0.2);
  });

  test("must be given for raw differences", () => {
    const raw = { ...one, scale: "raw-mean-difference" as const };
    expect(() => variableTable(raw)).toThrow(/an amount for strength/);
    expect(variableTable(raw, { axes: ["sets"], amounts: { strength: 4 } }).rows[0]!.amount).toBe(
      4,
    );
  });

  test("contrasts of two trained arms have no dose", () => {
    expect(() => variableTable({ ...one, contrast: "between-arms" })).toThrow(/two doses each/);
  });
});
