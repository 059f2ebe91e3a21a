/** Cluster-robust inference for the multilevel model, clustered by study. */
import type { Note } from "../errors.js";
import { disjointSets } from "../numeric/disjoint-sets.js";
import type { Matrix } from "../numeric/matrix.js";
import { biasReducedClusterRobust, simpleClusterRobust, soleCluster } from "./cluster-robust.js";
import type { FittedMultilevel } from "./fitted-multilevel.js";
import type { ModeratorDesign } from "./design-matrix.js";
import {
  coefficient,
  contrastEstimate,
  designCentre,
  designInference,
  unitContrast,
  type ContrastInference,
} from "./inference.js";
import { sampledTogether } from "./multilevel-blocks.js";
import type { ResolvedMultilevelOptions } from "./multilevel-options.js";
import type { Coefficient, RobustInference } from "./synthesis-results.js";

/** Below this many degrees of freedom the bias-reduced test is not to be relied on. */
const trustedFreedom = 4;

/** Robust inference about any contrast of the coefficients. */
export type RobustContrasts = ContrastInference &
  Readonly<{
    correction: string;
    clusters: number;
    /** The study, or studies sampled together, without which the contrast could not be estimated. */
    restsOn: (contrast: ArrayLike<number>) => string | undefined;
    notes: readonly Note[];
  }>;

/**
 * Robust inference about contrasts of a fit, or undefined where too few studies stand behind it.
 *
 * Studies that share known sampling covariances are one cluster. A contrast that cannot be estimated
 * without one cluster has no robust error: that cluster's residual is zero whatever the truth, so the
 * sandwich would count its error as nothing.
 *
 * @source none: bookkeeping around the cluster-robust covariance
 */
export const robustContrasts = (
  fitted: FittedMultilevel,
  options: ResolvedMultilevelOptions,
): RobustContrasts | undefined => {
  const { design, fit, weightedDesign, residuals } = fitted;
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
  const simple = options.robust === "simple";
  if (options.robust === "none" || clusters.length < 2) return undefined;
  const robust = simple ? simpleClusterRobust(input) : biasReducedClusterRobust(input);
  if (robust === undefined) return undefined;
  const sole = soleCluster(input);
  const restsOn = (contrast: ArrayLike<number>) => {
    const cluster = sole(contrast);
    if (cluster === undefined) return undefined;
    return [...new Set(clusters[cluster]!.map((row) => fitted.rows[row]!.study))].join(" with ");
  };
  return {
    correction: simple
      ? "sandwich times m/(m − p), Student t with m − p degrees of freedom"
      : "bias-reduced with Satterthwaite degrees of freedom",
    clusters: clusters.length,
    of: (term, contrast) => {
      const degreesOfFreedom = robust.degreesOfFreedom(contrast);
      if (!(degreesOfFreedom > 0.5) || restsOn(contrast) !== undefined) return undefined;
      const { estimate, standardError } = contrastEstimate(
        contrast,
        fit.coefficients,
        robust.covariance,
      );
      const own = contrastEstimate(contrast, fit.coefficients, fit.covariance).standardError;
      return standardError > noSpread * own
        ? coefficient(term, estimate, standardError, degreesOfFreedom, options.confidence)
        : undefined;
    },
    restsOn,
    test: (columns) =>
      columns.some((column) => restsOn(unitContrast(p, column)) !== undefined)
        ? null
        : robust.jointTest(fit.coefficients, columns),
    notes: joined
      ? [
          {
            code: "studies-joined",
            message:
              "studies that share sampling covariances are one cluster in the robust standard errors",
          },
        ]
      : [],
  };
};

/** A robust error below this share of the model's own is none: studies that agree to the last digit. */
const noSpread = 1e-7;

/**
 * Robust coefficients, their joint tests and the robust average, with a note on each that the studies
 * cannot give; null where they can give none.
 *
 * @source none: the robust covariance, term by term
 */
export const multilevelRobust = (
  fitted: FittedMultilevel,
  options: ResolvedMultilevelOptions,
): Readonly<{ result: RobustInference | null; notes: readonly Note[] }> => {
  if (options.robust === "none") return { result: null, notes: [] };
  const { design } = fitted;
  const p = design.matrix.columns;
  const robust = robustContrasts(fitted, options);
  const parts = robust === undefined ? undefined : designInference(design, robust);
  const alone = robust === undefined ? [] : restingOnOne(robust, design);
  if (
    robust === undefined ||
    parts === undefined ||
    (parts.coefficients.length === 0 && parts.average === undefined)
  ) {
    const clusters = clustersOf(fitted).clusters.length;
    return {
      result: null,
      notes: [
        ...(robust?.notes ?? []),
        ...alone,
        {
          code: "robust-unavailable",
          message:
            robust === undefined
              ? `robust standard errors need more studies than these (${clusters} for ${p} ${p === 1 ? "coefficient" : "coefficients"}), so none are given`
              : "robust standard errors are made of differences between studies, and there are none here to make them of",
        },
      ],
    };
  }
  return {
    result: {
      correction: robust.correction,
      clusters: robust.clusters,
      coefficients: parts.coefficients,
      omnibus: parts.omnibus,
      termTests: parts.termTests,
      ...(parts.average === undefined ? {} : { average: parts.average }),
    },
    notes: [...robust.notes, ...alone, ...fewFreedomNote(parts.coefficients, options)],
  };
};

/**
 * A note where bias-reduced tests rest on fewer than four degrees of freedom.
 * @source Tipton (2015) Psychological Methods 20:375–393
 */
export const fewFreedomNote = (
  rows: readonly Coefficient[],
  options: Pick<ResolvedMultilevelOptions, "robust">,
): readonly Note[] => {
  const lowest = Math.min(...rows.map((row) => row.degreesOfFreedom));
  return options.robust !== "bias-reduced-satterthwaite" || lowest >= trustedFreedom
    ? []
    : [
        {
          code: "robust-few-degrees-of-freedom",
          message: `robust tests rest on as few as ${lowest.toFixed(1)} degrees of freedom; below four they are not to be relied on`,
        },
      ];
};

/** One note for each study that terms rest on alone. */
const restingOnOne = (robust: RobustContrasts, design: ModeratorDesign): readonly Note[] => {
  const { columnNames, matrix } = design;
  const byStudy = new Map<string, string[]>();
  const look = (term: string, contrast: ArrayLike<number>) => {
    const study = robust.restsOn(contrast);
    if (study !== undefined) byStudy.set(study, [...(byStudy.get(study) ?? []), term]);
  };
  columnNames.forEach((term, j) => {
    look(term, unitContrast(matrix.columns, j));
  });
  if (columnNames.length > 1) look("average", designCentre(matrix));
  return [...byStudy].map(([study, names]) => ({
    code: "rests-on-one-study",
    message: `${names.join(", ")} ${names.length === 1 ? "rests" : "rest"} on ${study} alone: one study cannot show how studies differ, so no cluster-robust interval or test is given there`,
    study,
  }));
};

/** Rows by study, studies joined where known covariances cross them; in order of their first rows. */
const clustersOf = ({ rows, sampling }: FittedMultilevel) => {
  const together = disjointSets(rows.length);
  together.uniteAlike(rows.map(({ study }) => study));
  const studies = together.groups().length;
  for (const { indices } of sampling.known) {
    for (const index of indices) together.unite(indices[0]!, index);
  }
  const clusters = together.groups();
  return { clusters, joined: clusters.length < studies };
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
