import { expect, test } from "vitest";
import {
  expectedQuartileWidth,
  expectedRangeWidth,
  meanAndDeviationFromMedian,
} from "../../src/effects/mean-and-deviation-from-median.js";
import { normalProbability } from "../../src/numeric/normal.js";
import { integrate } from "../numeric/integrate.js";
import { expectPrinted, expectRelative } from "./agreement.js";

/** Expected range of a normal sample, by its defining integral: an independent route. */
const exactRange = (n: number): number =>
  integrate((x) => 1 - normalProbability(x) ** n - normalProbability(x, "upper") ** n, -10, 10);

test("published: expected ranges as printed (Wan 2014, Table 1), and the approximation to them for all n", () => {
  for (const [n, printed] of [
    [5, "2.326"],
    [10, "3.078"],
    [20, "3.735"],
    [25, "3.931"],
  ] as const) {
    expectPrinted(exactRange(n), printed);
  }
  // The approximation is a formula for all n; the paper's point is that it stays within about 1.5%.
  for (const n of [5, 10, 20, 50, 200]) {
    expectRelative(expectedRangeWidth(n), exactRange(n), 0.015);
  }
});

test("independent: expected interquartile widths for n = 5, 9, 13, 201, integrated by base R", () => {
  // Base R: twice the expectation of order statistic r = 3(n − 1)/4 + 1, by integrate() over
  // z n!/((r−1)!(n−r)!) Φ(z)^(r−1) (1 − Φ(z))^(n−r) φ(z). The closed form is within half a per cent of it.
  for (const [n, exact] of [
    [5, 0.990038],
    [9, 1.143942],
    [13, 1.2057],
    [201, 1.339563],
  ] as const) {
    expectRelative(expectedQuartileWidth(n), exact, 0.005);
  }
});

test("independent: the weights of Luo 2018, written out for 40 people", () => {
  const n = 40;
  const slow = n ** 0.75;
  const five = { median: 22, quartileLow: 15, quartileHigh: 33, minimum: 4, maximum: 60 };
  const { minimum, maximum, ...quartiles } = { ...five, participants: n };
  const byQuartiles = meanAndDeviationFromMedian(quartiles);
  const w = 0.7 + 0.39 / n;
  expectRelative(byQuartiles.mean, (w * (15 + 33)) / 2 + (1 - w) * 22, 1e-12);
  const byRange = meanAndDeviationFromMedian({ median: 22, minimum, maximum, participants: n });
  const v = 4 / (4 + slow);
  expectRelative(byRange.mean, (v * 64) / 2 + (1 - v) * 22, 1e-12);
  const byBoth = meanAndDeviationFromMedian({ ...five, participants: n });
  const [a, b] = [2.2 / (2.2 + slow), 0.7 - 0.72 / n ** 0.55];
  expectRelative(byBoth.mean, a * 32 + b * 24 + (1 - a - b) * 22, 1e-12);
  expectRelative(byBoth.deviation, (byQuartiles.deviation + byRange.deviation) / 2, 1e-12);
});

test("identity: a symmetric summary has its median as mean, whatever the weights", () => {
  const symmetric = { median: 20, quartileLow: 15, quartileHigh: 25, minimum: 2, maximum: 38 };
  expectRelative(meanAndDeviationFromMedian({ ...symmetric, participants: 30 }).mean, 20, 1e-12);
});

test("identity: in a large sample the quartiles of a normal lie 1.349 deviations apart", () => {
  expectPrinted(expectedQuartileWidth(1e7), "1.349");
});

test("refuses a lone median, and a median outside its quartiles", () => {
  expect(() => meanAndDeviationFromMedian({ median: 3, participants: 9 })).toThrow(
    /both quartiles/,
  );
  expect(() =>
    meanAndDeviationFromMedian({ median: 3, quartileLow: 4, quartileHigh: 9, participants: 9 }),
  ).toThrow(/median between .*4 and 9.* got 3/);
});
