import { logGamma } from "../numeric/log-gamma.js";
import { demanded } from "./arm-summary.js";

/**
 * Factor that takes the small-sample bias out of a standardised mean, in its exact gamma form.
 *
 * A mean divided by an estimated deviation is too large on average, the more so the fewer people; this
 * factor, below 1 and rising to 1, mends it. The gamma functions are taken as logarithms because they
 * overflow from about 340 degrees of freedom.
 *
 *   J(m) = Γ(m/2) / ( √(m/2) · Γ((m−1)/2) )      m = degrees of freedom of the deviation
 *
 * @param degreesOfFreedom  of the deviation divided by; 2 or more, need not be whole
 * @returns factor within 0 to 1, no unit
 * @throws {CallError} "out-of-range" below 2 degrees of freedom
 * @source Hedges LV (1981) Journal of Educational Statistics 6:107–128
 * @example
 * smallSampleFactor(98)
 * // => 0.9923
 */
export const smallSampleFactor = (degreesOfFreedom: number): number => {
  demanded(degreesOfFreedom, {
    where: "smallSampleFactor",
    needs: "2 or more degrees of freedom",
    holds: (value) => value >= 2,
  });
  const half = degreesOfFreedom / 2;
  return Math.exp(logGamma(half) - Math.log(half) / 2 - logGamma(half - 0.5));
};
