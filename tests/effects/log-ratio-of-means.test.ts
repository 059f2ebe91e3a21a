import { describe, expect, test } from "vitest";
import {
  distanceFromZero,
  logRatioFromPercentChange,
  logRatioOfMeans,
  logRatioOfMeansFromChange,
  logRatioOfMeansPaired,
} from "../../src/effects/log-ratio-of-means.js";
import { expectPrinted, expectRelative } from "./agreement.js";

const treated = { mean: 61.515, deviation: 19.475, participants: 10 };
const control = { mean: 51.015, deviation: 19.475, participants: 10 };
const paired = {
  before: { mean: 150, deviation: 30 },
  after: { mean: 180, deviation: 36 },
  correlation: 0.85,
  participants: 12,
};

// Base R: log(61.515 / 51.015); 19.475^2 / (10 * 61.515^2) + 19.475^2 / (10 * 51.015^2)
test("independent: a log ratio and its first-order variance, in base R", () => {
  const { estimate, variance } = logRatioOfMeans(treated, control, { order: "first-order" });
  expectPrinted(estimate, "0.1871613404");
  expectPrinted(variance, "0.0245962298");
});

test("independent: the second-order terms, written out from the printed formula (Lajeunesse 2015)", () => {
  const first = 19.475 ** 2 / (10 * 61.515 ** 2);
  const second = 19.475 ** 2 / (10 * 51.015 ** 2);
  const { estimate, variance } = logRatioOfMeans(treated, control);
  expectRelative(estimate, Math.log(61.515 / 51.015) + 0.5 * (first - second), 1e-12);
  expectRelative(variance, first + second + 0.5 * (first ** 2 + second ** 2), 1e-12);
});

test("identity: without correlation a pair is two independent groups", () => {
  for (const order of ["first-order", "second-order"] as const) {
    const pair = logRatioOfMeansPaired({ ...paired, correlation: 0 }, { order });
    const groups = logRatioOfMeans(
      { ...paired.after, participants: 12 },
      { ...paired.before, participants: 12 },
      { order },
    );
    expectRelative(pair.estimate, groups.estimate, 1e-12);
    expectRelative(pair.variance, groups.variance, 1e-12);
  }
});

test("identity: with equal coefficients of variation the first-order variance is 2·CV²(1−r)/n", () => {
  const { variance } = logRatioOfMeansPaired(paired, { order: "first-order" });
  expectRelative(variance, (2 * 0.2 ** 2 * 0.15) / 12, 1e-12);
});

test("identity: the route over the spread of the changes exceeds that by CV²(m₂−m₁)²/(n·m₁·m₂)", () => {
  const changeDeviation = Math.sqrt(30 ** 2 + 36 ** 2 - 2 * 0.85 * 30 * 36);
  const exact = logRatioOfMeansPaired(paired, { order: "first-order" });
  const route = logRatioOfMeansFromChange({
    meanBefore: 150,
    meanAfter: 180,
    changeDeviation,
    participants: 12,
  });
  expect(route.estimate).toBe(exact.estimate);
  const excess = (0.2 ** 2 * 30 ** 2) / (12 * 150 * 180);
  expectRelative(route.variance, exact.variance + excess, 1e-12);
});

test("published: percent changes of +31.8 ± 17.2 and +33.9 ± 14.4 need no correlation (Kubo 2001, Journal of Physiology 536:649–655, torque, 8 men)", () => {
  for (const [percentMean, percentDeviation, relative] of [
    [31.8, 17.2, "0.172"],
    [33.9, 14.4, "0.144"],
  ] as const) {
    const given = { percentMean, percentDeviation, participants: 8 };
    const { estimate, variance } = logRatioFromPercentChange(given);
    expectRelative(estimate, Math.log(1 + percentMean / 100), 1e-12);
    // Back from the log scale: the deviation of the relative changes, in units of the baseline.
    expectPrinted(Math.sqrt(variance * 8) * (1 + percentMean / 100), relative);
  }
});

test("the distance of a mean from zero: far for torque, near for a rate hardly above nothing", () => {
  expectRelative(
    distanceFromZero({ mean: 150, deviation: 30, participants: 12 }),
    5 * Math.sqrt(12) * (48 / 49),
    1e-12,
  );
  expect(distanceFromZero({ mean: 2, deviation: 3, participants: 9 })).toBeLessThan(3);
  expect(distanceFromZero({ mean: 2, deviation: 0, participants: 9 })).toBe(Infinity);
});

describe("refuses", () => {
  test("a mean of 0 or below, with the value", () => {
    expect(() => logRatioOfMeans({ ...treated, mean: 0 }, control)).toThrow(
      /mean above 0 .* got 0/,
    );
    expect(() => logRatioOfMeansPaired({ ...paired, before: { mean: -3, deviation: 1 } })).toThrow(
      /got -3/,
    );
  });
  test("a percent change of −100", () => {
    expect(() =>
      logRatioFromPercentChange({ percentMean: -100, percentDeviation: 5, participants: 9 }),
    ).toThrow(/above −100, got -100/);
  });
  test("a correlation beyond 1", () => {
    expect(() => logRatioOfMeansPaired({ ...paired, correlation: 1.2 })).toThrow(/got 1.2/);
  });
});
