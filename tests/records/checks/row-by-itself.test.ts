import { describe, expect, test } from "vitest";
import { angleFitsConvention } from "../../../src/records/checks/angle-fits-convention.js";
import { changeIsDifference } from "../../../src/records/checks/change-is-difference.js";
import { afterIsBefore } from "../../../src/records/checks/after-is-before.js";
import { familyAndOutcome } from "../../../src/records/checks/family-and-outcome.js";
import { fractionForPercentage } from "../../../src/records/checks/fraction-for-percentage.js";
import { prescriptionOutOfScale } from "../../../src/records/checks/prescription-out-of-scale.js";
import { spreadAgainstTest } from "../../../src/records/checks/spread-against-test.js";
import { holdBeyondEndurance } from "../../../src/records/checks/hold-beyond-endurance.js";
import { impliedMean } from "../../../src/records/checks/implied-mean.js";
import { intensityBasisFits } from "../../../src/records/checks/intensity-basis-fits.js";
import { intervalHoldsMean } from "../../../src/records/checks/interval-holds-mean.js";
import { orderOfEnds } from "../../../src/records/checks/order-of-ends.js";
import { peopleLostAndFound } from "../../../src/records/checks/people-lost-and-found.js";
import type { RowCheck } from "../../../src/records/checks/row-check.js";
import { signOfStatistic } from "../../../src/records/checks/sign-of-statistic.js";
import { unitSlips } from "../../../src/records/checks/unit-slips.js";
import { zeroSpread } from "../../../src/records/checks/zero-spread.js";
import type { OutcomeRow } from "../../../src/records/outcome-row.js";
import { rowChecks } from "../../../src/records/row-checks.js";
import { recordsOf, rowOf } from "../record-table.js";

type Case = readonly [Partial<OutcomeRow>, string];

/** Means without spreads. */
const bare = { preSpread: undefined, postSpread: undefined } as unknown as Partial<OutcomeRow>;

