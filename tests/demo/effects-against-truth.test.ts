import { describe, expect, it } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { demoRegister } from "../../src/demo/demo-register.js";
import type { Contrast, Effect } from "../../src/effects/effect.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { mean, sampleVariance } from "simple-statistics";
import { readRecords } from "../../src/records/read-records.js";

// The whole way from the printed file to effects, against the truth each row was written from.
const seeds = Array.from({ length: 8 }, (_, index) => 7000 + index);

type Checked = Readonly<{ effect: Effect; error: number; covered: number; family: string }>;

const checked = (contrast: Contrast): readonly Checked[] =>
  seeds.flatMap((seed) => {
    const { rowTruths } = demoRegister({ seed });
    const { rows } = readRecords(readTable(demoRegisterCsv({ seed })));
    return effectsFromRows(rows, { contrast, armKinds: ["isometric", "dynamic"] }).effects.map(
      (effect) => {
        // the header is line 1, and no cell of the file breaks a line
        const own = rowTruths[effect.row.line - 2];
        const comparator = effect.comparatorRow && rowTruths[effect.comparatorRow.line - 2];
        const truth = (own?.trueGain ?? Number.NaN) - (comparator?.trueGain ?? 0);
        const error = effect.estimate - truth;
        return {
          effect,
          error,
          covered: Math.abs(error) <= 1.959964 * Math.sqrt(effect.variance) ? 1 : 0,
          family: own?.family ?? "",
        };
      },
    );
  });

const saying = (name: string, effects: readonly Checked[]) =>
  `${name}: ${(100 * mean(effects.map((each) => each.covered))).toFixed(1)}% of ${effects.length} ` +
  `effects covered, bias ${mean(effects.map((each) => each.error)).toFixed(4)}`;

describe.each(["change-within-arm", "against-control"] as const)("effects, %s", (contrast) => {
  const all = checked(contrast);

  it("cover their truth about as often as 95% normal intervals of a dozen people can", () => {
    // Normal intervals on eleven degrees of freedom cover 92.4 % (2 P(t₁₁ < 1.96) − 1); a little more or
    // less for samples of other sizes, skewed ratios and borrowed correlations.
    const coverage = mean(all.map((each) => each.covered));
    expect(all.length).toBeGreaterThan(1000);
    expect(coverage, saying(contrast, all)).toBeGreaterThan(0.9);
    expect(coverage, saying(contrast, all)).toBeLessThan(0.965);
  });

  it.each(["strength", "size", "tendon"])("%s: errors centre on nought", (family) => {
    const some = all.filter((each) => each.family === family);
    const errors = some.map((each) => each.error);
    // angles and times of one arm share their people: about a third as many independent errors
    const monteCarlo = Math.sqrt((3 * sampleVariance(errors)) / errors.length);
    expect(Math.abs(mean(errors)), saying(family, some)).toBeLessThan(3.5 * monteCarlo);
  });

  it.each([
    "means at both times",
    "percent change with spread",
    "change with spread",
    "change with interval",
    "t value",
    "p value",
    "F value",
    "effect computed elsewhere",
  ])("printed as %s: covered", (statistic) => {
    const some = all.filter((each) => each.effect.row.statistic === statistic);
    expect(some.length).toBeGreaterThan(10);
    const coverage = mean(some.map((each) => each.covered));
    const monteCarlo = Math.sqrt((0.075 * 0.925) / some.length);
    expect(coverage, saying(statistic, some)).toBeGreaterThan(0.925 - 4 * monteCarlo);
  });

  it("pain that falls counts as improvement", () => {
    const pain = all.filter((each) => each.family === "symptoms");
    expect(mean(pain.map((each) => each.effect.estimate))).toBeGreaterThan(0.1);
  });
});
