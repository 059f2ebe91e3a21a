/**
 * observed · ln(observed / expected) + expected − observed, without cancellation.
 *
 * Half of what one cell adds to a Poisson deviance. Densities written with it stay accurate when the two
 * numbers are large and close, where the three plain terms would cancel.
 *
 * @param observed zero or more
 * @param expected above zero
 * @param difference observed − expected, when the caller knows it more exactly than subtraction would give it
 * @returns zero or more; the value is 0 only when the two are equal
 * @source Loader C (2000) Fast and accurate computation of binomial probabilities; the series is
 *   Abramowitz and Stegun (1964), 4.1.27
 */
export const devianceTerm = (
  observed: number,
  expected: number,
  difference = observed - expected,
): number => {
  if (Math.abs(difference) < 0.5 * (observed + expected)) {
    const ratio = difference / (observed + expected);
    const square = ratio * ratio;
    let power = 2 * observed * ratio;
    let total = difference * ratio;
    for (let k = 1; k < 100; k++) {
      power *= square;
      const next = total + power / (2 * k + 1);
      if (next === total) break;
      total = next;
    }
    return total;
  }
  if (observed === 0) return expected;
  const ratio = observed / expected;
  const logarithm =
    ratio > 1e-300 && ratio < 1e300 ? Math.log(ratio) : Math.log(observed) - Math.log(expected);
  return observed * logarithm - difference;
};
