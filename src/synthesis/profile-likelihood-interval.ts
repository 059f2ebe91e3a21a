/** Interval of a variance part from the likelihood's fall on both sides of its top. */
import { CallError } from "../errors.js";
import { chiSquaredQuantile } from "../numeric/chi-squared.js";
import { findRoot } from "../numeric/find-root.js";
import type { LikelihoodBlock } from "./block-problem.js";
import { profileOfBlocks, type BlockFit, type FitBlocksOptions } from "./fit-blocks.js";
import type { Interval } from "./synthesis-results.js";

/**
 * Profile-likelihood interval of one variance part.
 *
 *   { θ_k : 2 (ℓ(θ̂) − max over the other parts of ℓ(θ_k, ·)) ≤ χ²(confidence; 1) },  low end 0 where it reaches the bound
 *
 * @param blocks the fitted blocks
 * @param fit the fit at the top
 * @param part which variance part
 * @param confidence between 0 and 1
 * @param options the options of the fit
 * @returns the interval, in the unit of the variances
 * @throws {CallError} "flat-likelihood" when the likelihood does not fall on the upper side
 * @source Hardy and Thompson (1996) Statistics in Medicine 15:619–629
 */
export const profileLikelihoodInterval = (
  blocks: readonly LikelihoodBlock[],
  fit: BlockFit,
  part: number,
  confidence: number,
  options: FitBlocksOptions,
): Interval => {
  const profile = profileOfBlocks(blocks, options);
  const limit = chiSquaredQuantile(confidence, 1);
  const start = Array.from(fit.variances);
  const beyond = (value: number): number => {
    const fixed = start.map((_, k) => (k === part ? value : undefined));
    return 2 * (fit.logLikelihood - profile(fixed, start).logLikelihood) - limit;
  };
  const top = fit.variances[part]!;
  let total = 0;
  for (const variance of fit.variances) total += variance;
  const low = top === 0 || beyond(0) <= 0 ? 0 : findRoot(beyond, 0, top, { tolerance: 1e-9 });
  let inner = top;
  let outer = top > 0 ? 2 * top : Math.max(total, typicalVariance(blocks)) * 0.1;
  for (let attempt = 0; ; attempt++) {
    if (beyond(outer) > 0) break;
    if (attempt === 60) {
      throw new CallError({
        code: "flat-likelihood",
        where: "profileLikelihoodInterval",
        needs: "a likelihood that falls as the variance grows",
        got: `one that is flat up to ${outer}`,
      });
    }
    inner = outer;
    outer *= 3;
  }
  return { low, high: findRoot(beyond, inner, outer, { tolerance: 1e-9 }) };
};

const typicalVariance = (blocks: readonly LikelihoodBlock[]): number => {
  let total = 0;
  let count = 0;
  for (const { covariance } of blocks) {
    for (let i = 0; i < covariance.rows; i++) total += covariance.values[i * covariance.rows + i]!;
    count += covariance.rows;
  }
  return total / count;
};
