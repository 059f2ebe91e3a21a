/**
 * Rows that print their own error and no group size, differences in deviations without an error, and medians of a
 * change. Expected values are worked out by hand beside each, after the Cochrane Handbook for Systematic Reviews of
 * Interventions, chapter 6 (standard deviations from standard errors and intervals: normal quantile 3.92 = 2 · 1.96).
 */
import { describe, expect, test } from "vitest";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { recordsOf } from "../records/record-table.js";
import type { Cells } from "../records/record-table.js";

const blank = { nStart: "", nEnd: "", preMean: "", preSpread: "", postMean: "", postSpread: "" };
const rowsOf = (...changes: readonly Cells[]): readonly OutcomeRow[] => {
  const { rows, issues } = recordsOf(
    ...changes.map((cells, at) => ({
      statistic: "",
      ...blank,
      testAngleDegrees: String(at),
      ...cells,
    })),
  );
  expect(issues).toEqual([]);
  return rows;
};
const within = (cells: Cells, scale = "log-ratio-of-means" as const) =>
  effectsFromRows(rowsOf(cells), { contrast: "change-within-arm", scale });

describe("an error printed without a group size", () => {
  test("a standard error of the percent change stands as printed", () => {
    // L = ln(1.178) = 0.16382; SE = 3.1/117.8 = 0.026316, V = 0.00069252
    const { effects } = within({
      changePercentMean: "17.8",
      changePercentSpread: "3.1",
      spreadKind: "standard error",
    });
    expect(effects[0]?.estimate).toBeCloseTo(0.16382, 5);
    expect(effects[0]?.variance).toBeCloseTo(0.00069252, 7);
    expect(effects[0]?.participants).toBe(0);
    expect(effects[0]?.notes.map(({ code }) => code)).toContain("people-unknown");
  });

  test("an interval of the percent change by the normal quantile, at its own percent", () => {
    // 90%: (39.6 − 9.6)/2/1.644854 = 9.11935; /123.7 = 0.0737215; squared 0.00543486
    const { effects } = within({
      changePercentMean: "23.7",
      intervalLow: "9.6",
      intervalHigh: "39.6",
      intervalPercent: "90",
    });
    expect(effects[0]?.variance).toBeCloseTo(0.00543486, 6);
  });

  test("an interval of the mean change, in the outcome's unit: 95% is 3.92 standard errors wide", () => {
    // (−2.2 + 6.8)/3.92 = 1.173469; squared 1.377030
    const set = effectsFromRows(
      rowsOf({
        changeMean: "-4.5",
        intervalLow: "-6.8",
        intervalHigh: "-2.2",
        unit: "mmHg",
        outcomeFamily: "other",
        higherIs: "worse",
      }),
      { contrast: "change-within-arm", scale: "raw-mean-difference" },
    );
    expect(set.effects[0]?.estimate).toBe(4.5);
    expect(set.effects[0]?.variance).toBeCloseTo(1.37703, 3);
  });

  test("half-widths of 95% intervals at both times, with the correlation stated", () => {
    // SE 9.8/1.96 = 5 and 10; a₁ = (5/100)² = .0025, a₂ = (10/120)² = .00694444, c = .5·√(a₁a₂) = .00208333
    // V = a₁ + a₂ − 2c + ½(a₁² + a₂² − 2c²) = .00527778 + ½(.00000625 + .0000482253 − .00000868056) = .00530068
    const { effects } = within({
      preMean: "100",
      preSpread: "9.79982",
      postMean: "120",
      postSpread: "19.59964",
      spreadKind: "95% interval half-width",
      prePostCorrelation: "0.5",
    });
    expect(effects[0]?.variance).toBeCloseTo(0.00530068, 7);
  });

  test("a deviation, an exact p, or a scale that divides by a deviation needs the people", () => {
    const deviation = {
      changePercentMean: "17.8",
      changePercentSpread: "3.1",
      spreadKind: "standard deviation",
    };
    const p = { changePercentMean: "17.8", pValue: "0.012" };
    for (const cells of [deviation, p]) {
      const set = within(cells);
      expect(set.effects).toEqual([]);
      expect(set.rowUses[0]?.reason).toBe("how many people were measured is not given");
    }
    const set = effectsFromRows(
      rowsOf({ changeMean: "12", changeSpread: "3", spreadKind: "standard error" }),
      { contrast: "change-within-arm", scale: "standardised-mean-change-change-deviation" },
    );
    expect(set.effects).toEqual([]);
    expect(set.rowUses[0]?.reason).toBe(
      "how many people were measured is not given, and this scale divides by a deviation",
    );
  });
});

