/** Effects whose true gains deviate in proportion to a curve: the linear model behind it and its robust errors. */
import type { Matrix } from "../numeric/matrix.js";
import type { LikelihoodKind } from "../synthesis/block-likelihood.js";
import type { LikelihoodBlock } from "../synthesis/block-problem.js";
import { biasReducedClusterRobust, type ClusterRobust } from "../synthesis/cluster-robust.js";
import { fitBlocks, type BlockFit } from "../synthesis/fit-blocks.js";
import {
  groupsByText,
  sampledTogether,
  samplingCovariance,
  type LevelGroups,
} from "../synthesis/multilevel-blocks.js";
import type { KnownCovariance, SynthesisEffect } from "../synthesis/synthesis-input.js";
import { rowsOf, square } from "./row-matrices.js";
import { studyClusters } from "./study-clusters.js";

export type CurveRows = Readonly<{
  effects: readonly SynthesisEffect[];
  covariances: readonly KnownCovariance[];
  x: ArrayLike<number>;
  /** What was measured, for each effect: rows of one arm and series share a level. */
  series: readonly string[];
}>;

export type ScaledModel = Readonly<{
  /** Names of the random parts, outermost first. */
  levels: readonly string[];
  studies: number;
  fit: (
    shares: ArrayLike<number>,
    design: Matrix,
    options: Readonly<{ likelihood: LikelihoodKind; start?: ArrayLike<number> }>,
  ) => BlockFit;
  robust: (shares: ArrayLike<number>, design: Matrix, fit: BlockFit) => ClusterRobust | undefined;
}>;

/**
 * Effects whose true gains deviate in proportion to the curve: each study, arm and series has its own
 * level, and the curve's shape is shared; what is left deviates by the same amount everywhere.
 *
 *   Var(y) = V + Σ_levels θ_level f f' within groups + θ_effect I,  f = share at each row
 *
 * @source none: preparation for fitBlocks
 */
export const scaledModel = (rows: CurveRows): ScaledModel => {
  const { effects, covariances, series } = rows;
  const n = effects.length;
  const positions = effects.map((_, index) => index);
  const sampling = samplingCovariance(effects, covariances, positions, "scaledModel");
  const studies = effects.map(({ study }) => study);
  const arms = effects.map(({ study, arm }) => arm ?? `unnamed arm of ${study}`);
  const levels = distinctLevels(
    [
      groupsByText("study", studies),
      groupsByText("arm", arms),
      groupsByText(
        "series",
        series.map((one, row) => `${arms[row]!}\u0000${one}`),
      ),
    ],
    n,
  );
  const clusters = studyClusters(studies, sampling.known);
  const names = [...levels.map(({ level }) => level), "effect_id"];
  const known = clusters.map((members) =>
    square(members, (a, b) => sampledTogether(sampling, a, b)),
  );
  const sum = (fit: BlockFit, shares: ArrayLike<number>, members: readonly number[]): Matrix =>
    square(members, (a, b) => {
      let total = sampledTogether(sampling, a, b);
      levels.forEach(({ groupOf }, part) => {
        if (groupOf[a] === groupOf[b]) total += fit.variances[part]! * shares[a]! * shares[b]!;
      });
      return a === b ? total + fit.variances[levels.length]! : total;
    });
  return {
    levels: names,
    studies: new Set(studies).size,
    fit: (shares, design, { likelihood, start }) => {
      const blocks = clusters.map((members, index): LikelihoodBlock => ({
        y: Float64Array.from(members, (row) => effects[row]!.estimate),
        design: rowsOf(design, members),
        covariance: known[index]!,
        components: [
          ...levels.map(({ groupOf }) =>
            square(members, (a, b) => (groupOf[a] === groupOf[b] ? shares[a]! * shares[b]! : 0)),
          ),
          square(members, (a, b) => (a === b ? 1 : 0)),
        ],
      }));
      return fitBlocks(blocks, {
        likelihood,
        ...(start === undefined ? {} : { starts: [Array.from(start)] }),
      });
    },
    robust: (shares, design, fit) => {
      if (clusters.length < 2) return undefined;
      const p = design.columns;
      const weighted = new Float64Array(n * p);
      const residuals = new Float64Array(n);
      clusters.forEach((members, block) => {
        const from = fit.weightedDesigns[block]!.values;
        members.forEach((row, i) => {
          weighted.set(from.subarray(i * p, (i + 1) * p), row * p);
          residuals[row] = fit.residuals[block]![i]!;
        });
      });
      return biasReducedClusterRobust({
        design,
        weightedDesign: { ...design, values: weighted },
        covariance: fit.covariance,
        residuals,
        clusters,
        covarianceOf: (members) => sum(fit, shares, members),
        crossing: [],
      });
    },
  };
};

/** Levels that group the rows each in a way of its own, neither all together nor every row apart. */
const distinctLevels = (levels: readonly LevelGroups[], n: number): readonly LevelGroups[] => {
  const kept: LevelGroups[] = [];
  for (const level of levels) {
    if (level.groups < 2 || level.groups === n) continue;
    // Each level is nested in the one before it, so an equal count of groups is an equal grouping.
    if (kept.some(({ groups }) => groups === level.groups)) continue;
    kept.push(level);
  }
  return kept;
};
