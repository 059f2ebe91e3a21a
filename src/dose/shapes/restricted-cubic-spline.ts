import type { Shape } from "./shape.js";

/**
 * Columns of a restricted cubic spline: cubic between knots, straight beyond the outer ones.
 *
 *   x, and for j = 1 … K − 2, with (u)₊ = max(u, 0):
 *   [(x − t_j)₊³ − (x − t_{K−1})₊³ (t_K − t_j)/(t_K − t_{K−1}) + (x − t_K)₊³ (t_{K−1} − t_j)/(t_K − t_{K−1})] / (t_K − t_1)²
 *
 * @param knots t_1 < … < t_K, K ≥ 3
 * @returns K − 1 values
 * @source Harrell (2001) Regression Modeling Strategies, equation 2.25
 */
export const restrictedCubicSplineBasis = (
  x: number,
  knots: readonly number[],
): readonly number[] => {
  const last = knots.at(-1)!;
  const beforeLast = knots.at(-2)!;
  const cube = (u: number): number => (u > 0 ? u ** 3 : 0);
  return [
    x,
    ...knots.slice(0, -2).map((knot) => {
      const bend =
        cube(x - knot) -
        (cube(x - beforeLast) * (last - knot)) / (last - beforeLast) +
        (cube(x - last) * (beforeLast - knot)) / (last - beforeLast);
      return bend / (last - knots[0]!) ** 2;
    }),
  ];
};

/** A smooth curve without a fixed form, straight beyond its outer knots. */
export const restrictedCubicSpline: Shape = {
  name: "restricted cubic spline",
  label: "restricted cubic spline",
  meaning: "a smooth curve without a fixed form, straight at both ends",
  columns: ({ knots }) => knots.length - 1,
  basis: (dose, { knots, unit }) =>
    restrictedCubicSplineBasis(dose, knots).map((value) => value / unit),
};