/** Rows a check doubts, as "column: code, severity", and rows it lets pass. */
const cases: readonly Readonly<{
  name: string;
  check: RowCheck;
  doubts: readonly Case[];
  passes: readonly Partial<OutcomeRow>[];
}>[] = [
  {
    name: "orderOfEnds",
    check: orderOfEnds,
    doubts: [
      [{ preQuartileLow: 5, preMedian: 4 }, "pre_median: out-of-order, error"],
      [{ postMedian: 4, postMaximum: 3 }, "post_maximum: out-of-order, error"],
      [{ intervalLow: 2, intervalHigh: 1 }, "interval_high: out-of-order, error"],
      [{ holdSeconds: 9, holdSecondsHigh: 3 }, "hold_seconds_high: out-of-order, warning"],
    ],
    passes: [{ preMinimum: 1, preQuartileLow: 1, preMedian: 2, preMaximum: 2 }, { intervalLow: 1 }],
  },
  {
    name: "intervalHoldsMean",
    check: intervalHoldsMean,
    doubts: [
      [
        { statistic: "change with interval", changeMean: 5, intervalLow: -2, intervalHigh: 4 },
        "change_mean: outside-its-interval, error",
      ],
      [
        { statistic: "effect computed elsewhere", effect: 0.5, intervalLow: 0.6, intervalHigh: 1 },
        "effect: outside-its-interval, error",
      ],
      [
        { changeMean: 5, intervalLow: -2, intervalHigh: 4 },
        "change_mean: outside-its-interval, warning",
      ],
    ],
    passes: [{ changeMean: 3, intervalLow: 3, intervalHigh: 4 }, { changeMean: 3 }],
  },
  {
    name: "zeroSpread",
    check: zeroSpread,
    doubts: [[{ changeSpread: 0 }, "change_spread: zero-spread, warning"]],
    passes: [{}],
  },
  {
    name: "peopleLostAndFound",
    check: peopleLostAndFound,
    doubts: [[{ nStart: 12, nEnd: 14 }, "n_end: more-at-the-end, warning"]],
    passes: [{ nStart: 14, nEnd: 14 }, { nEnd: 14 }],
  },
  {
    name: "holdBeyondEndurance",
    check: holdBeyondEndurance,
    doubts: [
      [{ intensityPercent: 90, holdSeconds: 900 }, "hold_seconds: hold-beyond-endurance, warning"],
      [
        {
          intensityPercent: 75,
          holdSeconds: 30,
          repetitions: 6,
          restBetweenRepetitionsSeconds: 3,
        },
        "hold_seconds: hold-beyond-endurance, warning",
      ],
    ],
    // A hold at 20 % that a study reports in young men: 456 s at 15 % (grip), 1806 s at 20 % (women, elbow).
    passes: [
      { intensityPercent: 90, holdSeconds: 30 },
      { intensityPercent: 70, holdSeconds: 45, repetitions: 5, restBetweenRepetitionsSeconds: 120 },
      { intensityPercent: 20, holdSeconds: 1806 },
      { intensityPercent: 10, holdSeconds: 7000 },
    ],
  },
  {
    name: "intensityBasisFits",
    check: intensityBasisFits,
    doubts: [
      [
        { intensityPercent: 7, intensityBasis: "effort rating 0–10" },
        "intensity_percent: rating-not-in-percent, warning",
      ],
      [
        { intensityPercent: 60, intensityBasis: "maximal effort" },
        "intensity_percent: maximal-below-maximum, warning",
      ],
    ],
    passes: [
      { intensityPercent: 70, intensityBasis: "effort rating 0–10" },
      { intensityPercent: 7 },
    ],
  },
  {
    name: "angleFitsConvention",
    check: angleFitsConvention,
    doubts: [
      [
        { trainingAngleDegrees: [60, 175], angleConvention: "full extension is 0" },
        "training_angle_degrees: angle-convention, warning",
      ],
      [
        { testAngleDegrees: 10, angleConvention: "full extension is 180" },
        "test_angle_degrees: angle-convention, warning",
      ],
    ],
    passes: [
      { trainingAngleDegrees: [90], angleConvention: "full extension is 180" },
      { testAngleDegrees: 175 },
    ],
  },
  {
    name: "changeIsDifference",
    check: changeIsDifference,
    doubts: [
      [{ changeMean: -19.3 }, "change_mean: turned-sign, warning"],
      [{ changeMean: 193 }, "change_mean: change-is-not-difference, warning"],
      [{ changePercentMean: -10.6 }, "change_percent_mean: turned-sign, warning"],
    ],
    passes: [
      { changeMean: 19.3 },
      { changeMean: 19 },
      { changePercentMean: 12 },
      { changeMean: -3, statisticOf: "difference from comparator" },
    ],
  },
  {
    name: "signOfStatistic",
    check: signOfStatistic,
    doubts: [
      [{ tValue: -2 }, "t_value: turned-sign, warning"],
      [{ direction: "decrease" }, "direction: turned-sign, warning"],
    ],
    passes: [
      { tValue: 2 },
      { direction: "increase" },
      { tValue: -2, statisticOf: "difference from comparator" },
    ],
  },
  {
    name: "unitSlips",
    check: unitSlips,
    doubts: [
      [{ preMean: 1.82 }, "post_mean: unit-slip, warning"],
      [{ preMean: 82.7 }, "post_mean: unit-slip, warning"],
      [{ postMean: 114 }, "post_mean: unit-slip, warning"],
      [{ preMean: 1180, postMean: 1.25 }, "post_mean: unit-slip, warning"],
      [{ postMean: 0.2 }, "post_mean: unit-slip, warning"],
    ],
    passes: [{}, { preMean: 20, outcomeFamily: "endurance" }, { preMean: -180 }],
  },
  {
    name: "afterIsBefore",
    check: afterIsBefore,
    doubts: [
      [{ postMean: 182.4, postSpread: 31.2 }, "post_mean: after-is-before, warning"],
      [{ ...bare, armKind: "isometric", postMean: 182.4 }, "post_mean: after-is-before, warning"],
    ],
    // A control group may end where it began, and other spreads are other numbers.
    passes: [{}, { ...bare, armKind: "no exercise", postMean: 182.4 }, { postMean: 182.4 }],
  },
  {
    name: "fractionForPercentage",
    check: fractionForPercentage,
    doubts: [
      [
        { changePercentMean: 0.235, changePercentSpread: 0.07 },
        "change_percent_mean: fraction-for-percentage, warning",
      ],
      [
        { armKind: "isometric", changePercentMean: -0.12 },
        "change_percent_mean: fraction-for-percentage, warning",
      ],
    ],
    passes: [
      { changePercentMean: 0.3, changePercentSpread: 2.4 },
      { armKind: "no exercise", changePercentMean: 0.3 },
      { changePercentMean: 23.5, changePercentSpread: 0.7 },
    ],
  },
  {
    name: "familyAndOutcome",
    check: familyAndOutcome,
    doubts: [
      [{ outcome: "cross-sectional area" }, "outcome_family: family-and-outcome, warning"],
      [{ outcome: "Tendon stiffness" }, "outcome_family: family-and-outcome, warning"],
    ],
    passes: [
      { outcome: "calf circumference", outcomeFamily: "size" },
      { outcome: "tendon cross-sectional area", outcomeFamily: "tendon" },
      { outcome: "tendon cross-sectional area", outcomeFamily: "size" },
      { outcome: "calculated tendon force", outcomeFamily: "other" },
    ],
  },
  {
    name: "prescriptionOutOfScale",
    check: prescriptionOutOfScale,
    doubts: [
      [{ holdSeconds: 0.083 }, "hold_seconds: hold-out-of-scale, warning"],
      [
        { restBetweenRepetitionsSeconds: 0.5 },
        "rest_between_repetitions_seconds: rest-out-of-scale, warning",
      ],
      [{ restBetweenSetsSeconds: 2 }, "rest_between_sets_seconds: rest-out-of-scale, warning"],
      [
        { restBetweenRepetitionsSeconds: 30, restBetweenSetsSeconds: 20 },
        "rest_between_sets_seconds: rest-out-of-scale, warning",
      ],
      [{ weeks: 56 }, "weeks: weeks-out-of-scale, warning"],
    ],
    passes: [
      { holdSeconds: 1, restBetweenRepetitionsSeconds: 0, restBetweenSetsSeconds: 60, weeks: 26 },
      { holdSeconds: 0.6, effortIntent: "as fast as possible" },
    ],
  },
  {
    name: "spreadAgainstTest",
    check: spreadAgainstTest,
    // 14 people, a rise of 19.3 and spreads of 31.2 and 33.0: changes differ by 1.8 to 64.2, so t lies above 1.12.
    doubts: [
      [{ tValue: 0.6 }, "pre_spread: spread-against-test, warning"],
      [
        { preSpread: 8.3, postSpread: 8.8, tValue: 2.4 },
        "pre_spread: spread-against-test, warning",
      ],
      [{ postSpread: 330, fValue: 5.8 }, "pre_spread: spread-against-test, warning"],
      [
        { preSpread: 3.1, postSpread: 3.3, intervalLow: 10, intervalHigh: 28 },
        "pre_spread: spread-against-test, warning",
      ],
    ],
    passes: [
      { tValue: 2.4 },
      { preSpread: 8.3, postSpread: 8.8, tValue: 2.4, spreadKind: "standard error" },
      { tValue: 0.6, statisticOf: "difference from comparator" },
      { intervalLow: 10, intervalHigh: 28 },
    ],
  },
  {
    name: "impliedMean",
    check: impliedMean,
    doubts: [],
    passes: [{ changeMean: 1986 }, {}],
  },
];

