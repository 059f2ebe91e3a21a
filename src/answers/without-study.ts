/** An average without one of its studies, by the same policy as the whole; and the study without which it moves most. */
import { leaveEachOut, type LeftOut, type RepeatedAnswer } from "../certainty/leave-each-out.js";
import type { Refusal } from "../errors.js";
import { inputSubset, studyAverage } from "../synthesis/effect-inputs.js";
import type { HeadlineResult, PooledResult } from "../synthesis/synthesis-results.js";
import { averageOf, isMultilevel, type AverageInput, type AverageOptions } from "./average.js";

/** Variances by level, as a study's own average takes them. */
export const variancesOf = (
  result: HeadlineResult | PooledResult,
): Readonly<Record<string, number>> =>
  isMultilevel(result)
    ? result.varianceByLevel
    : { effect_id: result.heterogeneity.betweenVariance ?? 0 };

/** The average without one study. */
export const withoutStudy = (
  input: AverageInput,
  study: string,
  options: AverageOptions,
): RepeatedAnswer | Refusal => {
  const average = averageOf(
    { ...input, ...inputSubset(input, (one) => one.study !== study) },
    options,
  );
  if (average.kind === "refusal") return average;
  const { result } = average;
  const { estimate, standardError, interval } = result;
  const own = inputSubset(input, (one) => one.study === study);
  return {
    estimate,
    standardError,
    interval,
    ...(options.moderators.length > 0 ? {} : { own: studyAverage(own, variancesOf(result)) }),
  };
};

/** Studies that are left out and fitted anew: those that would move the average most if no variance changed. */
const refitted = 2;

/**
 * The study without which an average moves most; undefined where no average is left without one.
 *
 * Without study i and with the variances held, the average μ moves by w(μ − ȳ)/(W − w), with ȳ the study's own average,
 * w one over its variance and W the sum of all w. The studies that would move it most are then left out in earnest.
 *
 * @source none: generalised least squares over studies, then `leaveEachOut`
 */
export const movesMost = (
  input: AverageInput,
  result: HeadlineResult | PooledResult,
  options: AverageOptions,
): LeftOut | undefined => {
  const variances = variancesOf(result);
  const studies = [...new Set(input.effects.map(({ study }) => study))].map((study) => {
    const own = studyAverage(
      inputSubset(input, (one) => one.study === study),
      variances,
    );
    return { study, estimate: own.estimate, weight: 1 / own.variance };
  });
  if (studies.length < 3) return undefined;
  const all = studies.reduce((sum, { weight }) => sum + weight, 0);
  const shift = ({ estimate, weight }: (typeof studies)[number]): number =>
    Math.abs((weight * (result.estimate - estimate)) / (all - weight));
  const likely = studies
    .sort((a, b) => shift(b) - shift(a))
    .slice(0, refitted)
    .map(({ study }) => study);
  const { leftOut, movesMost: name } = leaveEachOut(likely, result, (study) =>
    withoutStudy(input, study, options),
  );
  return leftOut.find((one) => one.name === name);
};
