/** The fit of the multilevel model alone, without intervals, tests and story. */
import { CallError } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import { moderatorDesign, refuseAliased, type ModeratorDesign } from "./design-matrix.js";
import { fitBlocks, type BlockFit } from "./fit-blocks.js";
import { resolveLevels, type ResolvedLevels } from "./level-groups.js";
import {
  multilevelBlocks,
  samplingCovariance,
  type MultilevelBlocks,
  type SamplingCovariance,
} from "./multilevel-blocks.js";
import type { ResolvedMultilevelOptions } from "./multilevel-options.js";
import { orthonormalDesign } from "./orthonormal-design.js";
import type { SynthesisEffect } from "./synthesis-input.js";

/** The fit with everything it was made from; rows are the effects in use, in the caller's order. */
export type FittedMultilevel = Readonly<{
  rows: readonly SynthesisEffect[];
  design: ModeratorDesign;
  levels: ResolvedLevels;
  sampling: SamplingCovariance;
  blocks: MultilevelBlocks;
  fit: BlockFit;
  /** Every level asked for; zero where it could not be fitted. */
  varianceByLevel: Readonly<Record<string, number>>;
  /** M⁻¹X, rows × coefficients. */
  weightedDesign: Matrix;
  residuals: Float64Array;
}>;

/**
 * The multilevel model fitted to the effects that have a value of every moderator.
 *
 * @param where name of the calling function, for refusals
 * @throws {CallError} for effects, moderators or covariances that cannot be used
 * @throws {ConvergenceError} when the variance parts do not settle
 * @source none: the first half of fitMultilevel
 */
export const fittedMultilevel = (
  effects: readonly SynthesisEffect[],
  options: ResolvedMultilevelOptions,
  where: string,
): FittedMultilevel => {
  const design = moderatorDesign(effects, options, where);
  const rows = design.used.map((index) => effects[index]!);
  const n = rows.length;
  const p = design.matrix.columns;
  if (n <= p) {
    throw new CallError({
      code: "too-few-effects",
      where,
      needs: "more effects than coefficients",
      got: `${n} ${n === 1 ? "effect" : "effects"} and ${p} ${p === 1 ? "coefficient" : "coefficients"}`,
      try: p > 1 ? "use fewer moderators" : "pool a single effect with the two-level model",
    });
  }
  refuseAliased(design, orthonormalDesign([design.matrix]).aliased, where);
  const sampling = samplingCovariance(effects, options.knownCovariances, design.used, where);
  const levels = resolveLevels(rows, options.levels);
  const blocks = multilevelBlocks(
    Float64Array.from(rows, (row) => row.estimate),
    design.matrix,
    sampling,
    levels.fitted,
  );
  const fit = fitBlocks(blocks.blocks, {
    likelihood: options.heterogeneity,
    sharedIntercepts: blocks.sharedIntercepts,
    maxIterations: options.maxIterations,
  });
  const weighted = new Float64Array(n * p);
  const residuals = new Float64Array(n);
  blocks.rowsOf.forEach((places, block) => {
    const from = fit.weightedDesigns[block]!.values;
    places.forEach((row, i) => {
      weighted.set(from.subarray(i * p, (i + 1) * p), row * p);
      residuals[row] = fit.residuals[block]![i]!;
    });
  });
  const varianceByLevel: Record<string, number> = {};
  for (const level of options.levels) {
    const part = levels.fitted.findIndex((groups) => groups.level === level);
    varianceByLevel[level] = part < 0 ? 0 : fit.variances[part]!;
  }
  const weightedDesign = { ...design.matrix, values: weighted };
  return {
    ...{ rows, design, levels, sampling, blocks, fit },
    ...{ varianceByLevel, weightedDesign, residuals },
  };
};
