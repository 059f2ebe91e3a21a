/**
 * The linear mixed model behind every dose question: random intercepts for study, arm and effect, known
 * sampling covariances, any design. What does not depend on the design is prepared once, so that
 * many designs on the same effects cost one fit each and nothing more.
 */
import type { Note } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import type { LikelihoodKind } from "../synthesis/block-likelihood.js";
import type { LikelihoodBlock } from "../synthesis/block-problem.js";
import { biasReducedClusterRobust, type ClusterRobust } from "../synthesis/cluster-robust.js";
import { fitBlocks, type BlockFit } from "../synthesis/fit-blocks.js";
import { resolveLevels } from "../synthesis/level-groups.js";
import {
  multilevelBlocks,
  sampledTogether,
  samplingCovariance,
} from "../synthesis/multilevel-blocks.js";
import { multilevelLevels, type MultilevelLevel } from "../synthesis/multilevel-options.js";
import { orthonormalDesign } from "../synthesis/orthonormal-design.js";
import type { KnownCovariance, SynthesisEffect } from "../synthesis/synthesis-input.js";
import { heldLikelihoodOf, type HeldLikelihood } from "./held-likelihood.js";
import { rowsOf } from "./row-matrices.js";
import { studyClusters } from "./study-clusters.js";

export type MixedFit = Readonly<{
  coefficients: Float64Array;
  /** Model-based, coefficients × coefficients. */
  covariance: Matrix;
  logLikelihood: number;
  /** Variance by level that could be told apart. */
  varianceByLevel: Readonly<Record<string, number>>;
  fit: BlockFit;
}>;

export type MixedModel = Readonly<{
  effects: readonly SynthesisEffect[];
  studies: number;
  /** Random intercepts fitted, outermost first. */
  levels: readonly string[];
  notes: readonly Note[];
  /**
   * @param design effects × coefficients, rows in the order of the effects
   * @param fixed variance parts held at these values
   */
  fit: (
    design: Matrix,
    options?: Readonly<{
      likelihood?: LikelihoodKind;
      start?: ArrayLike<number>;
      fixed?: ArrayLike<number>;
    }>,
  ) => MixedFit;
  /**
   * Full log likelihood of designs at variance parts held as they are, for searches over designs; −Infinity
   * for a design with aliased columns, or with a coefficient that should be above zero and is not.
   */
  heldLikelihood: (variances: ArrayLike<number>) => HeldLikelihood;
  /** Cluster-robust inference by study for a fit of this design; undefined for a single cluster. */
  robust: (design: Matrix, fit: MixedFit) => ClusterRobust | undefined;
  /** Columns that are sums of the columns before them. */
  aliased: (design: Matrix) => readonly number[];
}>;

/**
 * Effects ready to be fitted with any design.
 *
 * @param effects two or more; study, arm and effect ids as they stand
 * @param covariances known sampling covariances
 * @throws {CallError} "bad-covariance" when a covariance block cannot be used
 * @source none: preparation for fitBlocks
 */
export const mixedModel = (
  effects: readonly SynthesisEffect[],
  covariances: readonly KnownCovariance[],
  levels: readonly MultilevelLevel[] = multilevelLevels,
): MixedModel => {
  const n = effects.length;
  const resolved = resolveLevels(effects, levels);
  const sampling = samplingCovariance(
    effects,
    covariances,
    effects.map((_, index) => index),
    "doseResponse",
  );
  const bare = multilevelBlocks(
    Float64Array.from(effects, (effect) => effect.estimate),
    { rows: n, columns: 1, values: new Float64Array(n).fill(1) },
    sampling,
    resolved.fitted,
  );
  const blocksOf = (design: Matrix): readonly LikelihoodBlock[] =>
    bare.blocks.map((block, index) => ({
      ...block,
      design: rowsOf(design, bare.rowsOf[index]!),
    }));
  const fit: MixedModel["fit"] = (design, options = {}) => {
    const { likelihood = "restricted-maximum-likelihood", start, fixed } = options;
    const found = fitBlocks(blocksOf(design), {
      likelihood,
      sharedIntercepts: bare.sharedIntercepts,
      ...(start === undefined ? {} : { starts: [Array.from(start)] }),
      ...(fixed === undefined ? {} : { fixed: Array.from(fixed) }),
    });
    return {
      coefficients: found.coefficients,
      covariance: found.covariance,
      logLikelihood: found.logLikelihood,
      varianceByLevel: Object.fromEntries(
        resolved.fitted.map(({ level }, part) => [level, found.variances[part]!]),
      ),
      fit: found,
    };
  };
  const heldLikelihood: MixedModel["heldLikelihood"] = (variances) =>
    bare.sharedIntercepts.length > 0
      ? (design, mustRise) => {
          if (orthonormalDesign([design]).aliased.length > 0) return -Infinity;
          const held = fit(design, { likelihood: "maximum-likelihood", fixed: variances });
          const falls = mustRise !== undefined && !(held.coefficients[mustRise]! > 0);
          return falls ? -Infinity : held.logLikelihood;
        }
      : heldLikelihoodOf(bare, variances);
  const clusters = studyClusters(
    effects.map(({ study }) => study),
    sampling.known,
    resolved.fitted.map(({ groupOf }) => groupOf),
  );
  const robust: MixedModel["robust"] = (design, mixed) => {
    if (clusters.length < 2) return undefined;
    const p = design.columns;
    const weighted = new Float64Array(n * p);
    const residuals = new Float64Array(n);
    bare.rowsOf.forEach((rows, block) => {
      const from = mixed.fit.weightedDesigns[block]!.values;
      rows.forEach((row, i) => {
        weighted.set(from.subarray(i * p, (i + 1) * p), row * p);
        residuals[row] = mixed.fit.residuals[block]![i]!;
      });
    });
    return biasReducedClusterRobust({
      design,
      weightedDesign: { ...design, values: weighted },
      covariance: mixed.covariance,
      residuals,
      clusters,
      covarianceOf: (rows) => {
        const size = rows.length;
        const values = new Float64Array(size * size);
        rows.forEach((a, i) => {
          rows.forEach((b, j) => {
            let total = sampledTogether(sampling, a, b);
            resolved.fitted.forEach(({ groupOf }, part) => {
              if (groupOf[a] === groupOf[b]) total += mixed.fit.variances[part]!;
            });
            values[i * size + j] = total;
          });
        });
        return { rows: size, columns: size, values };
      },
      crossing: [],
    });
  };
  return {
    effects,
    studies: new Set(effects.map(({ study }) => study)).size,
    levels: resolved.fitted.map(({ level }) => level),
    notes: resolved.notes,
    fit,
    heldLikelihood,
    robust,
    aliased: (design) => orthonormalDesign([design]).aliased,
  };
};
