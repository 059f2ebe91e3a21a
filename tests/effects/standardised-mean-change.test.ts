import { expect, test } from "vitest";
import { smallSampleFactor } from "../../src/effects/small-sample-factor.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { overDeviation } from "../../src/effects/over-deviation.js";
import {
  standardisedMeanChangeByBaselineDeviation,
  standardisedMeanChangeByChangeDeviation,
} from "../../src/effects/standardised-mean-change.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { expectRelative } from "./agreement.js";
import { bothTimes, rowOf } from "./outcome-row.js";

const equal = {
  meanChange: 12,
  changeDeviation: 20 * Math.sqrt(2 * (1 - 0.8)),
  participants: 15,
  baselineDeviation: 20,
  correlation: 0.8,
};

test("independent: each form of the variance, written out from its formula (Becker 1988; Bonett 2008)", () => {
  const factor = smallSampleFactor(14);
  const g = (factor * 12) / 20;
  const variance = (varianceForm: "unequal-deviations" | "large-sample" | "exact-moment") => {
    const result = standardisedMeanChangeByBaselineDeviation(equal, { varianceForm });
    expectRelative(result.estimate, g, 1e-12);
    return result.variance;
  };
  expectRelative(variance("large-sample"), (2 * 0.2) / 15 + g ** 2 / 30, 1e-12);
  expectRelative(variance("unequal-deviations"), (2 * 0.2) / 15 + g ** 2 / 28, 1e-12);
  const scaled = (0.4 / 15) * (14 / 12) * (1 + (15 * g ** 2) / 0.4);
  expectRelative(variance("exact-moment"), factor ** 2 * scaled - g ** 2, 1e-12);
});

test("independent: both variances over the deviation of the changes, written out", () => {
  const factor = smallSampleFactor(14);
  const g = (factor * 12) / equal.changeDeviation;
  const exact = standardisedMeanChangeByChangeDeviation(equal);
  expectRelative(exact.estimate, g, 1e-12);
  expectRelative(
    exact.variance,
    factor ** 2 * (14 / 12) * (1 / 15) * (1 + 15 * g ** 2) - g ** 2,
    1e-12,
  );
  const large = standardisedMeanChangeByChangeDeviation(equal, { varianceForm: "large-sample" });
  expectRelative(large.variance, 1 / 15 + g ** 2 / 30, 1e-12);
});

test("identity: with equal deviations the two denominators differ by √(2(1−r)), and are never one scale", () => {
  const baseline = standardisedMeanChangeByBaselineDeviation(equal);
  const change = standardisedMeanChangeByChangeDeviation(equal);
  expectRelative(baseline.estimate, change.estimate * Math.sqrt(2 * 0.2), 1e-12);
  expect(baseline.scale).toBe("standardised-mean-change-baseline-deviation");
  expect(change.scale).toBe("standardised-mean-change-change-deviation");
});

test("identity: the unit of the outcome does not matter", () => {
  const inPounds = { ...equal, meanChange: 12 * 2.2, changeDeviation: equal.changeDeviation * 2.2 };
  const turned = standardisedMeanChangeByBaselineDeviation({ ...inPounds, baselineDeviation: 44 });
  const plain = standardisedMeanChangeByBaselineDeviation(equal);
  expectRelative(turned.estimate, plain.estimate, 1e-12);
  expectRelative(turned.variance, plain.variance, 1e-12);
});

test("refuses three people (two for the large-sample forms) and deviations of 0", () => {
  const three = { ...equal, participants: 3 };
  expect(() => standardisedMeanChangeByBaselineDeviation(three)).toThrow(
    /at least 4 participants.* got 3/,
  );
  expect(() => standardisedMeanChangeByChangeDeviation(three)).toThrow(/at least 4 participants/);
  expect(() =>
    standardisedMeanChangeByBaselineDeviation(
      { ...equal, participants: 2 },
      { varianceForm: "large-sample" },
    ),
  ).toThrow(/at least 3 participants.* got 2/);
  expect(() =>
    standardisedMeanChangeByBaselineDeviation({ ...equal, baselineDeviation: 0 }),
  ).toThrow(/at baseline above 0, got 0/);
  expect(() => standardisedMeanChangeByChangeDeviation({ ...equal, changeDeviation: 0 })).toThrow(
    /of the changes above 0, got 0/,
  );
});

