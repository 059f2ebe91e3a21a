import { describe, expect, test } from "vitest";
import { armReading } from "../../src/effects/arm-reading.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { EffectScale } from "../../src/effects/effect.js";
import type { EffectsOptions } from "../../src/effects/effects-options.js";
import { isRefusal } from "../../src/effects/refusal.js";
import { smallSampleFactor } from "../../src/effects/small-sample-factor.js";
import { studentTProbability, studentTQuantile } from "../../src/numeric/student-t.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { expectRelative } from "./agreement.js";
import { bothTimes, rowOf } from "./outcome-row.js";

/**
 * One invented arm, printed in every form. The kind of evidence is identity: whatever the form, the same
 * people must lead to the same number wherever the form carries the same information.
 */
const n = 16;
const [m1, s1, m2, s2, r] = [100, 20, 112, 22, 0.8] as const;
const change = m2 - m1;
const spread = Math.sqrt(s1 ** 2 + s2 ** 2 - 2 * r * s1 * s2);
const t = change / (spread / Math.sqrt(n));
const quantile = studentTQuantile(0.025, n - 1, "upper");
const halfWidth = (quantile * spread) / Math.sqrt(n);
const p = 2 * studentTProbability(t, n - 1, "upper");

const means = { preMean: m1, preSpread: s1, postMean: m2, postSpread: s2 };
const forms: Readonly<Record<string, Partial<OutcomeRow>>> = {
  means: { statistic: "means at both times", ...means, prePostCorrelation: r },
  errors: {
    statistic: "means at both times",
    preMean: m1,
    postMean: m2,
    preSpread: s1 / 4,
    postSpread: s2 / 4,
    spreadKind: "standard error",
    prePostCorrelation: r,
  },
  halfWidths: {
    statistic: "means at both times",
    preMean: m1,
    postMean: m2,
    preSpread: (quantile * s1) / 4,
    postSpread: (quantile * s2) / 4,
    spreadKind: "95% interval half-width",
    prePostCorrelation: r,
  },
  change: { statistic: "change with spread", ...means, changeMean: change, changeSpread: spread },
  interval: {
    statistic: "change with interval",
    ...means,
    intervalLow: change - halfWidth,
    intervalHigh: change + halfWidth,
  },
  t: { statistic: "t value", ...means, tValue: t },
  F: { statistic: "F value", ...means, fValue: t ** 2, direction: "increase" },
  p: { statistic: "p value", ...means, pValue: p, direction: "increase" },
};

const effectOf = (fields: Partial<OutcomeRow>, options: EffectsOptions = {}) => {
  const { effects, rowUses } = effectsFromRows([rowOf({ line: 2, nEnd: n, ...fields })], options);
  return { effect: effects[0], reason: rowUses[0]?.reason ?? "" };
};

const scales: readonly EffectScale[] = [
  "log-ratio-of-means",
  "raw-mean-difference",
  "standardised-mean-change-baseline-deviation",
  "standardised-mean-change-change-deviation",
  "standardised-mean-difference",
  "log-variability-ratio",
  "log-coefficient-of-variation-ratio",
];

describe("identity: eight printed forms of one arm lead to one effect", () => {
  for (const scale of scales) {
    test(scale, () => {
      const expected = effectOf(forms["means"]!, { scale }).effect!;
      for (const [name, fields] of Object.entries(forms)) {
        const { effect } = effectOf(fields, { scale });
        expect(effect, name).toBeDefined();
        expectRelative(effect!.estimate, expected.estimate, 1e-9);
        expectRelative(effect!.variance, expected.variance, 1e-7);
      }
    });
  }
});

