import { expect, test } from "vitest";
import { pooledDeviation } from "../../src/effects/arm-summary.js";
import {
  standardisedDifferenceFromT,
  standardisedMeanDifference,
  standardisedMeanDifferencePaired,
} from "../../src/effects/standardised-mean-difference.js";
import { expectPrinted, expectRelative } from "./agreement.js";

const treated = { mean: 103, deviation: 5.5, participants: 50 };
const control = { mean: 100, deviation: 4.5, participants: 50 };

// Base R: s <- sqrt((49 * 5.5^2 + 49 * 4.5^2) / 98); d <- 3 / s; v <- 2/50 + d^2/200;
// J <- gamma(49) / (sqrt(49) * gamma(48.5)); c(s, d, v, J * d, J^2 * v, J * sqrt(v))
test("independent: two groups, by the formulas in base R", () => {
  expectPrinted(pooledDeviation(treated, control), "5.0249378");
  const uncorrected = standardisedMeanDifference(treated, control, {
    smallSample: "none",
    varianceForm: "factor-squared",
  });
  expectPrinted(uncorrected.estimate, "0.5970223");
  expectPrinted(uncorrected.variance, "0.0417822");
  const corrected = standardisedMeanDifference(treated, control, {
    varianceForm: "factor-squared",
  });
  expectPrinted(corrected.estimate, "0.5924396");
  expectPrinted(corrected.variance, "0.0411432");
  expectPrinted(Math.sqrt(corrected.variance), "0.2028379");
});

// Base R: s <- 5.5 / sqrt(0.6); d <- 3 / s; v <- (1/50 + d^2/100) * 0.6;
// J <- gamma(24.5) / (sqrt(24.5) * gamma(24)); c(s, d, v, J * d, J^2 * v)
test("independent: matched pairs, by the formulas in base R", () => {
  const withinDeviation = 5.5 / Math.sqrt(2 * (1 - 0.7));
  expectPrinted(withinDeviation, "7.1004695");
  const pairs = { meanDifference: 3, withinDeviation, correlation: 0.7, participants: 50 };
  const uncorrected = standardisedMeanDifferencePaired(pairs, { smallSample: "none" });
  expectPrinted(uncorrected.estimate, "0.4225073");
  expectPrinted(uncorrected.variance, "0.0130711");
  const corrected = standardisedMeanDifferencePaired(pairs);
  expectPrinted(corrected.estimate, "0.4160016");
  expectPrinted(corrected.variance, "0.0126716");
});

test("published: a crossover trial's standardised difference, 0.218 with standard error 0.256 (Cochrane Handbook, chapter 23)", () => {
  // Means 7.0 and 6.5, deviations 2.38 and 2.21, ten people, correlation 0.68.
  const withinDeviation = Math.sqrt((2.38 ** 2 + 2.21 ** 2) / 2);
  const { estimate, variance } = standardisedMeanDifferencePaired(
    { meanDifference: 0.5, withinDeviation, correlation: 0.68, participants: 10 },
    { smallSample: "none" },
  );
  expectPrinted(estimate, "0.218");
  expectPrinted(Math.sqrt(variance), "0.256");
});

test("identity: the three forms of the variance agree in the limit of many people", () => {
  const many = (group: typeof treated) => ({ ...group, participants: 50_000 });
  const variance = (varianceForm: "corrected-estimate" | "factor-squared" | "exact-moment") =>
    standardisedMeanDifference(many(treated), many(control), { varianceForm }).variance;
  expectRelative(variance("factor-squared"), variance("corrected-estimate"), 1e-4);
  expectRelative(variance("exact-moment"), variance("corrected-estimate"), 1e-4);
});

test("identity: the two-sample t over the same data gives the same standardised difference", () => {
  const deviation = pooledDeviation(treated, control);
  const t = 3 / (deviation * Math.sqrt(1 / 50 + 1 / 50));
  const d = standardisedDifferenceFromT({ t, treated: 50, control: 50 });
  expectRelative(d, 3 / deviation, 1e-12);
});

test("identity: swapping the groups changes the sign only", () => {
  const one = standardisedMeanDifference(treated, control);
  const other = standardisedMeanDifference(control, treated);
  expect(other).toEqual({ ...one, estimate: -one.estimate });
});

test("refuses groups without any spread, one person, and pairs that correlate fully", () => {
  const flat = { ...treated, deviation: 0 };
  expect(() => standardisedMeanDifference(flat, { ...control, deviation: 0 })).toThrow(
    /pooled standard deviation above 0, got 0/,
  );
  expect(() => standardisedMeanDifference({ ...treated, participants: 1 }, control)).toThrow(
    /at least 2 participants/,
  );
  expect(() =>
    standardisedMeanDifferencePaired({
      meanDifference: 1,
      withinDeviation: 1,
      correlation: 1,
      participants: 9,
    }),
  ).toThrow(/correlation above −1 and below 1, got 1/);
});
