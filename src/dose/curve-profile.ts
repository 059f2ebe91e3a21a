/** The likelihood of one curved parameter along its range, and the limits it gives. */
import type { Interval } from "../synthesis/synthesis-results.js";
import { findRoot } from "../numeric/find-root.js";
import { minimiseScalar } from "../numeric/minimise-scalar.js";
import type { BlockFit } from "../synthesis/fit-blocks.js";

/** Limits of a parameter; null where the data set none on that side. */
export type OpenInterval = Readonly<{ low: number | null; high: number | null }>;

const gridSize = 28;

/** A parameter's likelihood along its range. */
export type CurveProfile = Readonly<{
  parameter: number;
  edge: "low" | "high" | undefined;
  fit: BlockFit;
  /** Places looked at, ascending, with their likelihoods. */
  places: readonly number[];
  heights: readonly number[];
}>;

/**
 * The likelihood of a parameter on a lattice even on the logarithm, and its highest place, refined.
 *
 * @param fitAt fit at a given parameter
 * @param range ends, above 0
 * @source none: search on a lattice, then minimiseScalar
 */
export const curveProfile = (
  fitAt: (parameter: number) => BlockFit,
  { low, high }: Interval,
): CurveProfile => {
  const places = Array.from(
    { length: gridSize },
    (_, i) => low * (high / low) ** (i / (gridSize - 1)),
  );
  const fits = places.map(fitAt);
  const heights = fits.map(({ logLikelihood }) => logLikelihood);
  let top = 0;
  heights.forEach((height, i) => {
    if (height > heights[top]!) top = i;
  });
  const refined = minimiseScalar(
    (logarithm) => -fitAt(Math.exp(logarithm)).logLikelihood,
    Math.log(places[Math.max(0, top - 1)]!),
    Math.log(places[Math.min(gridSize - 1, top + 1)]!),
    { tolerance: 1e-7 },
  );
  const better = -refined.value > heights[top]!;
  const parameter = better ? Math.exp(refined.x) : places[top]!;
  const near = (end: number) => Math.abs(Math.log(parameter / end)) < 1e-4;
  return {
    parameter,
    edge: near(low) ? "low" : near(high) ? "high" : undefined,
    fit: better ? fitAt(parameter) : fits[top]!,
    places,
    heights,
  };
};

/**
 * Places on either side of the best parameter where twice the fall of the log-likelihood reaches a limit.
 *
 * @param profile where to look
 * @param fitAt   fit at a given parameter
 * @param highest log-likelihood at the best parameter
 * @param options limit of twice the fall; variances to start from and how to set them
 * @source none: definition of profile likelihood limits
 */
export const profileLimits = (
  { parameter, places, heights }: CurveProfile,
  fitAt: (parameter: number) => BlockFit,
  highest: number,
  options: Readonly<{
    limit: number;
    start: ArrayLike<number>;
    reset: (variances: ArrayLike<number>) => void;
  }>,
): OpenInterval => {
  const { limit } = options;
  const fall = (height: number) => 2 * (highest - height) - limit;
  const side = (direction: 1 | -1): number | null => {
    const outward = places
      .map((place, i) => ({ place, fall: fall(heights[i]!) }))
      .filter(({ place }) => direction * (place - parameter) > 0);
    if (direction === -1) outward.reverse();
    const beyond = outward.findIndex((one) => one.fall > 0);
    if (beyond === -1) return null;
    const fallAt = (logarithm: number): number => fall(fitAt(Math.exp(logarithm)).logLikelihood);
    // From these variances a fit may be better than the one that the place had from others: then further out.
    for (let outer = beyond; outer < outward.length; outer += 1) {
      const inner = Math.log(outer === 0 ? parameter : outward[outer - 1]!.place);
      const end = Math.log(outward[outer]!.place);
      options.reset(options.start);
      if (fallAt(inner) >= 0) return Math.exp(inner);
      if (fallAt(end) <= 0) continue;
      options.reset(options.start);
      return Math.exp(findRoot(fallAt, inner, end, { tolerance: 1e-5 }));
    }
    return null;
  };
  return { low: side(-1), high: side(1) };
};
