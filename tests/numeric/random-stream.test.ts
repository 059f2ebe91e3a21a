import { describe, expect, test } from "vitest";
import { chiSquaredProbability } from "../../src/numeric/chi-squared.js";
import { normalProbability } from "../../src/numeric/normal.js";
import { randomStream } from "../../src/numeric/random-stream.js";

const many = (count: number, draw: () => number): number[] => Array.from({ length: count }, draw);

/** Probability of counts as uneven as these when each bin is equally likely. */
const evenness = (bins: readonly number[]): number => {
  const expected = bins.reduce((total, count) => total + count, 0) / bins.length;
  const statistic = bins.reduce((total, count) => total + (count - expected) ** 2 / expected, 0);
  return chiSquaredProbability(statistic, bins.length - 1, "upper");
};

const binned = (values: readonly number[], bins: number): number[] => {
  const counts = Array<number>(bins).fill(0);
  for (const value of values) {
    const bin = Math.floor(value * bins);
    counts[bin] = (counts[bin] ?? 0) + 1;
  }
  return counts;
};

describe("randomStream", () => {
  test("gives the same numbers for the same seed and others for another", () => {
    const draws = (seed: number): number[] => many(20, randomStream(seed).uniform);
    expect(draws(7)).toEqual(draws(7));
    const firsts = new Set([0, 1, 2, -1, 2 ** 32, 2 ** 32 + 1, 7].map((seed) => draws(seed)[0]));
    expect(firsts.size).toBe(7);
  });

  // independent: goodness of fit; the seeds are fixed, so the outcome is too
  test("is uniform, normal and even", () => {
    for (const seed of [1, 2, 3]) {
      const random = randomStream(seed);
      expect(evenness(binned(many(100_000, random.uniform), 100))).toBeGreaterThan(1e-3);
      const normals = many(100_000, random.normal);
      expect(
        evenness(
          binned(
            normals.map((z) => normalProbability(z)),
            100,
          ),
        ),
      ).toBeGreaterThan(1e-3);
      const whole = many(60_000, () => random.integer(6));
      expect(
        evenness(
          binned(
            whole.map((value) => value / 6),
            6,
          ),
        ),
      ).toBeGreaterThan(1e-3);
    }
  });

  // identity: each of the six orders of three is equally likely
  test("shuffles fairly and leaves the list alone", () => {
    const random = randomStream(5);
    const items = ["a", "b", "c"] as const;
    const counts = new Map<string, number>();
    for (let i = 0; i < 30_000; i++) {
      const order = random.shuffle(items).join("");
      counts.set(order, (counts.get(order) ?? 0) + 1);
    }
    expect(counts.size).toBe(6);
    expect(evenness([...counts.values()])).toBeGreaterThan(1e-3);
    expect(items).toEqual(["a", "b", "c"]);
    expect(random.shuffle([])).toEqual([]);
  });

  test("splits into streams that share nothing, also when split again", () => {
    const parent = randomStream(11);
    const first = parent.split();
    const second = parent.split();
    const third = first.split();
    const all = [parent, first, second, third].map((stream) => many(2000, stream.uniform));
    expect(new Set(all.flat()).size).toBe(8000);
    for (let i = 0; i < all.length; i++) {
      for (let j = 0; j < i; j++) {
        const products = (all[i] ?? []).map(
          (value, k) => 12 * (value - 0.5) * ((all[j]?.[k] ?? NaN) - 0.5),
        );
        const correlation = products.reduce((total, value) => total + value, 0) / products.length;
        expect(Math.abs(correlation)).toBeLessThan(4 / Math.sqrt(2000));
      }
    }
  });
});

describe("refuses", () => {
  test("a seed that is not a whole number", () => {
    expect(() => randomStream(0.5)).toThrow(
      "randomStream requires a whole number as seed, got 0.5",
    );
    expect(() => randomStream(NaN)).toThrow("got NaN");
  });
  test("an empty range", () => {
    expect(() => randomStream(1).integer(0)).toThrow(
      "integer requires the limit to be a whole number",
    );
  });
});
