import type { Matrix } from "../numeric/matrix.js";

/** The fit as cluster-robust inference needs it; rows in any order, clusters as lists of rows. */
export type ClusterRobustInput = Readonly<{
  /** rows × coefficients. */
  design: Matrix;
  /** M⁻¹X, rows × coefficients. */
  weightedDesign: Matrix;
  /** (X'M⁻¹X)⁻¹. */
  covariance: Matrix;
  residuals: Float64Array;
  clusters: readonly (readonly number[])[];
  /** M for the rows of one cluster. */
  covarianceOf: (rows: readonly number[]) => Matrix;
  /** Random intercepts whose groups span clusters: their variance and rows. */
  crossing: readonly Readonly<{ variance: number; rows: readonly number[] }>[];
}>;
