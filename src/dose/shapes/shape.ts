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
