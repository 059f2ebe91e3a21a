import type { GroupSummary, ScaledEstimate } from "./arm-summary.js";
import { checkedGroup, demanded, pooledDeviation } from "./arm-summary.js";
import { smallSampleFactor } from "./small-sample-factor.js";

/** The three forms of the sampling variance in use; every result names the one it took. */
export type StandardisedVarianceForm = "corrected-estimate" | "factor-squared" | "exact-moment";

export type StandardisedDifferenceOptions = Readonly<{
  /**
   * `corrected-estimate`: a + g²/(2N).  `factor-squared`: J²·(a + d²/(2N)), the textbook form.
   * `exact-moment`: J²·(m/(m−2))·(a + g²) − g², better below ten people an arm; needs m > 2.
   */
  varianceForm?: StandardisedVarianceForm;
  /** `exact` gamma factor, `approximate` 1 − 3/(4m−1), or `none`. */
  smallSample?: "exact" | "approximate" | "none";
}>;
export const standardisedDifferenceDefaults = {
  varianceForm: "corrected-estimate",
  smallSample: "exact",
} as const satisfies Required<StandardisedDifferenceOptions>;

/**
 * Small-sample factor by the way asked for: exact gamma form, the usual approximation, or none.
 *
 * @source Hedges LV (1981) Journal of Educational Statistics 6:107–128
 */
export const chosenSmallSampleFactor = (
  degreesOfFreedom: number,
  smallSample: "exact" | "approximate" | "none",
): number => {
  if (smallSample === "none") return 1;
  if (smallSample === "exact") return smallSampleFactor(degreesOfFreedom);
  return 1 - 3 / (4 * degreesOfFreedom - 1);
};

/**
 * Corrected estimate and variance from an uncorrected standardised difference of two independent groups.
 *
 *   g = J·d      a = 1/n₁ + 1/n₂      N = n₁ + n₂      m = N − 2
 *   corrected-estimate  V = a + g²/(2N)
 *   factor-squared      V = J²·(a + d²/(2N))
 *   exact-moment        V = J²·(m/(m−2))·(a + g²) − g²
 *
 * @param difference  d (mean difference over the pooled deviation) and the participants of both groups
 * @param options  form of the variance, kind of small-sample factor
 * @returns estimate in pooled deviations and its variance
 * @source Hedges LV (1981) Journal of Educational Statistics 6:107–128; Borenstein M et al. (2009)
 *   Introduction to Meta-Analysis, chapter 4 (factor-squared form)
 */
export const correctedStandardisedDifference = (
  difference: Readonly<{ uncorrected: number; treated: number; control: number }>,
  options: StandardisedDifferenceOptions = {},
): ScaledEstimate => {
  const { varianceForm, smallSample } = { ...standardisedDifferenceDefaults, ...options };
  const people = difference.treated + difference.control;
  const degreesOfFreedom = people - 2;
  demanded(degreesOfFreedom, {
    where: "correctedStandardisedDifference",
    needs:
      varianceForm === "exact-moment"
        ? "at least 5 participants in the two groups together"
        : "at least 4 participants in the two groups together",
    holds: (value) => value >= (varianceForm === "exact-moment" ? 3 : 2),
  });
  const factor = chosenSmallSampleFactor(degreesOfFreedom, smallSample);
  const estimate = factor * difference.uncorrected;
  const spread = 1 / difference.treated + 1 / difference.control;
  const scale = "standardised-mean-difference" as const;
  if (varianceForm === "corrected-estimate") {
    return { scale, estimate, variance: spread + estimate ** 2 / (2 * people) };
  }
  if (varianceForm === "factor-squared") {
    const plain = spread + difference.uncorrected ** 2 / (2 * people);
    return { scale, estimate, variance: factor ** 2 * plain };
  }
  const moments =
    factor ** 2 * (degreesOfFreedom / (degreesOfFreedom - 2)) * (spread + estimate ** 2);
  return { scale, estimate, variance: moments - estimate ** 2 };
};

