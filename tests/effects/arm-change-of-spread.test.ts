import { expect, test } from "vitest";
import {
  logCoefficientOfVariationRatioPaired,
  logVariabilityRatioPaired,
} from "../../src/effects/arm-change-of-spread.js";
import { logRatioOfMeansPaired } from "../../src/effects/log-ratio-of-means.js";
import { expectRelative } from "./agreement.js";

test("deviations of a pair, written out: the two bias terms cancel (Nakagawa 2015)", () => {
  const { estimate, variance } = logVariabilityRatioPaired({
    before: { mean: 10, deviation: 2 },
    after: { mean: 12, deviation: 3 },
    correlation: 0.6,
    participants: 15,
  });
  expectRelative(estimate, Math.log(1.5), 1e-12);
  expectRelative(variance, 0.64 / 14, 1e-12);
});

test("a pair, by hand: the relative spread that is larger before makes the corrected ratio larger", () => {
  // CV 0.3 before and 0.2 after, ten people. A mean's logarithm falls short of ln μ by CV²/2n on average, so the
  // ratio of CVs is too high by (0.04 − 0.09)/20, and 0.0025 is added.
  const { estimate } = logCoefficientOfVariationRatioPaired({
    before: { mean: 10, deviation: 3 },
    after: { mean: 20, deviation: 4 },
    correlation: 0.6,
    participants: 10,
  });
  expectRelative(estimate, Math.log(2 / 3) + 0.0025, 1e-12);
});

test("identity: for a pair, the variances of the log ratio of means and of deviations add", () => {
  const paired = {
    before: { mean: 150, deviation: 30 },
    after: { mean: 180, deviation: 40 },
    correlation: 0.75,
    participants: 14,
  };
  const whole = logCoefficientOfVariationRatioPaired(paired);
  const means = logRatioOfMeansPaired(paired, { order: "first-order" });
  const spreads = logVariabilityRatioPaired(paired);
  expectRelative(whole.variance, means.variance + spreads.variance, 1e-12);
});

test("refuse a deviation of 0 and a mean of 0", () => {
  const good = { mean: 11, deviation: 2 };
  const pair = { before: good, after: good, correlation: 0.5, participants: 20 };
  expect(() => logVariabilityRatioPaired({ ...pair, after: { mean: 11, deviation: 0 } })).toThrow(
    /above 0, got 0/,
  );
  expect(() =>
    logCoefficientOfVariationRatioPaired({ ...pair, before: { mean: 0, deviation: 2 } }),
  ).toThrow(/got 0/);
});
