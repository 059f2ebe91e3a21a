import { expect, test } from "vitest";
import {
  logCoefficientOfVariationRatio,
  logCoefficientOfVariationRatioPaired,
} from "../../src/effects/log-coefficient-of-variation-ratio.js";
import { logRatioOfMeansPaired } from "../../src/effects/log-ratio-of-means.js";
import { logVariabilityRatioPaired } from "../../src/effects/log-variability-ratio.js";
import { expectRelative } from "./agreement.js";

test("independent: estimate and variance, written out (Senior 2020 as re-derived)", () => {
  const { estimate, variance } = logCoefficientOfVariationRatio(
    { mean: 10, deviation: 3, participants: 12 },
    { mean: 11, deviation: 2, participants: 20 },
  );
  const [a, b] = [0.3 ** 2 / 12, (2 / 11) ** 2 / 20];
  const bias = (1 / 11 - 1 / 19) / 2 + (b - a) / 2;
  expectRelative(estimate, Math.log(0.3 / (2 / 11)) + bias, 1e-12);
  const part = (c: number, n: number) => c + c ** 2 / 2 + n / (2 * (n - 1) ** 2);
  expectRelative(variance, part(a, 12) + part(b, 20), 1e-12);
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

test("refuses a mean of 0", () => {
  const good = { mean: 11, deviation: 2, participants: 20 };
  expect(() => logCoefficientOfVariationRatio({ ...good, mean: 0 }, good)).toThrow(/got 0/);
});
