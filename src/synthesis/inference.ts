/** Estimates and standard errors to intervals, p values and joint tests. */
import { chiSquaredProbability } from "../numeric/chi-squared.js";
import { fProbability } from "../numeric/f-distribution.js";
import { multiplyVector, quadraticForm, submatrix, type Matrix } from "../numeric/matrix.js";
import { studentTProbability, studentTQuantile } from "../numeric/student-t.js";
import { symmetricPower } from "../numeric/symmetric-eigen.js";
import type { ModeratorDesign } from "./design-matrix.js";
import type { PredictionFreedom } from "./inference-choices.js";
import type {
  Coefficient,
  Inference,
  Interval,
  OmnibusTest,
  TermTest,
} from "./synthesis-results.js";

/**
 * Interval estimate ± quantile × standard error.
 *
 * @param degreesOfFreedom of Student's t; Infinity for the normal
 * @param confidence coverage, between 0 and 1
 * @source none: a definition
 */
export const symmetricInterval = (
  estimate: number,
  standardError: number,
  degreesOfFreedom: number,
  confidence: number,
): Interval => {
  const half =
    standardError === 0
      ? 0
      : studentTQuantile((1 - confidence) / 2, degreesOfFreedom, "upper") * standardError;
  return { low: estimate - half, high: estimate + half };
};

/**
 * Two-sided p value of an estimate against zero; 1 for an estimate of zero, 0 for any other without error.
 * @source none: a definition
 */
export const twoSidedP = (
  estimate: number,
  standardError: number,
  degreesOfFreedom: number,
): number => {
  if (estimate === 0) return 1;
  if (standardError === 0) return 0;
  const t = Math.abs(estimate / standardError);
  return Math.min(1, 2 * studentTProbability(t, degreesOfFreedom, "upper"));
};

/**
 * One coefficient with its interval and p value.
 * @source none: a definition
 */
export const coefficient = (
  term: string,
  estimate: number,
  standardError: number,
  degreesOfFreedom: number,
  confidence: number,
): Coefficient => ({
  term,
  estimate,
  standardError,
  interval: symmetricInterval(estimate, standardError, degreesOfFreedom, confidence),
  degreesOfFreedom,
  p: twoSidedP(estimate, standardError, degreesOfFreedom),
});

/**
 * b'C⁻¹b for the chosen coefficients, in units of their own standard errors so that scales do not matter.
 *
 * @param estimates all coefficients
 * @param covariance all × all
 * @param columns which of them
 * @source Wald (1943), Transactions of the American Mathematical Society 54:426–482
 */
export const waldStatistic = (
  estimates: ArrayLike<number>,
  covariance: Matrix,
  columns: readonly number[],
): number => {
  const chosen = submatrix(covariance, columns);
  const m = columns.length;
  const errors = columns.map((_, i) => Math.sqrt(Math.max(0, chosen.values[i * m + i]!)));
  if (errors.some((error) => error === 0)) {
    return columns.every((column) => estimates[column] === 0) ? 0 : Number.MAX_VALUE;
  }
  const scaled: Matrix = {
    ...chosen,
    values: chosen.values.map((v, at) => v / errors[Math.floor(at / m)]! / errors[at % m]!),
  };
  const ratios = columns.map((column, i) => estimates[column]! / errors[i]!);
  return quadraticForm(ratios, symmetricPower(scaled, -1, 1e-14));
};

/**
 * Joint test that the chosen coefficients are all zero; null when none is chosen.
 *
 *   F = b'C⁻¹b / m on (m, degrees of freedom); chi-squared on m for a normal reference
 *
 * @source Knapp and Hartung (2003) Statistics in Medicine 22:2693–2710
 */
export const jointTest = (
  estimates: ArrayLike<number>,
  covariance: Matrix,
  columns: readonly number[],
  degreesOfFreedom: number,
): OmnibusTest | null => {
  const m = columns.length;
  if (m === 0) return null;
  const wald = waldStatistic(estimates, covariance, columns);
  if (degreesOfFreedom === Infinity) {
    return {
      statistic: wald,
      kind: "chi-squared",
      numeratorDegreesOfFreedom: m,
      denominatorDegreesOfFreedom: Infinity,
      p: chiSquaredProbability(wald, m, "upper"),
    };
  }
  return {
    statistic: wald / m,
    kind: "F",
    numeratorDegreesOfFreedom: m,
    denominatorDegreesOfFreedom: degreesOfFreedom,
    p: fProbability(wald / m, m, degreesOfFreedom, "upper"),
  };
};

/**
 * x̄, the mean of the design's rows: the contrast whose value is the average, or the prediction there.
 * @param design its first column is the intercept's ones
 * @source none: a definition
 */
