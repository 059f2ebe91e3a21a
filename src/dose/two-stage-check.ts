import { CallError, refusal, type Refusal } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import { cholesky, inverseFromCholesky } from "../numeric/cholesky.js";
import { sampledTogether, samplingCovariance } from "../synthesis/multilevel-blocks.js";
import { coefficient } from "../synthesis/inference.js";
import type { Coefficient } from "../synthesis/synthesis-results.js";
import type { DoseData } from "./dose-data.js";
import { fewestStudiesWithin } from "./identifiability.js";
import { pooledCurve, type PooledCurve } from "./referent-curves.js";

/** The two-stage answer for one set of columns: a curve in each study with doses enough, then pooled. */
export type TwoStageAnswer = Readonly<{
  kind: "told";
  pooled: PooledCurve;
  /** Studies with a curve of their own. */
  studies: number;
}>;

/** The straight line's slope per unit of the axis by the two-stage route. */
export type TwoStageCheck =
  | Readonly<{ kind: "told"; slope: Coefficient; studies: number; betweenDeviation: number }>
  | Refusal;

/**
 * Two-stage pooling of columns: in each study with doses enough, generalised least squares with a level of the
 * study's own and its sampling covariances; then the multivariate average of the curves.
 *
 * @param columns  values of the columns at a dose
 * @source Crippa and Orsini (2016) BMC Medical Research Methodology 16:91
 */
export const twoStageCurve = (
  data: DoseData,
  columns: (dose: number) => readonly number[],
): TwoStageAnswer | Refusal => {
  const sampling = samplingCovariance(
    data.effects,
    data.covariances,
    data.effects.map((_, row) => row),
    "twoStageCurve",
  );
  const byStudy = new Map<string, number[]>();
  data.effects.forEach(({ study }, row) => {
    const rows = byStudy.get(study);
    if (rows === undefined) byStudy.set(study, [row]);
    else rows.push(row);
  });
  const q = columns(data.doses[0] ?? 0).length;
  const curves = [...byStudy].flatMap(([study, rows]) => {
    const distinct = new Set(rows.map((row) => data.doses[row]!));
    if (distinct.size < q + 1) return [];
    const n = rows.length;
    const p = q + 1;
    const design = Float64Array.from(rows.flatMap((row) => [1, ...columns(data.doses[row]!)]));
    const covariance = Float64Array.from(
      rows.flatMap((a) => rows.map((b) => sampledTogether(sampling, a, b))),
    );
    const curve = ownCurve(
      { rows: n, columns: p, values: design },
      { rows: n, columns: n, values: covariance },
      rows.map((row) => data.effects[row]!.estimate),
    );
    return curve === undefined ? [] : [{ study, ...curve }];
  });
  if (curves.length < fewestStudiesWithin) {
    return refusal(
      "too-few-studies",
      `the two-stage form needs ${fewestStudiesWithin} studies with ${q + 1} distinct doses each, there are ${curves.length}`,
    );
  }
  const pooled = pooledCurve(
    curves.map(({ study, estimates, covariance }) => ({
      study,
      estimates,
      columns: {
        rows: q,
        columns: q,
        values: Float64Array.from({ length: q * q }, (_, at) =>
          at % q === Math.floor(at / q) ? 1 : 0,
        ),
      },
      covariance,
    })),
  );
  return { kind: "told", pooled, studies: curves.length };
};

/** The straight line by the two-stage route, beside which the one-stage slope can be looked at. */
export const twoStageCheck = (data: DoseData, confidence: number): TwoStageCheck => {
  const span = data.support.highest - data.support.lowest || 1;
  try {
    const answer = twoStageCurve(data, (dose) => [dose / span]);
    if (answer.kind === "refusal") return answer;
    const { coefficients, covariance, betweenCovariance } = answer.pooled;
    return {
      kind: "told",
      studies: answer.studies,
      betweenDeviation: Math.sqrt(betweenCovariance.values[0]!) / span,
      slope: coefficient(
        "two-stage",
        coefficients[0]! / span,
        Math.sqrt(covariance.values[0]!) / span,
        answer.studies - 1,
        confidence,
      ),
    };
  } catch (error) {
    if (error instanceof CallError)
      return { kind: "refusal", code: error.code, reason: error.message };
    throw error;
  }
};

/** Coefficients after the level, and their covariance; undefined where the study's doses are aliased. */
const ownCurve = (design: Matrix, covariance: Matrix, y: readonly number[]) => {
  const factor = cholesky(covariance);
  if (factor === undefined) return undefined;
  const inverse = inverseFromCholesky(factor);
  const { rows: n, columns: p } = design;
  const information = new Float64Array(p * p);
  const score = new Float64Array(p);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const weight = inverse.values[i * n + j]!;
      for (let a = 0; a < p; a++) {
        score[a]! += design.values[i * p + a]! * weight * y[j]!;
        for (let b = 0; b < p; b++) {
          information[a * p + b]! += design.values[i * p + a]! * weight * design.values[j * p + b]!;
        }
      }
    }
  }
  const inner = cholesky({ rows: p, columns: p, values: information });
  if (inner === undefined) return undefined;
  const full = inverseFromCholesky(inner);
  const q = p - 1;
  return {
    estimates: Float64Array.from({ length: q }, (_, a) => {
      let total = 0;
      for (let b = 0; b < p; b++) total += full.values[(a + 1) * p + b]! * score[b]!;
      return total;
    }),
    covariance: {
      rows: q,
      columns: q,
      values: Float64Array.from(
        { length: q * q },
        (_, at) => full.values[(Math.floor(at / q) + 1) * p + (at % q) + 1]!,
      ),
    },
  };
};
