/**
 * Independent: base R (through webr) as the referee of every distribution function, on grids that reach
 * into both far tails.
 *
 * Where R is known to be the weaker side, the comparison says so and takes another road: log-gamma beside its
 * zeros at 1 and 2 (R keeps absolute, not relative accuracy there), the quantiles of t and F in far tails and at
 * large degrees of freedom (R stops its iteration early, or passes to a chi-squared limit), which are judged by R's own
 * probability of our quantile instead.
 */
import { describe, expect, test } from "vitest";
import { chiSquaredProbability, chiSquaredQuantile } from "../../src/numeric/chi-squared.js";
import { erfc } from "../../src/numeric/error-function.js";
import { fProbability } from "../../src/numeric/f-distribution.js";
import { incompleteBeta } from "../../src/numeric/incomplete-beta.js";
import { incompleteGammaLower, incompleteGammaUpper } from "../../src/numeric/incomplete-gamma.js";
import { logBeta, logGamma } from "../../src/numeric/log-gamma.js";
import { at } from "../../src/numeric/matrix.js";
import { normalDensity, normalProbability, normalQuantile } from "../../src/numeric/normal.js";
import { studentTProbability, studentTQuantile } from "../../src/numeric/student-t.js";
import { quantile, sampleVariance } from "simple-statistics";
import { symmetricEigen } from "../../src/numeric/symmetric-eigen.js";
import { randomDefinite, randomMatrix } from "./random-matrix.js";
import { relativeError } from "./relative-error.js";
import { asR, baseR } from "../base-r.js";

const { numbers } = baseR();

const evaluated = (expression: string): Promise<readonly number[]> =>
  numbers(`suppressWarnings(${expression})`);

/** Every combination of one entry from each grid. */
const combinations = (grids: readonly (readonly number[])[]): number[][] =>
  grids.reduce<number[][]>(
    (done, grid) => done.flatMap((start) => grid.map((value) => [...start, value])),
    [[]],
  );

type Comparison = Readonly<{
  grids: readonly (readonly number[])[];
  /** R's expression for columns of arguments. */
  inR: (first: string, second: string, third: string) => string;
  ours: (first: number, second: number, third: number) => number;
  /** Relative error allowed, given R's value and the point. */
  room: (expected: number, point: readonly number[]) => number;
}>;

const agrees = async ({ grids, inR, ours, room }: Comparison): Promise<void> => {
  const points = combinations(grids);
  const columns = grids.map((_, k) => asR(points.map((point) => point[k] ?? NaN)));
  const expected = await evaluated(inR(columns[0] ?? "", columns[1] ?? "", columns[2] ?? ""));
  expect(expected.length).toBe(points.length);
  const misses = points.flatMap((point, i) => {
    const theirs = expected[i] ?? NaN;
    const mine = ours(point[0] ?? NaN, point[1] ?? NaN, point[2] ?? NaN);
    // below the smallest normal number neither side has all its digits
    if (Math.abs(theirs) < 1e-305 && Math.abs(mine) < 1e-305) return [];
    return relativeError(mine, theirs) <= room(theirs, point) ? [] : [{ point, theirs, mine }];
  });
  expect(misses).toEqual([]);
};

/** 10⁻¹³ down to 10⁻⁵⁰; beyond, the rounding of an exponent of several hundred shows on either side. */
const byTail = (p: number): number => (p > 1e-50 ? 1e-13 : 5e-13);

const tails = [
  ["lower", "TRUE"],
  ["upper", "FALSE"],
] as const;

const smallTails = [
  1e-300, 1e-200, 1e-100, 1e-50, 1e-20, 1e-10, 1e-5, 1e-3, 0.01, 0.05, 0.14, 0.16, 0.25, 0.3, 0.4,
  0.49,
];
const probabilities = [...smallTails, 0.499999, 0.51, 0.6, 0.75, 0.86, 0.95, 0.99, 0.999999];
const manyDegrees = [
  0.1, 0.5, 0.9, 1, 1.5, 2, 2.5, 4, 7, 20, 30.5, 100, 250, 1e3, 1e4, 1e5, 1e6, 1e8, 1e10,
];