test("hand arithmetic: one arm, over the deviation after training or pooled over before and after", () => {
  const row = rowOf({ line: 2, ...bothTimes([100, 20], [112, 25], 15), prePostCorrelation: 0.8 });
  const at = (scale: "after" | "pooled") =>
    effectsFromRows([row], { scale: `standardised-mean-change-${scale}-deviation` }).effects[0]!;
  // The variance of a change is 20² + 25² − 2·0.8·20·25 = 225; (20² + 25²)/2 = 512.5; 28 = 2·14.
  for (const [scale, square, freedom] of [
    ["after", 625, 14],
    ["pooled", 512.5, 28 / 1.64],
  ] as const) {
    const { estimate, variance, route } = at(scale);
    const factor = smallSampleFactor(freedom);
    const g = (factor * 12) / Math.sqrt(square);
    expectRelative(estimate, g, 1e-12);
    const moments = factor ** 2 * (freedom / (freedom - 2)) * (225 / square / 15 + g ** 2);
    expectRelative(variance, moments - g ** 2, 1e-12);
    expect(route).toContain(scale === "after" ? "deviation after training" : "before and after");
  }
});

// Ten people, deviations of 1 before and 1.2 after, correlation 0.8, a mean change of 0.6; 20,000 seeded draws.
test("seeded simulation: each denominator's estimate is unbiased and its variance is the one it shows", () => {
  const [n, draws, r, after, gain] = [10, 20_000, 0.8, 1.2, 0.6];
  const stream = randomStream(11);
  const spreadOf = (values: readonly number[]) => {
    const mean = values.reduce((sum, one) => sum + one) / values.length;
    const variance = values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (values.length - 1);
    return { mean, variance };
  };
  const freedoms = [n - 1, n - 1, (2 * (n - 1)) / (1 + r ** 2)] as const;
  const three = (difference: number, variance: number, first: number, second: number) =>
    [first, second, Math.sqrt((first ** 2 + second ** 2) / 2)].map((deviation, i) =>
      overDeviation({ difference, variance, deviation, degreesOfFreedom: freedoms[i]! }),
    );
  const made = Array.from({ length: draws }, () => {
    const people = Array.from({ length: n }, () => {
      const level = stream.normal();
      return [level, gain + after * (r * level + Math.sqrt(1 - r ** 2) * stream.normal())] as const;
    });
    const changes = spreadOf(people.map(([x, y]) => y - x));
    const [first, second] = [spreadOf(people.map(([x]) => x)), spreadOf(people.map(([, y]) => y))];
    return three(
      changes.mean,
      changes.variance / n,
      Math.sqrt(first.variance),
      Math.sqrt(second.variance),
    );
  });
  const truths = [gain, gain / after, gain / Math.sqrt((1 + after ** 2) / 2)];
  truths.forEach((truth, i) => {
    const estimates = spreadOf(made.map((one) => one[i]!.estimate));
    expect(Math.abs(estimates.mean - truth)).toBeLessThan(
      4 * Math.sqrt(estimates.variance / draws),
    );
    // The formula at the true values, whose estimate the small-sample factor would shrink.
    const difference = gain / smallSampleFactor(freedoms[i]!);
    const ofChanges = (1 + after ** 2 - 2 * r * after) / n;
    const { variance } = three(difference, ofChanges, 1, after)[i]!;
    expect(Math.abs(variance / estimates.variance - 1)).toBeLessThan(0.05);
  });
});

test("hand arithmetic: two arms, over the deviation after training or pooled over both times and both arms", () => {
  const rows = [
    rowOf({ line: 2, ...bothTimes([100, 10], [112, 14], 9) }),
    rowOf({
      line: 3,
      arm: "control",
      armKind: "no exercise",
      ...bothTimes([100, 10], [102, 12], 11),
    }),
  ];
  const at = (scale: "after" | "pooled") => {
    const { effects } = effectsFromRows(rows, {
      contrast: "against-control",
      scale: `standardised-mean-change-${scale}-deviation`,
      prePostCorrelation: 0.5,
    });
    return effects[0]!;
  };
  // s_c² = 10² + 14² − 140 = 156 and 10² + 12² − 120 = 124; after: (8·14² + 10·12²)/18; pooled: (8·148 + 10·122)/18.
  const numerator = 156 / 9 + 124 / 11;
  for (const [scale, square, freedom] of [
    ["after", 3008 / 18, 18],
    ["pooled", 2404 / 18, (2 * 18) / 1.25],
  ] as const) {
    const { estimate, variance, route } = at(scale);
    const factor = smallSampleFactor(freedom);
    const g = (factor * 10) / Math.sqrt(square);
    expectRelative(estimate, g, 1e-12);
    const moments = factor ** 2 * (freedom / (freedom - 2)) * (numerator / square + g ** 2);
    expectRelative(variance, moments - g ** 2, 1e-12);
    expect(route).toMatch(scale === "after" ? /deviation after training/ : /before and after/);
  }
});
