import type { PairedSummary, ScaledEstimate } from "./arm-summary.js";
import { changeDeviation, checkedPaired, demanded } from "./arm-summary.js";
import { smallSampleFactor } from "./small-sample-factor.js";

/** How the two limbs (or periods) of the same people go together. */
export type WithinPersonCorrelations = Readonly<{
  /** Correlation of the two limbs' changes. */
  changes: number;
  /** Correlation of the two limbs' scores before training. */
  baselines: number;
}>;

/**
 * Difference of two estimates from the same people, allowing for their correlation.
 *
 *   V = v_T + v_C − 2·ρ·√(v_T·v_C)      ρ = correlation of the two limbs' changes
 *
 * @param trained  estimate and variance of the trained limb
 * @param other  the same for the comparison limb, on the same scale
 * @param correlation  of the two estimates, within −1 to 1
 * @returns estimate on the same scale and its variance
 * @source none: variance of a difference of two correlated estimates
 */
export const withinPersonDifference = (
  trained: ScaledEstimate,
  other: ScaledEstimate,
  correlation: number,
): ScaledEstimate => {
  demanded(correlation, {
    where: "withinPersonDifference",
    needs: "a correlation within −1 to 1",
    holds: (value) => Math.abs(value) <= 1,
  });
  const shared = Math.sqrt(trained.variance * other.variance);
  return {
    scale: trained.scale,
    estimate: trained.estimate - other.estimate,
    variance:
      (Math.sqrt(trained.variance) - Math.sqrt(other.variance)) ** 2 +
      2 * (1 - correlation) * shared,
  };
};

/**
 * Trained limb against the other limb of the same people, in units of the baseline deviation of both
 * limbs, corrected for small samples, and its variance.
 *
 * The other limb may gain by cross-education, so this is another question than a comparison with people
 * who did not train. Participants are people, never limbs.
 *
 *   g = J(ν)·(D_T − D_C)/S      S² = (s_T² + s_C²)/2 at baseline      ν = 2(n−1)/(1+ρ²)
 *   V = J²·(ν/(ν−2))·(q + d²) − d²    with d taken as g              q = (s_D/S)²/n
 *   s_D² = s_cT² + s_cC² − 2·r_D·s_cT·s_cC;  ρ, r_D = correlation of the limbs' baselines, of their changes
 *
 * @param trained  the trained limb before and after; at least 4 people
 * @param other  the other limb, the same people
 * @param correlations  between the limbs
 * @returns estimate in baseline deviations and its variance
 * @throws {CallError} "out-of-range" for too few people, unequal numbers, or a baseline deviation of 0
 * @source none: derived from Var(ln S) = (1+ρ²)/(4(n−1)) under normality and checked by simulation
 */
export const withinPersonStandardisedChange = (
  trained: PairedSummary,
  other: PairedSummary,
  correlations: WithinPersonCorrelations,
): ScaledEstimate => {
  const where = "withinPersonStandardisedChange";
  checkedPaired(trained, { where, least: 4 });
  checkedPaired(other, { where, least: 4 });
  const trainedChange = changeDeviation(trained);
  const otherChange = changeDeviation(other);
  return withinPersonFromParts(
    {
      meanDifference:
        trained.after.mean - trained.before.mean - (other.after.mean - other.before.mean),
      differenceVariance:
        trainedChange ** 2 +
        otherChange ** 2 -
        2 * correlations.changes * trainedChange * otherChange,
      baselineDeviation: Math.sqrt(
        (trained.before.deviation ** 2 + other.before.deviation ** 2) / 2,
      ),
      participants: Math.min(trained.participants, other.participants),
    },
    correlations,
  );
};

/**
 * The same effect from its parts: mean and variance of the people's differences of changes, and the degrees of
 * freedom of the deviation where they are not ν.
 *
 * @source none: as `withinPersonStandardisedChange`
 */
export const withinPersonFromParts = (
  parts: Readonly<{
    meanDifference: number;
    differenceVariance: number;
    baselineDeviation: number;
    participants: number;
    degreesOfFreedom?: number;
  }>,
  correlations: WithinPersonCorrelations,
): ScaledEstimate => {
  const where = "withinPersonStandardisedChange";
  const n = demanded(parts.participants, {
    where,
    needs: "at least 4 people",
    holds: (value) => value >= 4,
  });
  const deviation = demanded(parts.baselineDeviation, {
    where,
    needs: "a baseline standard deviation above 0",
    holds: (value) => value > 0,
  });
  const degreesOfFreedom =
    parts.degreesOfFreedom ?? (2 * (n - 1)) / (1 + correlations.baselines ** 2);
  const factor = smallSampleFactor(degreesOfFreedom);
  const estimate = (factor * parts.meanDifference) / deviation;
  const scatter = parts.differenceVariance / deviation ** 2 / n;
  const moments =
    factor ** 2 * (degreesOfFreedom / (degreesOfFreedom - 2)) * (scatter + estimate ** 2);
  return {
    scale: "standardised-mean-change-baseline-deviation",
    estimate,
    variance: moments - estimate ** 2,
  };
};
