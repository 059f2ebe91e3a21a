import type { CurveForm } from "./one-parameter-curve.js";

export const timeCourseNames = ["rising and flattening", "straight line", "logarithm"] as const;
export type TimeCourseName = (typeof timeCourseNames)[number];

/**
 * Share of the final gain after some weeks: ½ at the half time.
 *
 *   share = 1 − exp(−weeks / timeConstant)
 *
 * @param weeks since baseline, 0 or more
 * @param timeConstant weeks to 63 % of the final gain, above 0
 * @source none: exponential approach
 */
export const shareReached = (weeks: number, timeConstant: number): number =>
  -Math.expm1(-weeks / timeConstant);

/**
 * Courses a gain can take from nothing at baseline; each is one level times a share.
 *
 * @param first earliest week measured
 * @param last latest week measured
 */
export const timeCourseForms = (
  first: number,
  last: number,
): Readonly<Record<TimeCourseName, CurveForm>> => ({
  "rising and flattening": {
    share: shareReached,
    slope: (weeks, timeConstant) => -(weeks / timeConstant) * Math.exp(-weeks / timeConstant),
    range: { low: first / 6, high: longestTold * last },
  },
  "straight line": { share: (weeks) => weeks / last },
  logarithm: { share: (weeks) => Math.log1p(weeks) / Math.log1p(last) },
});

/** A time constant longer than so many times the last week is a straight line as far as the data go. */
export const longestTold = 2;
