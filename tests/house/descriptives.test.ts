import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { mean, median, quantile, sampleVariance, sum } from "simple-statistics";

// Tables and checks take these from a package: another definition in a later version would change what they print.
describe("sums and descriptions of a list", () => {
  // identity: exact sums that plain addition misses
  test("keep what plain addition loses", () => {
    expect(sum([1e16, 1, -1e16])).toBe(1);
    expect(sum(Array<number>(10).fill(0.1))).toBe(1);
    expect(sum([])).toBe(0);
  });
  test("do not depend on the order", () => {
    const values = fc.array(
      fc.integer({ min: -1e9, max: 1e9 }).map((v) => v / 1024),
      { minLength: 1 },
    );
    fc.assert(
      fc.property(values, (list) => {
        expect(sum([...list].reverse())).toBe(sum(list));
      }),
      { seed: 16 },
    );
  });
  // identity: worked by hand; a shift changes no variance
  test("describe a list", () => {
    expect(mean([1, 2, 6])).toBe(3);
    expect(sampleVariance([1, 2, 3, 4])).toBeCloseTo(5 / 3, 15);
    expect(sampleVariance([1e9 + 1, 1e9 + 2, 1e9 + 3])).toBe(1);
    expect(quantile([4, 1, 3, 2], 0.5)).toBe(2.5);
    expect(quantile([10, 20, 30], 0.25)).toBe(15);
    expect(median([7, 1, 3])).toBe(3);
    expect(median([4, 1, 3, 2])).toBe(2.5);
    expect(quantile([5], 0.9)).toBe(5);
    expect(quantile([3, 1, 2], 0)).toBe(1);
    expect(quantile([3, 1, 2], 1)).toBe(3);
  });
});