export const designCentre = (design: Matrix): Float64Array => {
  const p = design.columns;
  const centre = new Float64Array(p);
  design.values.forEach((value, at) => (centre[at % p]! += value / design.rows));
  centre[0] = 1;
  return centre;
};

/**
 * A contrast of the coefficients: c'β with variance c'Cc.
 * @source none: a definition
 */
export const contrastEstimate = (
  contrast: ArrayLike<number>,
  estimates: ArrayLike<number>,
  covariance: Matrix,
): Readonly<{ estimate: number; standardError: number }> => {
  const image = multiplyVector(covariance, contrast);
  let estimate = 0;
  let variance = 0;
  for (let j = 0; j < contrast.length; j++) {
    estimate += contrast[j]! * estimates[j]!;
    variance += contrast[j]! * image[j]!;
  }
  return { estimate, standardError: Math.sqrt(Math.max(0, variance)) };
};

/** What one way of inference says of any contrast c'β of a fit's coefficients. */
export type ContrastInference<Found extends Coefficient | undefined = Coefficient | undefined> =
  Readonly<{
    /** Undefined where the contrast has no error. */
    of: (term: string, contrast: ArrayLike<number>) => Found;
    /** Joint test that the chosen coefficients are zero; null where there is none. */
    test: (columns: readonly number[]) => OmnibusTest | null;
  }>;

/**
 * Inference from a model's own covariance.
 * @param covariance coefficients × coefficients
 * @param degreesOfFreedom of Student's t and of F; Infinity for the normal
 * @source none: the definitions above
 */
export const modelInference = (
  estimates: ArrayLike<number>,
  covariance: Matrix,
  degreesOfFreedom: number,
  confidence: number,
): ContrastInference<Coefficient> => ({
  of: (term, contrast) => {
    const { estimate, standardError } = contrastEstimate(contrast, estimates, covariance);
    return coefficient(term, estimate, standardError, degreesOfFreedom, confidence);
  },
  test: (columns) => jointTest(estimates, covariance, columns, degreesOfFreedom),
});

/**
 * One coefficient alone, as a contrast.
 * @source none: a definition
 */
export const unitContrast = (length: number, at: number): Float64Array => {
  const contrast = new Float64Array(length);
  contrast[at] = 1;
  return contrast;
};

/**
 * Everything of a design that an inference can speak of: the average (or the prediction at the mean of the
 * moderators), every coefficient, the joint test of all moderators and of each term.
 *
 * @source none: the inference, contrast by contrast
 */
export const designInference = <Found extends Coefficient | undefined>(
  design: ModeratorDesign,
  { of, test }: ContrastInference<Found>,
) => ({
  average: of("average", designCentre(design.matrix)),
  coefficients: design.columnNames.flatMap((term, j): NonNullable<Found> | readonly [] => {
    return of(term, unitContrast(design.columnNames.length, j)) ?? [];
  }),
  omnibus: test(design.columnNames.slice(1).map((_, j) => j + 1)),
  termTests: design.terms.flatMap(({ name, columns }): TermTest | readonly [] => {
    const answer = test(columns);
    return answer === null ? [] : { term: name, ...answer };
  }),
});

/**
 * Where the true effect of a further study would fall; null where no degree of freedom is left.
 *
 *   estimate ± t(degrees of freedom) · √(SE² + variance between true effects)
 *
 * @param average the average with its standard error and degrees of freedom
 * @param spread variance between true effects, all levels together
 * @param freedom of Student's t: as the average has them, or one fewer
 * @source Higgins, Thompson and Spiegelhalter (2009) Journal of the Royal Statistical Society A 172:137–159
 */
export const predictionRange = (
  average: Readonly<{ estimate: number; standardError: number; degreesOfFreedom: number }>,
  spread: number,
  freedom: PredictionFreedom,
  confidence: number,
): Interval | null => {
  const { estimate, standardError } = average;
  const left = average.degreesOfFreedom - (freedom === "one-fewer" ? 1 : 0);
  if (!(left > 1 - 1e-6)) return null;
  return symmetricInterval(estimate, Math.sqrt(spread + standardError ** 2), left, confidence);
};

/**
 * An average, its terms and its range as a result carries them; a plain average has no terms.
 * @source none: a change of form
 */
export const inferenceOf = (
  parts: Readonly<{ average: Coefficient }> & ReturnType<typeof designInference>,
  predictionInterval: Interval | null,
): Inference & Readonly<{ estimate: number }> => {
  const { term: _average, ...average } = parts.average;
  const { coefficients, omnibus, termTests } = parts;
  return {
    ...average,
    predictionInterval,
    coefficients: coefficients.length > 1 ? coefficients : [],
    omnibus,
    termTests,
  };
};