const difference = { statisticOf: "difference from comparator" } as const;

describe("a difference printed with less than its error", () => {
  test("in deviations with both group sizes: its large-sample variance", () => {
    // 1/21 + 1/19 + 0.92²/(2 · 40) = 0.0476190 + 0.0526316 + 0.0105800 = 0.1108306
    const effect = { effect: "-0.92", effectScale: "standardised mean difference" };
    const { effects } = effectsFromRows(
      rowsOf(
        { ...difference, ...effect, nEnd: "21", testAngleDegrees: "" },
        {
          arm: "control",
          armKind: "no exercise",
          nEnd: "19",
          preMean: "5",
          postMean: "5",
          testAngleDegrees: "",
        },
      ),
      { contrast: "against-control", scale: "standardised-mean-difference" },
    );
    expect(effects).toHaveLength(1);
    expect(effects[0]?.estimate).toBe(-0.92);
    expect(effects[0]?.variance).toBeCloseTo(0.1108306, 6);
  });

  test("in its unit with an interval and nobody's number: half the interval over 1.96", () => {
    // (257.8 − 54)/2/1.959964 = 51.9907; squared 2703.03
    const { effects } = effectsFromRows(
      rowsOf({
        ...difference,
        nStart: "15",
        changeMean: "155.9",
        intervalLow: "54",
        intervalHigh: "257.8",
      }),
      { contrast: "against-control", scale: "raw-mean-difference" },
    );
    expect(effects[0]?.estimate).toBe(155.9);
    expect(effects[0]?.variance).toBeCloseTo(2703.03, 0);
    expect(effects[0]?.notes.map(({ code }) => code)).toContain("people-unknown");
  });
});

test("the median and the quartiles of a change become its mean and deviation", () => {
  // n = 13. Luo: w = 0.7 + 0.39/13 = 0.73; mean = 0.73 · (−18.75 − 7.25)/2 + 0.27 · (−15.5) = −13.675.
  // Wan: z at (9.75 − 0.125)/13.25 = 0.7264151 is 0.60201; deviation (−7.25 + 18.75)/(2 · 0.60201) = 9.5514; V = 9.5514²/13 = 7.0176
  const set = effectsFromRows(
    rowsOf({
      nEnd: "13",
      changeMedian: "-15.5",
      changeQuartileLow: "-18.75",
      changeQuartileHigh: "-7.25",
      outcomeFamily: "blood pressure",
      outcome: "resting systolic blood pressure",
      unit: "mmHg",
    }),
    { contrast: "change-within-arm", scale: "raw-mean-difference" },
  );
  expect(set.effects[0]?.estimate).toBeCloseTo(13.675, 6);
  expect(set.effects[0]?.variance).toBeCloseTo(7.0176, 3);
  expect(set.effects[0]?.notes.map(({ code }) => code)).toContain("from-medians");
});

test("quartiles of a change that are out of order are refused", () => {
  const { issues } = recordsOf({
    changeMedian: "-5",
    changeQuartileLow: "-3",
    changeQuartileHigh: "-7",
  });
  expect(issues.map(({ code, severity }) => [code, severity])).toContainEqual([
    "out-of-order",
    "error",
  ]);
});
