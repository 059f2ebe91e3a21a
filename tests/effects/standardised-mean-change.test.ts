import { expect, test } from "vitest";
import { smallSampleFactor } from "../../src/effects/small-sample-factor.js";
import {
  standardisedMeanChangeByBaselineDeviation,
  standardisedMeanChangeByChangeDeviation,
} from "../../src/effects/standardised-mean-change.js";
import { expectRelative } from "./agreement.js";

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