for (const { name, check, doubts, passes } of cases) {
  describe(name, () => {
    for (const [fields, expected] of doubts) {
      test(`doubts ${JSON.stringify(fields)}`, () => {
        const found = check(rowOf({ ...fields, line: 7 }));
        expect(found.map((i) => `${i.column}: ${i.code}, ${i.severity}`)).toEqual([expected]);
        expect(found[0]?.line).toBe(7);
        expect(found[0]?.mend).not.toBe("");
      });
    }
    test("lets sound rows pass", () => {
      for (const fields of passes) expect(check(rowOf(fields))).toEqual([]);
    });
  });
}

test("impliedMean: a change that makes the other mean negative", () => {
  const { preMean: _before, preSpread: _spread, ...post } = rowOf({ postMean: 85.63 });
  expect(impliedMean({ ...post, changeMean: 1986 }).map(({ code }) => code)).toEqual([
    "implied-mean-negative",
  ]);
  expect(impliedMean({ ...post, changeMean: 19.86 })).toEqual([]);
});

test("every check of single rows is in this table", () => {
  expect(cases.map(({ check }) => check).sort()).toEqual([...rowChecks].sort());
});

test("a check's error refuses the row, its warning does not", () => {
  const refused = recordsOf({ preQuartileLow: "5", preMedian: "4" });
  expect(refused.fates[0]).toEqual({
    line: 2,
    fate: "refused",
    reason: "pre_median: pre_median is below pre_quartile_low, which is 5",
  });
  expect(refused.rows).toEqual([]);
  expect(recordsOf({ tValue: "-2" }).fates[0]?.fate).toBe("used with a warning");
});
