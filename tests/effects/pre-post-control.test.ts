import { expect, test } from "vitest";
import { prePostControlByPooledBaseline } from "../../src/effects/pre-post-control.js";
import { expectPrinted, expectRelative } from "./agreement.js";

/** Made up: mean, deviation, before then after, people, of the trained then the control group; correlation. */
const rows = [
  [31, 14.5, 38, 12, 20, 24, 13.5, 20.5, 15, 22, 0.45],
  [24, 3.2, 27, 4, 48, 25, 4.2, 25.5, 3.4, 40, 0.65],
  [0.52, 0.12, 0.71, 0.13, 9, 0.6, 0.2, 0.63, 0.18, 8, 0.78],
  [54, 14, 75, 5, 10, 56, 17, 60, 18, 11, 0.88],
  [36, 4.6, 36.5, 4.8, 14, 34.9, 3.2, 33.5, 6.8, 15, 0.42],
] as const;

const arms = rows.map(([m1, s1, m2, s2, n, m3, s3, m4, s4, k, correlation]) => ({
  treated: {
    before: { mean: m1, deviation: s1 },
    after: { mean: m2, deviation: s2 },
    correlation,
    participants: n,
  },
  control: {
    before: { mean: m3, deviation: s3 },
    after: { mean: m4, deviation: s4 },
    correlation,
    participants: k,
  },
}));

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
  arms.forEach(({ treated, control }, index) => {
    for (const [smallSample, values] of [
      ["exact", exact],
      ["approximate", approximate],
    ] as const) {
      const { estimate, variance } = prePostControlByPooledBaseline(treated, control, {
        scatter: "equal-deviations",
        smallSample,
      });
      expectPrinted(estimate, values[index]![0]);
      expectPrinted(variance, values[index]![1]);
    }
  });
});

test("identity: with one deviation everywhere both ways to take the scatter agree", () => {
  const even = (mean: number, participants: number) => ({
    before: { mean: 100, deviation: 15 },
    after: { mean, deviation: 15 },
    correlation: 0.7,
    participants,
  });
  const own = prePostControlByPooledBaseline(even(115, 12), even(103, 14));
  const equal = prePostControlByPooledBaseline(even(115, 12), even(103, 14), {
    scatter: "equal-deviations",
  });
  expectRelative(own.variance, equal.variance, 1e-12);
});

test("identity: swapping the arms changes the sign only", () => {
  const { treated, control } = arms[1] ?? arms[0]!;
  const one = prePostControlByPooledBaseline(treated, control);
  const other = prePostControlByPooledBaseline(control, treated);
  expectRelative(other.estimate, -one.estimate, 1e-12);
  expectRelative(other.variance, one.variance, 1e-12);
});

test("refuses four people in all", () => {
  const small = { ...arms[0]!.treated, participants: 2 };
  expect(() => prePostControlByPooledBaseline(small, small)).toThrow(/at least 5 participants/);
});