describe("forms without deviations at both times", () => {
  const bare = { preMean: m1, postMean: m2 };

  test("means with a test, an interval or the spread of the change reach the log ratio, and say how", () => {
    const expected = spread ** 2 / (n * m1 * m2);
    for (const fields of [
      { ...bare, statistic: "t value", tValue: t },
      { ...bare, statistic: "F value", fValue: t ** 2 },
      { ...bare, statistic: "p value", pValue: p },
      { ...bare, statistic: "change with spread", changeSpread: spread },
      {
        ...bare,
        statistic: "change with interval",
        intervalLow: change - halfWidth,
        intervalHigh: change + halfWidth,
      },
      { statistic: "change with spread", preMean: m1, changeMean: change, changeSpread: spread },
    ] as const) {
      const { effect } = effectOf(fields);
      expectRelative(effect!.estimate, Math.log(m2 / m1), 1e-12);
      expectRelative(effect!.variance, expected, 1e-7);
      expect(effect!.correlationSource).toBe("not needed");
      expect(effect!.notes.map(({ code }) => code)).toContain("deviations-not-printed");
    }
  });

  test("a t value and the people are enough for the change in deviations of the changes, and for no other scale", () => {
    const alone = { statistic: "t value", tValue: t } as const;
    const scale = "standardised-mean-change-change-deviation";
    const full = effectOf(forms["t"]!, { scale }).effect!;
    expectRelative(effectOf(alone, { scale }).effect!.estimate, full.estimate, 1e-12);
    expectRelative(effectOf(alone, { scale }).effect!.variance, full.variance, 1e-12);
    for (const other of scales.filter((each) => each !== scale)) {
      expect(effectOf(alone, { scale: other }).effect).toBeUndefined();
    }
  });

  test("a p value without direction, and one of 0, are set aside", () => {
    const scale = "standardised-mean-change-change-deviation";
    expect(effectOf({ statistic: "p value", pValue: 0.01 }, { scale }).effect).toBeUndefined();
    const decrease = { statistic: "p value", pValue: p, direction: "decrease" } as const;
    expect(effectOf(decrease, { scale }).effect!.estimate).toBeLessThan(0);
    expect(effectOf({ ...bare, statistic: "p value", pValue: 0 }).reason).toMatch(
      /no usable spread/,
    );
  });

  test("a p value that looks like a threshold is flagged", () => {
    const { effect } = effectOf({ ...bare, statistic: "p value", pValue: 0.05 });
    expect(effect!.notes.map(({ code }) => code)).toContain("p-threshold");
  });

  test("a change outside its own interval is set aside as a contradiction", () => {
    const { reason } = effectOf({
      ...bare,
      statistic: "change with interval",
      intervalLow: 20,
      intervalHigh: 30,
    });
    expect(reason).toMatch(/mean change \(12\) lies outside its interval \(20 to 30\)/);
  });
});

describe("percent changes", () => {
  const percent = {
    statistic: "percent change with spread",
    changePercentMean: 12,
    changePercentSpread: 9,
  } as const;

  test("with their deviation reach the log ratio by the delta method, flagged", () => {
    const { effect } = effectOf(percent);
    expectRelative(effect!.estimate, Math.log(1.12), 1e-12);
    expectRelative(effect!.variance, 0.09 ** 2 / (n * 1.12 ** 2), 1e-12);
    expect(effect!.notes.map(({ code }) => code)).toContain("mean-of-percent-changes");
    expect(effect!.correlationSource).toBe("not needed");
  });

  test("with an interval or a standard error lead to the same", () => {
    const expected = effectOf(percent).effect!.variance;
    const half = (quantile * 9) / Math.sqrt(n);
    const interval = {
      statistic: "change with interval",
      changePercentMean: 12,
      intervalLow: 12 - half,
      intervalHigh: 12 + half,
    } as const;
    expectRelative(effectOf(interval).effect!.variance, expected, 1e-9);
    const error = { ...percent, changePercentSpread: 9 / 4, spreadKind: "standard error" } as const;
    expectRelative(effectOf(error).effect!.variance, expected, 1e-12);
  });

  test("reach no other scale, each with a plain reason", () => {
    for (const scale of scales.filter((each) => each !== "log-ratio-of-means")) {
      const { effect, reason } = effectOf(percent, { scale });
      expect(effect).toBeUndefined();
      expect(reason.length).toBeGreaterThan(20);
    }
  });
});