/**
 * Difference of two independent groups' means in units of their pooled deviation, corrected for small
 * samples, and its variance.
 *
 *   d = (m₁ − m₂)/s_p      g = J(N−2)·d      variance as in `correctedStandardisedDifference`
 *
 * @param treated  mean, deviation, at least 2 participants
 * @param control  the same
 * @param options  form of the variance, kind of small-sample factor
 * @returns estimate in pooled deviations, positive when the treated mean is higher, and its variance
 * @throws {CallError} "out-of-range" when both deviations are 0
 * @source Hedges LV (1981) Journal of Educational Statistics 6:107–128
 * @example
 * standardisedMeanDifference({ mean: 103, deviation: 5.5, participants: 50 }, { mean: 100, deviation: 4.5, participants: 50 })
 * // => { scale: "standardised-mean-difference", estimate: 0.5924, variance: 0.0418 }
 */
export const standardisedMeanDifference = (
  treated: GroupSummary,
  control: GroupSummary,
  options: StandardisedDifferenceOptions = {},
): ScaledEstimate => {
  const where = "standardisedMeanDifference";
  checkedGroup(treated, { where });
  checkedGroup(control, { where });
  const deviation = demanded(pooledDeviation(treated, control), {
    where,
    needs: "a pooled standard deviation above 0",
    holds: (value) => value > 0,
  });
  return correctedStandardisedDifference(
    {
      uncorrected: (treated.mean - control.mean) / deviation,
      treated: treated.participants,
      control: control.participants,
    },
    options,
  );
};

/**
 * Difference of two measurements of the same people in units of the within-person pooled deviation, and
 * its variance.
 *
 *   d = D/s_w      g = J(n−1)·d      V = J²·(1/n + d²/(2n))·2(1−r)
 *   s_w = s_c/√(2(1−r)) from the changes, or √((s₁²+s₂²)/2) from the two deviations
 *
 * @param pairs  mean difference, within-person deviation above 0, correlation below 1, at least 3 people
 * @param options  kind of small-sample factor
 * @returns estimate in within-person deviations and its variance
 * @source Borenstein M et al. (2009) Introduction to Meta-Analysis, chapter 4 (matched groups)
 */
export const standardisedMeanDifferencePaired = (
  pairs: Readonly<{
    meanDifference: number;
    withinDeviation: number;
    correlation: number;
    participants: number;
  }>,
  options: Readonly<{ smallSample?: "exact" | "approximate" | "none" }> = {},
): ScaledEstimate => {
  const where = "standardisedMeanDifferencePaired";
  const { participants, correlation } = pairs;
  checkedGroup(
    { mean: pairs.meanDifference, deviation: pairs.withinDeviation, participants },
    { where, least: 3 },
  );
  demanded(pairs.withinDeviation, {
    where,
    needs: "a within-person standard deviation above 0",
    holds: (value) => value > 0,
  });
  demanded(correlation, {
    where,
    needs: "a correlation above −1 and below 1",
    holds: (value) => Math.abs(value) < 1,
  });
  const uncorrected = pairs.meanDifference / pairs.withinDeviation;
  const factor = chosenSmallSampleFactor(participants - 1, options.smallSample ?? "exact");
  const plain = (1 / participants + uncorrected ** 2 / (2 * participants)) * 2 * (1 - correlation);
  return {
    scale: "standardised-mean-difference",
    estimate: factor * uncorrected,
    variance: factor ** 2 * plain,
  };
};

/**
 * Uncorrected standardised difference of two independent groups from their t value.
 *
 *   d = t·√(1/n₁ + 1/n₂)      from F on 1 degree of freedom: |t| = √F
 *
 * @param test  t value and the participants of both groups
 * @returns d, no unit, with the sign of t
 * @source none: definition of the two-sample t
 */
export const standardisedDifferenceFromT = (
  test: Readonly<{ t: number; treated: number; control: number }>,
): number => test.t * Math.sqrt(1 / test.treated + 1 / test.control);
