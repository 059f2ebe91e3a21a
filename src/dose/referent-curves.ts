/** Curves through a referent: contrasts of a study's arms with one of them, curve by curve, then pooled. */
import { CallError, ConvergenceError } from "../errors.js";
import {
  cholesky,
  inverseFromCholesky,
  solveCholesky,
  solveCholeskyMatrix,
} from "../numeric/cholesky.js";
import { add, multiply, transpose, type Matrix } from "../numeric/matrix.js";
import { minimise } from "../numeric/minimise.js";

/** One study's contrasts with its referent arm. */
export type ReferentStudy = Readonly<{
  study: string;
  estimates: ArrayLike<number>;
  /** contrasts × columns: f(dose) − f(referent's dose). */
  columns: Matrix;
  /** contrasts × contrasts; the referent's own error stands in every element. */
  covariance: Matrix;
}>;

export type PooledCurve = Readonly<{
  coefficients: Float64Array;
  covariance: Matrix;
  /** Between-study covariance of the coefficients. */
  betweenCovariance: Matrix;
  logLikelihood: number;
  studies: number;
}>;

export type PooledCurveOptions = Readonly<{
  /** `full`: coefficients vary between studies with any covariance; `none`: they are the same in all. */
  variation?: "full" | "none";
  likelihood?: "restricted-maximum-likelihood" | "maximum-likelihood";
}>;

export const pooledCurveDefaults = {
  variation: "full",
  likelihood: "restricted-maximum-likelihood",
} as const satisfies Required<PooledCurveOptions>;

const where = "pooledCurve";

/**
 * One-stage pooling: all studies, those with too few doses for a curve of their own included.
 *
 *   y_i ~ N(Z_i b, S_i + Z_i Ψ Z_i'),  Ψ = L L'
 *
 * @source Crippa, Discacciati, Bottai, Spiegelman and Orsini (2019) Statistical Methods in Medical Research
 *   28:1579–1596
 */
export const pooledCurve = (
  studies: readonly ReferentStudy[],
  options: PooledCurveOptions = {},
): PooledCurve => {
  const { variation, likelihood } = { ...pooledCurveDefaults, ...options };
  const q = studies[0]?.columns.columns ?? 0;
  if (studies.length === 0 || q === 0) {
    throw new CallError({
      code: "no-studies",
      where,
      needs: "at least one study and one column",
      got: `${studies.length} studies and ${q} columns`,
    });
  }
  const restricted = likelihood === "restricted-maximum-likelihood";
  const answer = (psi: Matrix | undefined): PooledCurve => {
    const fit = atCovariance(studies, psi);
    return {
      coefficients: fit.coefficients,
      covariance: fit.covariance,
      betweenCovariance: psi ?? { rows: q, columns: q, values: new Float64Array(q * q) },
      logLikelihood: restricted ? fit.restricted : fit.full,
      studies: studies.length,
    };
  };
  if (variation === "none" || studies.length < 2) return answer(undefined);
  const common = atCovariance(studies, undefined);
  const scales = Array.from({ length: q }, (_, k) =>
    Math.sqrt(common.covariance.values[k * q + k]! * studies.length),
  );
  const height = (lower: readonly number[]): number => {
    const fit = atCovariance(studies, covarianceFrom(lower, scales));
    return -(restricted ? fit.restricted : fit.full);
  };
  const size = (q * (q + 1)) / 2;
  const starts = [1, 0.3, 0.05].map((share) => {
    const start = new Array<number>(size).fill(0);
    for (let k = 0; k < q; k++) start[(k * (k + 3)) / 2] = share;
    return start;
  });
  const ends = starts.map((start) => minimise(height, start, { tolerance: 1e-9 }));
  const best = ends.reduce((top, end) => (end.value < top.value ? end : top));
  if (!Number.isFinite(best.value)) {
    throw new ConvergenceError({
      where,
      iterations: best.iterations,
      lastChange: Infinity,
      tolerance: 1e-9,
      try: "use fewer columns or variation none",
    });
  }
  return answer(covarianceFrom(best.x, scales));
};

/** Ψ = D L L' D with D the scales, so that the search runs near one. */
const covarianceFrom = (lower: readonly number[], scales: readonly number[]): Matrix => {
  const q = scales.length;
  const root = new Float64Array(q * q);
  let place = 0;
  for (let i = 0; i < q; i++) {
    for (let j = 0; j <= i; j++) root[i * q + j] = scales[i]! * lower[place++]!;
  }
  const matrix: Matrix = { rows: q, columns: q, values: root };
  return multiply(matrix, transpose(matrix));
};

/** Generalised least squares with both likelihoods, constants left in. */
const atCovariance = (studies: readonly ReferentStudy[], psi: Matrix | undefined) => {
  const q = studies[0]!.columns.columns;
  const information = new Float64Array(q * q);
  const score = new Float64Array(q);
  let determinant = 0;
  let squares = 0;
  let rows = 0;
  for (const { study, estimates, columns, covariance } of studies) {
    const marginal =
      psi === undefined
        ? covariance
        : add(covariance, multiply(multiply(columns, psi), transpose(columns)));
    const factor = cholesky(marginal);
    if (factor === undefined) {
      throw new CallError({
        code: "bad-covariance",
        where,
        needs: "a positive definite covariance in every study",
        got: `one that is not in ${study}`,
      });
    }
    const y = Float64Array.from(estimates);
    const weighted = solveCholesky(factor, y);
    const weightedColumns = solveCholeskyMatrix(factor, columns);
    for (let i = 0; i < y.length; i++) {
      squares += y[i]! * weighted[i]!;
      for (let a = 0; a < q; a++) {
        score[a]! += columns.values[i * q + a]! * weighted[i]!;
        for (let b = 0; b < q; b++) {
          information[a * q + b]! +=
            columns.values[i * q + a]! * weightedColumns.values[i * q + b]!;
        }
      }
    }
    determinant += factor.logDeterminant;
    rows += y.length;
  }
  const factor = cholesky({ rows: q, columns: q, values: information });
  if (factor === undefined) {
    throw new CallError({
      code: "unidentified",
      where,
      needs: `at least ${q} distinct doses beside the referent`,
      got: `too few in ${studies.map(({ study }) => study).join(", ")}`,
    });
  }
  const coefficients = solveCholesky(factor, score);
  let explained = 0;
  for (let a = 0; a < q; a++) explained += coefficients[a]! * score[a]!;
  const residual = squares - explained;
  const log2Pi = Math.log(2 * Math.PI);
  return {
    coefficients,
    covariance: inverseFromCholesky(factor),
    full: -0.5 * (rows * log2Pi + determinant + residual),
    restricted: -0.5 * ((rows - q) * log2Pi + determinant + factor.logDeterminant + residual),
  };
};