describe("medians", () => {
  const medians = {
    statistic: "medians with quartiles",
    preMedian: 100,
    preQuartileLow: 86,
    preQuartileHigh: 114,
    postMedian: 112,
    postQuartileLow: 97,
    postQuartileHigh: 127,
    prePostCorrelation: r,
  } as const;

  test("become means and deviations, flagged", () => {
    const { effect } = effectOf(medians);
    expectRelative(effect!.estimate, Math.log(1.12), 0.01);
    expect(effect!.notes.map(({ code }) => code)).toContain("from-medians");
    expect(effect!.route).toMatch(/Luo 2018.*Wan 2014/);
  });

  test("with a range do too; out of order they are set aside", () => {
    const range = {
      statistic: "medians with range",
      preMedian: 100,
      preMinimum: 60,
      preMaximum: 140,
      postMedian: 112,
      postMinimum: 70,
      postMaximum: 150,
    } as const;
    expect(effectOf(range).effect).toBeDefined();
    const slip = { ...medians, preQuartileLow: 104 };
    expect(effectOf(slip).effect).toBeUndefined();
  });
});

describe("effects computed elsewhere", () => {
  const ready = {
    statistic: "effect computed elsewhere",
    effect: 0.54,
    effectStandardError: 0.2,
    effectScale: "Standardised mean difference",
  } as const;

  test("are used on their own scale only", () => {
    const { effect } = effectOf(ready, { scale: "standardised-mean-difference" });
    expect(effect!.estimate).toBe(0.54);
    expectRelative(effect!.variance, 0.04, 1e-12);
    expect(effectOf(ready).reason).toMatch(/on another scale/);
    const unnamed = effectOf({ ...ready, effectScale: "effect size" });
    expect(unnamed.reason).toMatch(/on another scale \("effect size"\)/);
  });

  test("an interval stands in for the standard error", () => {
    const { effectStandardError: _, ...rest } = ready;
    const fields = {
      ...rest,
      intervalLow: 0.54 - 1.959964 * 0.2,
      intervalHigh: 0.54 + 1.959964 * 0.2,
    };
    const { effect } = effectOf(fields, { scale: "standardised-mean-difference" });
    expectRelative(effect!.variance, 0.04, 1e-6);
  });
});

describe("differences from the comparator", () => {
  const control = rowOf({
    line: 3,
    arm: "control",
    armKind: "no exercise",
    statistic: "means at both times",
    ...means,
    nEnd: 14,
  });
  const difference = (fields: Partial<OutcomeRow>, scale: EffectScale) => {
    const treated = rowOf({
      line: 2,
      nEnd: n,
      statisticOf: "difference from comparator",
      ...fields,
    });
    return effectsFromRows([treated, control], { scale, contrast: "against-control" });
  };
  const freedom = n + 14 - 2;
  const standardError = 3;
  const half = studentTQuantile(0.025, freedom, "upper") * standardError;

  test("identity: interval, t, F, p and standard error of one difference lead to one raw effect", () => {
    for (const fields of [
      { statistic: "change with interval", intervalLow: 9 - half, intervalHigh: 9 + half },
      { statistic: "t value", changeMean: 9, tValue: 3 },
      { statistic: "F value", changeMean: 9, fValue: 9 },
      { statistic: "p value", changeMean: 9, pValue: 2 * studentTProbability(3, freedom, "upper") },
      {
        statistic: "change with spread",
        changeMean: 9,
        changeSpread: 3,
        spreadKind: "standard error",
      },
    ] as const) {
      const [effect] = difference(fields, "raw-mean-difference").effects;
      expectRelative(effect!.estimate, 9, 1e-9);
      expectRelative(effect!.variance, 9, 1e-7);
    }
  });

  test("a difference is standardised by the unadjusted baseline deviations of both arms", () => {
    const fields = { statistic: "t value", changeMean: 9, tValue: 3, preSpread: 20 } as const;
    const set = difference(fields, "standardised-mean-change-baseline-deviation");
    expectRelative(set.effects[0]!.estimate, 9 / 20, 0.05);
    expect(set.rowUses.map(({ use }) => use)).toEqual(["effect", "comparator"]);
  });

  test("it gives no log ratio, and no change within the arm", () => {
    const fields = { statistic: "t value", changeMean: 9, tValue: 3 } as const;
    expect(difference(fields, "log-ratio-of-means").rowUses[0]?.reason).toMatch(
      /from which this scale cannot be reached/,
    );
    expect(effectOf({ ...fields, statisticOf: "difference from comparator" }).reason).toMatch(
      /not a change within the arm/,
    );
  });
});

