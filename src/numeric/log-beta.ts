/** Logarithm of the beta function, and the beta density's shape in a form that survives large arguments. */
import { logGamma, stirlingRemainder } from "./log-gamma.js";
import { requirePositive } from "./scalar-guard.js";

const halfLogTwoPi = 0.918_938_533_204_672_8;

/**
 * ln B(a, b) = ln Γ(a) + ln Γ(b) − ln Γ(a + b).
 *
 * With both arguments large the leading Stirling terms are combined before subtraction, so no digits are
 * lost at a, b of 10⁶.
 *
 * @param a above zero
 * @param b above zero
 * @returns ln B(a, b); NaN when either is NaN
 * @throws {CallError} "not-positive" when a or b is zero or less
 * @source Abramowitz and Stegun (1964), 6.2.2 with 6.1.41; the combination of terms follows
 *   DiDonato AR, Morris AH (1992) ACM Transactions on Mathematical Software 18:360–373
 * @example
 * logBeta(2, 3) // => -2.4849066
 */
export const logBeta = (a: number, b: number): number => {
  requirePositive("logBeta", "a", a);
  requirePositive("logBeta", "b", b);
  const small = Math.min(a, b);
  const large = Math.max(a, b);
  if (Number.isNaN(small) || Number.isNaN(large)) return NaN;
  if (large === Infinity) return -Infinity;
  if (large < 10) return logGamma(small) + logGamma(large) - logGamma(small + large);
  const remainder = stirlingRemainder(large) - stirlingRemainder(small + large);
  // ln Γ(large) − ln Γ(small + large), Stirling's terms combined by hand
  const ratio =
    -(large - 0.5) * Math.log1p(small / large) - small * (Math.log(large + small) - 1) + remainder;
  if (small < 10) return logGamma(small) + ratio;
  return (
    halfLogTwoPi -
    0.5 * Math.log(large) +
    stirlingRemainder(small) +
    remainder +
    (small - 0.5) * Math.log(small / (small + large)) -
    large * Math.log1p(small / large)
  );
};
