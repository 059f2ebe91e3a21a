import { studentTQuantile } from "../numeric/student-t.js";
import { demanded } from "./arm-summary.js";

const peopleFrom = (least: number, where: string, value: number): number =>
  demanded(value, { where, needs: `at least ${least} participants`, holds: (v) => v >= least });

/**
 * Standard deviation of the people behind a mean's standard error.
 *
 *   s = SE·√n
 *
 * @param mean  standard error of the mean, 0 or more, and participants
 * @returns deviation in the same unit
 * @source none: definition of the standard error of a mean
 */
export const standardDeviationFromStandardError = (
  mean: Readonly<{ standardError: number; participants: number }>,
): number => {
  const where = "standardDeviationFromStandardError";
  demanded(mean.standardError, {
    where,
    needs: "a standard error of 0 or more",
    holds: (v) => v >= 0,
  });
  return mean.standardError * Math.sqrt(peopleFrom(1, where, mean.participants));
};

/**
 * Standard deviation of the people behind the half-width of a mean's interval.
 *
 *   s = √n·h / t(n−1)      t = quantile of Student's t at the interval's upper limit
 *
 * @param interval  half-width (upper limit less the mean), participants (2 or more), per cent covered
 * @returns deviation in the same unit
 * @source Cochrane Handbook for Systematic Reviews of Interventions, chapter 6 (deviations from intervals)
 */
export const standardDeviationFromHalfWidth = (
  interval: Readonly<{ halfWidth: number; participants: number; percent?: number }>,
): number => {
  const where = "standardDeviationFromHalfWidth";
  const people = peopleFrom(2, where, interval.participants);
  demanded(interval.halfWidth, { where, needs: "a half-width of 0 or more", holds: (v) => v >= 0 });
  const quantile = intervalQuantile(interval.percent ?? 95, people - 1);
  return (Math.sqrt(people) * interval.halfWidth) / quantile;
};

/**
 * Standard deviation of the people behind a mean's interval.
 *
 *   s = √n·(U − L) / (2·t(n−1))
 *
 * @param interval  limits low < high, participants (2 or more), per cent covered
 * @returns deviation in the same unit
 * @source Cochrane Handbook for Systematic Reviews of Interventions, chapter 6 (deviations from intervals)
 */
export const standardDeviationFromInterval = (
  interval: Readonly<{ low: number; high: number; participants: number; percent?: number }>,
): number =>
  standardDeviationFromHalfWidth({
    halfWidth: (interval.high - interval.low) / 2,
    participants: interval.participants,
    ...(interval.percent === undefined ? {} : { percent: interval.percent }),
  });

/**
 * Quantile of Student's t at the upper limit of a two-sided interval.
 *
 * @source none: definition
 */
export const intervalQuantile = (percent: number, degreesOfFreedom: number): number => {
  demanded(percent, {
    where: "intervalQuantile",
    needs: "an interval covering more than 0 and less than 100 per cent",
    holds: (value) => value > 0 && value < 100,
  });
  return studentTQuantile((1 - percent / 100) / 2, degreesOfFreedom, "upper");
};
