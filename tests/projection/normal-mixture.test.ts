import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import { normalProbability, normalQuantile } from "../../src/numeric/normal.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import {
  mergedMixture,
  mixtureMoments,
  mixtureProbability,
  mixtureQuantile,
  quickNormalProbability,
  widenedMixture,
  type NormalMixture,
} from "../../src/projection/normal-mixture.js";

const single = (mean: number, deviation: number): NormalMixture => ({
  weights: Float64Array.of(1),
  means: Float64Array.of(mean),
  deviations: Float64Array.of(deviation),
});

/** Many like components around a few places, as a posterior has. */
const many = (): NormalMixture => {
  const stream = randomStream(3);
  const raw = Array.from({ length: 3000 }, () => stream.uniform());
  const total = raw.reduce((sum, weight) => sum + weight, 0);
  return {
    weights: Float64Array.from(raw, (weight) => weight / total),
    means: Float64Array.from(raw, () => 0.2 + 0.02 * stream.normal()),
    deviations: Float64Array.from(raw, () => 0.05 * Math.exp(0.2 * stream.normal())),
  };
};

test("the quick normal probability is the exact one to 2e-9", () => {
  for (let x = -9.5; x <= 9.5; x += 0.0137)
    expect(Math.abs(quickNormalProbability(x) - normalProbability(x))).toBeLessThan(2e-9);
});

describe("one component is the normal distribution", () => {
  test.each([0.0001, 0.025, 0.5, 0.9, 0.99])("quantile at %d", (p) => {
    expect(mixtureQuantile(single(0.3, 0.7), p)).toBeCloseTo(0.3 + 0.7 * normalQuantile(p), 6);
  });
  test("probability", () => {
    expect(mixtureProbability(single(0.3, 0.7), 1)).toBeCloseTo(normalProbability(1), 8);
  });
});

test("moments are the law of total variance", () => {
  // weights ¼ and ¾, means 0 and 4, deviations 1 and 2: mean 3, variance 0.25 + 3 + 0.25·9 + 0.75·1 = 6.25
  const found = mixtureMoments({
    weights: Float64Array.of(0.25, 0.75),
    means: Float64Array.of(0, 4),
    deviations: Float64Array.of(1, 2),
  });
  expect(found.mean).toBeCloseTo(3, 12);
  expect(found.deviation).toBeCloseTo(2.5, 12);
});

describe("merging like components", () => {
  const mixture = many();
  const merged = mergedMixture(mixture);
  test("leaves far fewer, and keeps weight, mean and variance", () => {
    expect(merged.weights.length).toBeLessThan(mixture.weights.length / 3);
    expect(merged.weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
    const [a, b] = [mixtureMoments(mixture), mixtureMoments(merged)];
    expect(b.mean).toBeCloseTo(a.mean, 12);
    expect(b.deviation).toBeCloseTo(a.deviation, 12);
  });
  test.each([0.025, 0.25, 0.5, 0.975])("moves the quantile at %d by less than said", (p) => {
    const { deviation } = mixtureMoments(mixture);
    expect(Math.abs(mixtureQuantile(merged, p) - mixtureQuantile(mixture, p))).toBeLessThan(
      1e-4 * deviation,
    );
  });
});

test("widening adds variances, averaged over the possible spreads", () => {
  const widened = widenedMixture(single(1, 0.3), [
    { weight: 0.4, deviation: 0.4 },
    { weight: 0.6, deviation: 1.2 },
  ]);
  const { mean, deviation } = mixtureMoments(widened);
  expect(mean).toBeCloseTo(1, 12);
  expect(deviation ** 2).toBeCloseTo(0.09 + 0.4 * 0.16 + 0.6 * 1.44, 12);
});

test.each([0, 1, -0.2, Number.NaN])("%d is no probability", (p) => {
  expect(() => mixtureQuantile(single(0, 1), p)).toThrow(CallError);
});