describe("a printed difference between two limbs of the same people is paired", () => {
  const people = 9;
  const limbs = { design: "within-person limbs", nEnd: people, testSide: "trained" } as const;
  const other = rowOf({
    line: 3,
    arm: "other",
    armKind: "no exercise",
    ...bothTimes([100, 12], [101, 12], people),
    ...limbs,
    testSide: "untrained",
  });
  const effectFrom = (fields: Partial<OutcomeRow>, scale: EffectScale) =>
    effectsFromRows(
      [rowOf({ line: 2, statisticOf: "difference from comparator", ...limbs, ...fields }), other],
      { scale, contrast: "against-other-limb" },
    ).effects[0];

  test("hand arithmetic: n − 1 degrees of freedom, and a deviation of 6 over √9", () => {
    const half = studentTQuantile(0.025, people - 1, "upper") * 2;
    for (const fields of [
      { statistic: "change with interval", intervalLow: 10 - half, intervalHigh: 10 + half },
      { statistic: "change with spread", changeMean: 10, changeSpread: 6 },
      { statistic: "t value", changeMean: 10, tValue: 5 },
    ] as const) {
      const effect = effectFrom(fields, "raw-mean-difference");
      expectRelative(effect!.estimate, 10, 1e-9);
      expectRelative(effect!.variance, 4, 1e-7);
    }
  });

  test("hand arithmetic: in deviations of the changes, t·√(2(1 − 0.5)/9), with 2·8/(1 + 0.5²) degrees of freedom", () => {
    const effect = effectFrom(
      { statistic: "t value", changeMean: 10, tValue: 5 },
      "standardised-mean-change-change-deviation",
    );
    const factor = smallSampleFactor(12.8);
    const estimate = (factor * 5) / 3;
    expectRelative(effect!.estimate, estimate, 1e-12);
    const variance = factor ** 2 * (12.8 / 10.8) * (1 / 9 + estimate ** 2) - estimate ** 2;
    expectRelative(effect!.variance, variance, 1e-12);
  });

  test("hand arithmetic: in baseline deviations, 10 over √((14² + 12²)/2)", () => {
    const effect = effectFrom(
      { statistic: "t value", changeMean: 10, tValue: 5, preSpread: 14 },
      "standardised-mean-change-baseline-deviation",
    );
    // 170 = (14² + 12²)/2;  9.756 = 2·8/(1 + 0.8²);  the standard error is 10/5.
    const freedom = 16 / 1.64;
    const factor = smallSampleFactor(freedom);
    const estimate = (factor * 10) / Math.sqrt(170);
    expectRelative(effect!.estimate, estimate, 1e-12);
    const variance =
      factor ** 2 * (freedom / (freedom - 2)) * (4 / 170 + estimate ** 2) - estimate ** 2;
    expectRelative(effect!.variance, variance, 1e-12);
  });
});

describe("doubts are notes", () => {
  const codes = (fields: Partial<OutcomeRow>): readonly string[] => {
    const reading = armReading(rowOf({ line: 2, nEnd: n, ...fields }));
    return isRefusal(reading) ? ["refused"] : reading.notes.map(({ code }) => code);
  };
  test("people lost, people only at the start, kind of spread blank, signs that disagree", () => {
    const { spreadKind: _, ...blank } = rowOf({ line: 2, nEnd: n, ...forms["means"] });
    expect(codes({ ...forms["means"], nStart: 20 })).toEqual(["people-lost"]);
    const { nEnd: __, ...start } = rowOf({ line: 2, ...forms["means"], nStart: 20, nEnd: 20 });
    const startReading = armReading(start);
    expect(isRefusal(startReading) ? [] : startReading.notes.map(({ code }) => code)).toEqual([
      "people-at-start",
    ]);
    const blankReading = armReading(blank);
    expect(isRefusal(blankReading) ? [] : blankReading.notes.map(({ code }) => code)).toEqual([
      "spread-kind-blank",
    ]);
    expect(codes({ ...forms["t"], tValue: -t })).toEqual(["sign-disagrees"]);
    expect(codes({ ...forms["change"], changeMean: 30 })).toEqual(["change-disagrees"]);
    expect(codes({ ...forms["change"], prePostCorrelation: 0.2 })).toEqual([
      "correlations-disagree",
    ]);
  });
});
