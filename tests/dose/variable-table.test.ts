/**
 * Kinds of evidence: identities with the slopes the table is made of, counts by eye, the stated rules, and published
 * ranges as plausibility only.
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { doseAxes, doseAxisNames } from "../../src/dose/dose-axes.js";
import { variableTable } from "../../src/dose/variable-table.js";
import { verdictNames } from "../../src/dose/verdict.js";
import { withinBetweenSlope } from "../../src/dose/within-between-slope.js";
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
  test("has every variable of every family, families outermost", () => {
    expect(table.families).toEqual(["strength", "size", "tendon", "symptoms"]);
    expect(table.rows.map(({ family, axis }) => `${family} ${axis.name}`)).toEqual(
      table.families.flatMap((family) => doseAxisNames.map((name) => `${family} ${name}`)),
    );
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

  test("every row has a verdict with its reason, and one known only between studies is unclear", () => {
    for (const { verdict, within, between } of table.rows) {
      expect(verdictNames).toContain(verdict.verdict);
      expect(verdict.reason).toMatch(/\w{3}/);
      if (within === undefined)
        expect(verdict.verdict).toBe(between === undefined ? "not studied" : "unclear");
    }
  });

  test("questions counts the within-study answers, and the rules are said", () => {
    expect(table.questions).toBe(table.rows.filter(({ within }) => within !== undefined).length);
    expect(table.questions).toBeGreaterThan(10);
    expect(table.rules.join(" ")).toMatch(/99% interval/);
  });

  test.each([
    ["strength", "holdSeconds"],
    ["size", "tensionTimePerSessionSeconds"],
    ["tendon", "intensityPercent"],
  ] as const)("%s on %s is the slope of its own fit, per step", (family, name) => {
    // The table starts its fits elsewhere and shares models; the answer must not depend on that.
    const own = effectSubset(set, ({ row }) => row.outcomeFamily === family);
    const slope = withinBetweenSlope(own, name);
    const row = table.rows.find((one) => one.family === family && one.axis.name === name)!;
    if (slope.within.kind === "refusal") throw new Error("a slope");
    const { step } = doseAxes[name];
    const scale = slope.within.robust.standardError * step;
    expect(Math.abs(row.within!.estimate - slope.within.robust.estimate * step)).toBeLessThan(
      1e-3 * scale,
    );
    expect(
      Math.abs(row.within!.interval.low - slope.within.robust.interval.low * step),
    ).toBeLessThan(1e-2 * scale);
    expect(row.studiesWithin).toBe(slope.support.studiesWithin);
    expect(row.people).toBe(slope.people);
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
