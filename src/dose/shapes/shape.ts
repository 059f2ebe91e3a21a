import { quantile } from "simple-statistics";
import { CallError } from "../../errors.js";

/** One way a gain can follow a dose: a few columns, made from the dose and at most one further parameter. */
export type Shape = Readonly<{
  name: ShapeName;
  /** Lower case, as it stands in a sentence. */
  label: string;
  /** What it says, in plain words. */
  meaning: string;
  /** Number of columns, that is of coefficients besides the level. */
  columns: (context: ShapeContext) => number;
  /** Parameter the columns depend on in a curved way, searched over its candidates. */
  parameter?: Readonly<{
    label: string;
    /** `dose`: a place along the axis, refined between candidates; `listed`: only the candidates count. */
    kind: "dose" | "listed";
    candidates: (context: ShapeContext) => readonly number[];
    /** A candidate in words; the number itself where absent. */
    text?: (value: number) => string;
  }>;
  /** True when the first coefficient must be above zero for the shape to be what its name says. */
  rises?: boolean;
  /** True when the curve turns at its parameter all at once. */
  corner?: boolean;
  /** Values of the columns at a dose; `parameter` is ignored by shapes without one. */
  basis: (dose: number, context: ShapeContext, parameter: number) => readonly number[];
}>;

export const shapeNames = [
  "none",
  "straight line",
  "logarithm",
  "square root",
  "fractional polynomial",
  "fractional polynomial of second degree",
  "quadratic",
  "restricted cubic spline",
  "saturating hyperbola",
  "plateau",
  "peak",
] as const;
export type ShapeName = (typeof shapeNames)[number];

/** What the shapes need to know about the doses before any fitting. */
export type ShapeContext = Readonly<{
  low: number;
  high: number;
  /** Added to doses before logarithms and powers, so that all are above zero. */
  shift: number;
  /** Doses are divided by this, so that columns are near one. */
  unit: number;
  /** Knots of the spline, ascending. */
  knots: readonly number[];
}>;

/** Percentiles at which knots are placed, by number of knots (Harrell 2001, table 2.3). */
const knotPercentiles = {
  3: [0.1, 0.5, 0.9],
  4: [0.05, 0.35, 0.65, 0.95],
  5: [0.05, 0.275, 0.5, 0.725, 0.95],
} as const;

/** A knot needs this many distinct doses of its own before a fourth or fifth is placed. */
const dosesForFourKnots = 8;

const percentileKnots = (doses: readonly number[]): readonly number[] => {
  const distinct = [...new Set(doses)].sort((a, b) => a - b);
  const count = distinct.length >= dosesForFourKnots ? 4 : 3;
  const knots = knotPercentiles[count].map((p) => quantile(doses, p));
  if (new Set(knots).size === count) return knots;
  // Percentiles can coincide where many arms share a dose; distinct doses then stand for the arms.
  return knotPercentiles[3].map((p) => quantile(distinct, p));
};

/**
 * What the shapes need to know about a set of doses.
 *
 * Doses not above zero are shifted by the smallest gap between neighbouring doses before logarithms and
 * powers are taken (Royston and Altman 1994).
 *
 * @param doses  of the arms, in any order
 * @param knots  spline knots; by percentile of the arms where not given
 * @throws {CallError} "bad-knots" when given knots are not three or more ascending numbers
 * @source Harrell (2001) Regression Modeling Strategies, section 2.4.5; Royston and Altman (1994) Applied
 *   Statistics 43:429–467
 */
export const shapeContext = (doses: readonly number[], knots?: readonly number[]): ShapeContext => {
  const distinct = [...new Set(doses)].sort((a, b) => a - b);
  const low = distinct[0] ?? 0;
  const high = distinct.at(-1) ?? 0;
  if (
    knots !== undefined &&
    (knots.length < 3 || !knots.every((knot, i) => i === 0 || knots[i - 1]! < knot))
  ) {
    throw new CallError({
      code: "bad-knots",
      where: "dose-response",
      needs: "three or more knots in ascending order",
      got: knots.join(", ") || "none",
    });
  }
  const gaps = distinct.slice(1).map((dose, i) => dose - distinct[i]!);
  const shift =
    low > 0 ? 0 : Math.min(...gaps, Infinity) === Infinity ? 1 - low : Math.min(...gaps) - low;
  return {
    low,
    high,
    shift,
    unit: Math.max(Math.abs(low), Math.abs(high)) || 1,
    knots: knots ?? percentileKnots(doses),
  };
};
