/**
 * The linear mixed model behind every dose question: random intercepts for study, arm and effect, known
 * sampling covariances, any design. What does not depend on the design is prepared once, so that
 * many designs on the same effects cost one fit each and nothing more.
 */
import type { Note } from "../errors.js";
import { backSolve, cholesky, forwardSolve, forwardSolveMatrix } from "../numeric/cholesky.js";
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

export type MixedFit = Readonly<{
  coefficients: Float64Array;
  /** Model-based, coefficients × coefficients. */
  covariance: Matrix;
  logLikelihood: number;
  /** Variance by level that could be told apart. */
  varianceByLevel: Readonly<Record<string, number>>;
  fit: BlockFit;
}>;

export type HeldLikelihood = (design: Matrix, mustRise?: number) => number;

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
      : whitenedLikelihood(bare, variances);
  const clusters = clustersOf(
    n,
    sampling.known.map(({ indices }) => indices),
    resolved.fitted.map(({ groupOf }) => groupOf),
    effects.map(({ study }) => study),
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

/**
 * With M = LL' held, −½[n ln 2π + ln|M| + RSS], RSS of the regression of L⁻¹y on L⁻¹X.
 */
const whitenedLikelihood = (
  { blocks, rowsOf: rowsOfBlocks }: ReturnType<typeof multilevelBlocks>,
  variances: ArrayLike<number>,
): HeldLikelihood => {
  let constant = 0;
  let squares = 0;
  const whitened = blocks.map((block, index) => {
    const size = block.y.length;
    const values = Float64Array.from(block.covariance.values);
    block.components.forEach((component, part) => {
      component?.values.forEach((value, at) => (values[at]! += variances[part]! * value));
    });
    const factor = cholesky({ rows: size, columns: size, values });
    if (factor === undefined) return undefined;
    const y = forwardSolve(factor.lower, block.y);
    constant += size * Math.log(2 * Math.PI) + factor.logDeterminant;
    for (const value of y) squares += value * value;
    return { lower: factor.lower, y, rows: rowsOfBlocks[index]! };
  });
  return (design, mustRise) => {
    const p = design.columns;
    const information = new Float64Array(p * p);
    const score = new Float64Array(p);
    for (const block of whitened) {
      if (block === undefined) return -Infinity;
      const columns = forwardSolveMatrix(block.lower, rowsOf(design, block.rows)).values;
      for (let i = 0; i < block.y.length; i++) {
        for (let a = 0; a < p; a++) {
          const value = columns[i * p + a]!;
          score[a]! += value * block.y[i]!;
          for (let b = 0; b <= a; b++) information[a * p + b]! += value * columns[i * p + b]!;
        }
      }
    }
    // On the scale of correlations, so that aliasing does not depend on the columns' units.
    const lengths = Array.from({ length: p }, (_, a) => Math.sqrt(information[a * p + a]!));
    if (lengths.some((length) => !(length > 0))) return -Infinity;
    const scaled = new Float64Array(p * p);
    for (let a = 0; a < p; a++) {
      for (let b = 0; b < p; b++) {
        scaled[a * p + b] =
          information[Math.max(a, b) * p + Math.min(a, b)]! / lengths[a]! / lengths[b]!;
      }
    }
    const factor = cholesky({ rows: p, columns: p, values: scaled });
    if (factor === undefined || factor.logDeterminant < aliasedLogDeterminant) return -Infinity;
    const half = forwardSolve(
      factor.lower,
      score.map((value, a) => value / lengths[a]!),
    );
    if (mustRise !== undefined && !(backSolve(factor.lower, half)[mustRise]! > 0)) return -Infinity;
    let explained = 0;
    for (const value of half) explained += value * value;
    return -0.5 * (constant + squares - explained);
  };
};

/** Columns whose correlations have a smaller determinant than e to this are as good as dependent. */
const aliasedLogDeterminant = -32;

const rowsOf = (design: Matrix, rows: readonly number[]): Matrix => {
  const p = design.columns;
  const values = new Float64Array(rows.length * p);
  rows.forEach((row, i) => values.set(design.values.subarray(row * p, (row + 1) * p), i * p));
  return { rows: rows.length, columns: p, values };
};

/** Rows joined by a study, a known covariance or a random intercept: independent of all other rows. */
const clustersOf = (
  n: number,
  known: readonly (readonly number[])[],
  groupings: readonly Int32Array[],
  studies: readonly string[],
): readonly (readonly number[])[] => {
  const parent = Int32Array.from({ length: n }, (_, index) => index);
  const root = (index: number): number => {
    let at = index;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]!]!;
      at = parent[at]!;
    }
    return at;
  };
  const unite = (a: number, b: number): void => {
    const [left, right] = [root(a), root(b)];
    parent[Math.max(left, right)] = Math.min(left, right);
  };
  const firstOfStudy = new Map<string, number>();
  studies.forEach((study, row) => {
    const first = firstOfStudy.get(study);
    if (first === undefined) firstOfStudy.set(study, row);
    else unite(first, row);
  });
  for (const indices of known) for (const index of indices) unite(indices[0]!, index);
  for (const groupOf of groupings) {
    const first = new Map<number, number>();
    groupOf.forEach((group, row) => {
      const one = first.get(group);
      if (one === undefined) first.set(group, row);
      else unite(one, row);
    });
  }
  const clusters = new Map<number, number[]>();
  for (let row = 0; row < n; row++) {
    const list = clusters.get(root(row));
    if (list === undefined) clusters.set(root(row), [row]);
    else list.push(row);
  }
  return [...clusters.values()];
};
