/** How a curve enters the mixed model: inside studies with the studies' means apart, or on the doses themselves. */
import type { Matrix } from "../numeric/matrix.js";
import { studyMeansOf, type DoseData } from "./dose-data.js";

/** Which comparisons a curve is made of. */
export type CurveUse = "within studies" | "between studies only" | "within and between together";

export type CurveDesign = Readonly<{
  /** Level, curve columns, and for curves within studies the studies' mean dose. */
  design: Matrix;
  /** Number of curve columns; they stand at 1 … curveColumns. */
  curveColumns: number;
  /** What is taken off each column when the curve is read at a dose: its mean over studies. */
  centres: readonly number[];
}>;

/**
 * The design for a set of columns.
 *
 *   within studies:    y_ij = α + Σ_k b_k (f_k(x_ij) − mean_i f_k) + g (m_i − m̄)
 *   otherwise:         y_ij = α + Σ_k b_k (f_k(x_ij) − f̄_k)
 *
 * mean_i is taken over the arms of study i, m_i is their mean dose and bars are means over studies; α is
 * therefore the gain of the average study, and the curve at x is α + Σ b_k (f_k(x) − f̄_k). The studies'
 * mean doses keep a straight line of their own in every shape, so that shapes are told apart by what happens
 * inside studies only.
 *
 * @param columns values of the curve's columns at a dose
 * @source none: group-mean centring, see withinBetweenSlope
 */
export const curveDesign = (
  data: DoseData,
  use: CurveUse,
  columns: (dose: number) => readonly number[],
): CurveDesign => {
  const n = data.effects.length;
  const raw = Array.from(data.doses, columns);
  const q = raw[0]?.length ?? 0;
  const withMeans = use === "within studies" && data.support.distinctMeans > 1;
  const p = 1 + q + (withMeans ? 1 : 0);
  const values = new Float64Array(n * p);
  for (let row = 0; row < n; row++) values[row * p] = 1;
  const firstRows = firstOfStudies(data);
  const overStudies = (list: Float64Array): number =>
    firstRows.reduce((total, row) => total + list[row]!, 0) / firstRows.length;
  const centres: number[] = [];
  for (let k = 0; k < q; k++) {
    const column = Float64Array.from(raw, (row) => row[k]!);
    const means = studyMeansOf(data.effects, data.doses, column);
    const centre = overStudies(means);
    centres.push(centre);
    for (let row = 0; row < n; row++) {
      values[row * p + 1 + k] = column[row]! - (use === "within studies" ? means[row]! : centre);
    }
  }
  if (withMeans) {
    const centre = overStudies(data.studyMeans);
    const unit = Math.max(...Array.from(data.studyMeans, (mean) => Math.abs(mean - centre)));
    for (let row = 0; row < n; row++) {
      values[row * p + p - 1] = (data.studyMeans[row]! - centre) / unit;
    }
  }
  return { design: { rows: n, columns: p, values }, curveColumns: q, centres };
};

const firstOfStudies = ({ effects }: DoseData): readonly number[] => {
  const first = new Map<string, number>();
  effects.forEach(({ study }, row) => {
    if (!first.has(study)) first.set(study, row);
  });
  return [...first.values()];
};
