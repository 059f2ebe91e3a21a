import { expect, test } from "vitest";
import { overDeviation } from "../../src/effects/over-deviation.js";
import { expectPrinted } from "./agreement.js";

/** Made up: mean, deviation, before then after, people, of the trained then the control group; correlation. */
const rows = [
  [31, 14.5, 38, 12, 20, 24, 13.5, 20.5, 15, 22, 0.45],
  [24, 3.2, 27, 4, 48, 25, 4.2, 25.5, 3.4, 40, 0.65],
  [0.52, 0.12, 0.71, 0.13, 9, 0.6, 0.2, 0.63, 0.18, 8, 0.78],
  [54, 14, 75, 5, 10, 56, 17, 60, 18, 11, 0.88],
  [36, 4.6, 36.5, 4.8, 14, 34.9, 3.2, 33.5, 6.8, 15, 0.42],
] as const;

/** What Morris 2008 divides by what: one deviation and one correlation for both arms' changes. */
const contrasts = rows.map(([m1, s1, m2, , n, m3, s3, m4, , k, correlation]) => {
  const deviation = Math.sqrt(((n - 1) * s1 ** 2 + (k - 1) * s3 ** 2) / (n + k - 2));
  return {
    difference: m2 - m1 - (m4 - m3),
    variance: 2 * (1 - correlation) * (1 / n + 1 / k) * deviation ** 2,
    deviation,
    degreesOfFreedom: n + k - 2,
  };
});

test("independent: Morris 2008's formulas in base R, with the exact and the approximate factor", () => {
  // s <- sqrt(((n - 1) * s1^2 + (k - 1) * s3^2) / (n + k - 2)); f <- n + k - 2;
  // J <- gamma(f / 2) / (sqrt(f / 2) * gamma((f - 1) / 2)), or 1 - 3 / (4 * f - 1);
  // d <- J * ((m2 - m1) - (m4 - m3)) / s; q <- 2 * (1 - r) * (1 / n + 1 / k);
  // v <- J^2 * q * f / (f - 2) * (1 + d^2 / q) - d^2
  const exact = [
    ["0.73668031", "0.11357766"],
    ["0.67207901", "0.03497146"],
    ["0.93546346", "0.14223715"],
    ["1.04266119", "0.07961572"],
    ["0.46908203", "0.16786954"],
  ] as const;
  const approximate = [
    ["0.73669524", "0.11360455"],
    ["0.67208190", "0.03497566"],
    ["0.93560635", "0.14255851"],
    ["1.04275856", "0.07983975"],
    ["0.46910326", "0.16790504"],
  ] as const;
  contrasts.forEach((contrast, index) => {
    for (const [smallSample, values] of [
      ["exact", exact],
      ["approximate", approximate],
    ] as const) {
      const { estimate, variance } = overDeviation(contrast, smallSample);
      expectPrinted(estimate, values[index]![0]);
      expectPrinted(variance, values[index]![1]);
    }
  });
});

test("refuses two degrees of freedom, and a deviation of 0", () => {
  const [first] = contrasts;
  expect(() => overDeviation({ ...first!, degreesOfFreedom: 2 })).toThrow(/more than 2 degrees/);
  expect(() => overDeviation({ ...first!, deviation: 0 })).toThrow(/deviation above 0, got 0/);
});