describe("against base R", () => {
  test("log-gamma and log-beta: 3e-15 of their size", async () => {
    await agrees({
      grids: [
        [
          1e-300, 1e-10, 0.1, 0.3, 0.49, 0.51, 0.7, 0.9, 1.1, 1.4, 1.5, 1.6, 1.9, 2.1, 2.5, 2.6,
          4.4, 7, 9.99, 10, 20, 171.5, 1e6, 1e100, 1e300, -0.5, -1.5, -10.3,
        ],
      ],
      inR: (x) => `lgamma(${x})`,
      ours: logGamma,
      room: () => 3e-15,
    });
    await agrees({
      grids: [
        [1e-5, 0.1, 0.5, 1, 2.5, 9, 10.5, 50, 1e3, 1e5, 1e6, 1e8],
        [0.1, 0.5, 1, 3, 20, 1e3, 1e6],
      ],
      inR: (a, b) => `lbeta(${a},${b})`,
      ours: logBeta,
      room: (value) => 3e-15 * Math.max(1, 1 / Math.abs(value)),
    });
  });

  test("normal: 2e-15 in both tails out to ±38, quantiles down to 1e-300", async () => {
    const places = Array.from({ length: 206 }, (_, i) => -37.9 + 0.37 * i);
    for (const [tail, lower] of tails) {
      await agrees({
        grids: [places],
        inR: (x) => `pnorm(${x},lower.tail=${lower})`,
        ours: (x) => normalProbability(x, tail),
        room: () => 2e-15,
      });
      await agrees({
        grids: [smallTails],
        inR: (p) => `qnorm(${p},lower.tail=${lower})`,
        ours: (p) => normalQuantile(p, tail),
        room: () => 2e-15,
      });
    }
    await agrees({
      grids: [places],
      inR: (x) => `dnorm(${x})`,
      ours: normalDensity,
      room: () => 2e-15,
    });
    // R has no erfc; the argument of its stand-in is rounded, which costs 2x² machine epsilons
    await agrees({
      grids: [places.filter((x) => Math.abs(x) < 26)],
      inR: (x) => `2*pnorm(${x}*sqrt(2),lower.tail=FALSE)`,
      ours: erfc,
      room: (_, [x = 0]) => 2e-15 + 2.3e-16 * 2 * x * x,
    });
  });

  test("Student's t: 1e-13 for 0.1 to 1e10 degrees of freedom, 5e-13 beyond 1e-50", async () => {
    const places = [
      -1e10, -1000, -60, -38, -20, -10, -5, -3, -2, -1.5, -1, -0.7, -0.3, -0.01, -1e-8, 0, 1e-8,
      0.5, 1.2, 2.5, 4, 8, 30, 500,
    ];
    for (const [tail, lower] of tails) {
      await agrees({
        grids: [places, [...manyDegrees, Infinity]],
        inR: (t, n) => `pt(${t},${n},lower.tail=${lower})`,
        ours: (t, n) => studentTProbability(t, n, tail),
        room: byTail,
      });
    }
    await agrees({
      // R starts from one minus p above one half, and stops early below one degree of freedom
      grids: [smallTails.filter((p) => p > 1e-11 && p < 0.45), manyDegrees.filter((n) => n >= 1)],
      inR: (p, n) => `qt(${p},${n})`,
      ours: (p, n) => studentTQuantile(p, n),
      room: () => 1e-12,
    });
    for (const [tail, lower] of tails) {
      const points = combinations([probabilities, manyDegrees]).filter(([p = 0, n = 0]) =>
        Number.isFinite(studentTQuantile(p, n)),
      );
      const quantiles = points.map(([p = NaN, n = NaN]) => studentTQuantile(p, n, tail));
      const degrees = points.map(([, n = NaN]) => n);
      const back = await evaluated(`pt(${asR(quantiles)},${asR(degrees)},lower.tail=${lower})`);
      const misses = points.filter(
        ([p = NaN], i) => !(relativeError(back[i] ?? NaN, p) < 2 * byTail(p)),
      );
      expect(misses).toEqual([]);
    }
  });

  test("chi-squared: 1e-13 for 0.1 to 1e6 degrees of freedom, 5e-13 beyond 1e-50", async () => {
    const places = [
      1e-300, 1e-50, 1e-10, 1e-3, 0.1, 0.5, 1, 1.5, 2, 3.84, 5, 8, 12, 20, 50, 100, 240, 300, 700,
      1000, 1200, 9900, 10500, 1e5, 1.01e5, 998e3, 1e6, 1.005e6,
    ];
    const degrees = [0.1, 0.5, 1, 1.5, 2, 3, 5, 10, 30.5, 100, 250, 1e3, 1e4, 1e5, 1e6];
    for (const [tail, lower] of tails) {
      await agrees({
        grids: [places, degrees],
        inR: (x, n) => `pchisq(${x},${n},lower.tail=${lower})`,
        ours: (x, n) => chiSquaredProbability(x, n, tail),
        room: byTail,
      });
      await agrees({
        grids: [probabilities, degrees],
        inR: (p, n) => `qchisq(${p},${n},lower.tail=${lower})`,
        ours: (p, n) => chiSquaredQuantile(p, n, tail),
        room: byTail,
      });
    }
    const inGamma =
      (tail: string) =>
      (s: string, x: string): string =>
        `pgamma(${x},${s},lower.tail=${tail})`;
    await agrees({
      grids: [
        [0.3, 2.5, 14.9, 15.1, 70],
        [0.2, 3, 40, 160],
      ],
      inR: inGamma("TRUE"),
      ours: incompleteGammaLower,
      room: byTail,
    });
    await agrees({
      grids: [
        [0.3, 2.5, 14.9, 15.1, 70],
        [0.2, 3, 40, 160],
      ],
      inR: inGamma("FALSE"),
      ours: incompleteGammaUpper,
      room: byTail,
    });
  });

  test("F and beta: 4e-13 down to 1e-50, 1e-12 beyond, up to 1e6 degrees of freedom", async () => {
    const places = [1e-100, 1e-10, 1e-3, 0.1, 0.5, 0.9, 0.99, 1, 1.01, 1.2, 2, 4, 10, 50, 500, 1e6];
    const numerators = [0.5, 1, 2, 3, 7.5, 30, 200, 1e4, 1e5];
    const denominators = [0.5, 1, 2, 4, 7.3, 30, 250, 1e4, 1e5, 1e6, Infinity];
    const room = (p: number): number => (p > 1e-50 ? 4e-13 : 1e-12);
    for (const [tail, lower] of tails) {
      await agrees({
        grids: [places, numerators, denominators],
        inR: (f, m, n) => `pf(${f},${m},${n},lower.tail=${lower})`,
        ours: (f, m, n) => fProbability(f, m, n, tail),
        room,
      });
    }
    await agrees({
      grids: [
        [1e-12, 0.01, 0.3, 0.5, 0.8, 0.999],
        [0.3, 2, 14.9, 60, 5e3],
        [0.3, 2, 15.1, 90, 2e3],
      ],
      inR: (x, a, b) => `pbeta(${x},${a},${b},lower.tail=FALSE)`,
      ours: (x, a, b) => incompleteBeta(x, a, b, { upper: true }),
      room,
    });
  });

  test("eigenvalues and descriptions: 1e-11", async () => {
    const y = randomMatrix(25, 1, 6).values;
    const m = randomDefinite(7, 3);
    const values = await evaluated(`rev(eigen(matrix(${asR(m.values)},7),symmetric=TRUE)$values)`);
    const ours = symmetricEigen(m);
    values.forEach((value, i) =>
      expect(relativeError(ours.values[i] ?? NaN, value)).toBeLessThan(1e-11),
    );
    expect(at(ours.vectors, 0, 0)).not.toBeNaN();

    const list = asR(y);
    const [variance] = await evaluated(`var(${list})`);
    expect(relativeError(sampleVariance([...y]), variance ?? NaN)).toBeLessThan(1e-14);
    const cuts = [0, 0.1, 0.25, 0.5, 0.9, 1];
    const theirs = await evaluated(`quantile(${list}, ${asR(cuts)})`);
    cuts.forEach((p, i) =>
      expect(relativeError(quantile([...y], p), theirs[i] ?? NaN)).toBeLessThan(1e-14),
    );
  });
});
