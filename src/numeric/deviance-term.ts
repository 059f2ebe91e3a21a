/**
 * observed · ln(observed / expected) + expected − observed, without cancellation.
 *
 * Half of what one cell adds to a Poisson deviance. Densities written with it stay accurate when the two
 * numbers are large and close, where the three plain terms would cancel.
 *
 * @param observed zero or more
 * @param expected above zero
 * @returns zero or more; the value is 0 only when the two are equal
 * @source Loader C (2000) Fast and accurate computation of binomial probabilities; the series is
 *   Abramowitz and Stegun (1964), 4.1.27
 */
export const devianceTerm = (observed: number, expected: number): number => {
  const difference = observed - expected;
  if (Math.abs(difference) < 0.1 * (observed + expected)) {
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
  return observed * (Math.log(observed) - Math.log(expected)) + expected - observed;
};
