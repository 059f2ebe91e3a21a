import { describe, expect, test } from "vitest";
import {
  productRule,
  quadratureRegion,
  type LogDensity,
  type Limits,
} from "../../src/projection/quadrature-region.js";

/** ∫ exp(f), and the mean of each variable, by the rule in the region found. */
const integrated = (f: LogDensity, limits: readonly Limits[], start: number[], points: number) => {
  const region = quadratureRegion(f, limits, start);
  const { places, logWeights } = productRule(
    region,
    limits.map(() => points),
  );
  const masses = places.map((place, i) => Math.exp(f(place) + logWeights[i]!));
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  return {
    total,
    means: limits.map(
      (_, a) => masses.reduce((sum, mass, i) => sum + mass * places[i]![a]!, 0) / total,
    ),
  };
};

const wide: Limits = { low: -50, high: 50, mirrored: true };
const half: Limits = { low: 0, high: 50, mirrored: true };

describe("normal densities, whose integrals are known", () => {
  test("one variable", () => {
    const { total, means } = integrated(([x]) => -0.5 * ((x! - 3) / 0.2) ** 2, [wide], [1], 20);
    expect(total).toBeCloseTo(0.2 * Math.sqrt(2 * Math.PI), 6);
    expect(means[0]).toBeCloseTo(3, 6);
  });

  test("four variables that lean on each other", () => {
    // x₁ = z₁, x₂ = 0.8x₁ + 0.6z₂, x₃ = −0.5x₂ + z₃, x₄ = x₁ + 0.5z₄: the integral is (2π)²·0.6·0.5
    const f: LogDensity = ([a, b, c, d]) =>
      -0.5 *
      (a! ** 2 + ((b! - 0.8 * a!) / 0.6) ** 2 + (c! + 0.5 * b!) ** 2 + ((d! - a!) / 0.5) ** 2);
    const { total } = integrated(f, [wide, wide, wide, wide], [0.5, 0.5, 0.5, 0.5], 9);
    // what lies outside the region is a few hundred-thousandths
    expect(Math.abs(total / ((2 * Math.PI) ** 2 * 0.3) - 1)).toBeLessThan(5e-4);
  });

  test("an edge at which the density is mirrored", () => {
    const { total, means } = integrated(([x]) => -0.5 * x! ** 2, [half], [0.5], 16);
    expect(total).toBeCloseTo(Math.sqrt(Math.PI / 2), 6);
    expect(means[0]).toBeCloseTo(Math.sqrt(2 / Math.PI), 2);
  });
});

test("an edge without a mirror takes Gauss–Legendre points", () => {
  // ∫ x·e^(−x²/2) = 1 from 0 up: the density has a slope at its edge
  const { total } = integrated(
    ([x]) => Math.log(x! + 1e-300) - 0.5 * x! ** 2,
    [{ low: 0, high: 50 }],
    [1],
    24,
  );
  expect(total).toBeCloseTo(1, 4);
});

test("no variable at all is one point of weight one", () => {
  const region = quadratureRegion(() => 0, [], []);
  const { places, logWeights } = productRule(region, []);
  expect(places).toEqual([[]]);
  expect(Array.from(logWeights)).toEqual([0]);
});
