/** Cluster-robust inference for the multilevel model, clustered by study. */
import type { Note } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import {
  biasReducedClusterRobust,
  simpleClusterRobust,
  type ClusterRobust,
} from "./cluster-robust.js";
import type { FittedMultilevel } from "./fit-multilevel.js";
import { coefficient, termTests } from "./inference.js";
import { sampledTogether } from "./multilevel-blocks.js";
import type { ResolvedMultilevelOptions } from "./multilevel-options.js";
import type { Coefficient, MultilevelResult } from "./synthesis-results.js";

type RobustAnswer = Readonly<{ result: MultilevelResult["robust"]; notes: readonly Note[] }>;

/** Below this many degrees of freedom the bias-reduced test is not to be relied on. */
const trustedFreedom = 4;

/**
 * Robust coefficients, their joint tests and the robust average; null with a note where too few
 * studies stand behind them.
 *
 * Studies that share known sampling covariances are one cluster.
 *
 * @source Tipton (2015) Psychological Methods 20:375–393 (fewer than four degrees of freedom)
 */
export const multilevelRobust = (
  fitted: FittedMultilevel,
  options: ResolvedMultilevelOptions,
  weightedDesign: Matrix,
  residuals: Float64Array,
): RobustAnswer => {
  if (options.robust === "none") return { result: null, notes: [] };
  const { design, fit } = fitted;
  const p = design.matrix.columns;
  const { clusters, joined } = clustersOf(fitted);
  const input = {
    design: design.matrix,
    weightedDesign,
    covariance: fit.covariance,
    residuals,
    clusters,
    covarianceOf: (rows: readonly number[]) => marginalCovariance(fitted, rows),
    crossing: crossingGroups(fitted, clusters),
  };
  const notes: Note[] = joined
    ? [
        {
          code: "studies-joined",
          message:
            "studies that share sampling covariances are one cluster in the robust standard errors",
        },
      ]
    : [];
  const unavailable: RobustAnswer = {
    result: null,
    notes: [
      ...notes,
      {
        code: "robust-unavailable",
        message: `robust standard errors need more studies than these (${clusters.length} for ${p} ${p === 1 ? "coefficient" : "coefficients"}), so none are given`,
      },
    ],
  };
  if (clusters.length < 2) return unavailable;
  const robust =
    options.robust === "simple" ? simpleClusterRobust(input) : biasReducedClusterRobust(input);
  if (robust === undefined) return unavailable;
  const contrasts = Array.from({ length: p }, (_, j) =>
    Float64Array.from({ length: p }, (_unused, i) => (i === j ? 1 : 0)),
  );
  const centre = centreOf(design.matrix);
  const rowsOfTable = contrasts.map((contrast, j) =>
    robustCoefficient(
      robust,
      contrast,
      design.columnNames[j]!,
      fit.coefficients,
      options.confidence,
    ),
  );
  const average = robustCoefficient(
    robust,
    centre,
    "average",
    fit.coefficients,
    options.confidence,
  );
  if (average === undefined || rowsOfTable.some((row) => row === undefined)) return unavailable;
  const coefficients = rowsOfTable as readonly Coefficient[];
  const lowest = Math.min(...coefficients.map((row) => row.degreesOfFreedom));
  if (options.robust === "bias-reduced-satterthwaite" && lowest < trustedFreedom) {
    notes.push({
      code: "robust-few-degrees-of-freedom",
      message: `robust tests rest on as few as ${lowest.toFixed(1)} degrees of freedom; below four they are not to be relied on`,
    });
  }
  const tests = (columns: readonly number[]) => robust.jointTest(fit.coefficients, columns);
  return {
    result: {
      correction:
        options.robust === "simple"
          ? "sandwich times m/(m − p), Student t with m − p degrees of freedom"
          : "bias-reduced with Satterthwaite degrees of freedom",
      clusters: clusters.length,
      coefficients,
      omnibus: p === 1 ? null : tests(Array.from({ length: p - 1 }, (_, j) => j + 1)),
      ...(p === 1 ? {} : { termTests: termTests(design.terms, tests) }),
      average,
    },
    notes,
  };
};

const robustCoefficient = (
  robust: ClusterRobust,
  contrast: Float64Array,
  term: string,
  estimates: Float64Array,
  confidence: number,
): Coefficient | undefined => {
  const degreesOfFreedom = robust.degreesOfFreedom(contrast);
  let estimate = 0;
  let variance = 0;
  const p = contrast.length;
  for (let a = 0; a < p; a++) {
    estimate += contrast[a]! * estimates[a]!;
    for (let b = 0; b < p; b++) {
      variance += contrast[a]! * robust.covariance.values[a * p + b]! * contrast[b]!;
    }
  }
  if (!(degreesOfFreedom > 1e-3)) return undefined;
  const row = coefficient(
    term,
    estimate,
    Math.sqrt(Math.max(0, variance)),
    degreesOfFreedom,
    confidence,
  );
  return Number.isFinite(row.interval.low) && Number.isFinite(row.interval.high) ? row : undefined;
};

const centreOf = (design: Matrix): Float64Array => {
  const centre = new Float64Array(design.columns);
  design.values.forEach((value, at) => (centre[at % design.columns]! += value / design.rows));
  return centre;
};

/** Rows by study, studies joined where known covariances cross them; in text order of the study. */
const clustersOf = (fitted: FittedMultilevel) => {
  const { rows, sampling } = fitted;
  const parent = new Map<string, string>();
  const root = (study: string): string => {
    const up = parent.get(study);
    return up === undefined || up === study ? study : root(up);
  };
  for (const row of rows) parent.set(row.study, row.study);
  let joined = false;
  for (const { indices } of sampling.known) {
    for (const index of indices) {
      const [a, b] = [root(rows[indices[0]!]!.study), root(rows[index]!.study)];
      if (a === b) continue;
      joined = true;
      parent.set(b, a);
    }
  }
  const byStudy = new Map<string, number[]>();
  rows.forEach((row, index) => {
    const key = root(row.study);
    const list = byStudy.get(key);
    if (list === undefined) byStudy.set(key, [index]);
    else list.push(index);
  });
  return { clusters: [...byStudy.values()], joined };
};

/** M for some rows: sampling covariance plus the variance of every group two rows share. */
const marginalCovariance = (fitted: FittedMultilevel, rows: readonly number[]): Matrix => {
  const { sampling, levels, fit } = fitted;
  const n = rows.length;
  const values = new Float64Array(n * n);
  rows.forEach((a, i) => {
    rows.forEach((b, j) => {
      let total = sampledTogether(sampling, a, b);
      levels.fitted.forEach((level, k) => {
        if (level.groupOf[a] === level.groupOf[b]) total += fit.variances[k]!;
      });
      values[i * n + j] = total;
    });
  });
  return { rows: n, columns: n, values };
};

const crossingGroups = (fitted: FittedMultilevel, clusters: readonly (readonly number[])[]) => {
  const clusterOf = new Int32Array(fitted.rows.length);
  clusters.forEach((rows, cluster) => rows.forEach((row) => (clusterOf[row] = cluster)));
  return fitted.levels.fitted.flatMap((level, k) => {
    const variance = fitted.fit.variances[k]!;
    if (variance === 0) return [];
    const members = Array.from({ length: level.groups }, () => [] as number[]);
    level.groupOf.forEach((group, row) => members[group]!.push(row));
    return members
      .filter((rows) => rows.some((row) => clusterOf[row] !== clusterOf[rows[0]!]))
      .map((rows) => ({ variance, rows }));
  });
};
