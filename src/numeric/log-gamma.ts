import { requirePositive } from "./scalar-guard.js";

/** Logarithm of the gamma function, and the part of it that Stirling's formula leaves over. */

const eulersConstant = 0.577_215_664_901_532_9;
const halfLogTwoPi = 0.918_938_533_204_672_8;

/** Stirling's series B(2k) / (2k(2k−1)), k = 1…8, in 1/x². */
const stirlingCoefficients = [
  1 / 12,
  -1 / 360,
  1 / 1260,
  -1 / 1680,
  1 / 1188,
  -691 / 360_360,
  1 / 156,
  -3617 / 122_400,
] as const;

/** From here the eight terms of Stirling's series are exact to double precision. */
const stirlingFrom = 10;

/** ζ(k) − 1 for k ≥ 2: the first terms summed, the rest by Euler and Maclaurin, error below 10⁻¹⁷. */
const zetaMinusOne = (k: number): number => {
  const last = 60;
  let total =
    last ** (1 - k) / (k - 1) +
    last ** -k / 2 +
    (k * last ** (-k - 1)) / 12 -
    (k * (k + 1) * (k + 2) * last ** (-k - 3)) / 720 +
    (k * (k + 1) * (k + 2) * (k + 3) * (k + 4) * last ** (-k - 5)) / 30_240;
  for (let n = last - 1; n >= 2; n--) total += n ** -k;
  return total;
};

const zetaTerms = Array.from({ length: 30 }, (_, index) => {
  const k = index + 2;
  return ((k % 2 === 0 ? 1 : -1) * zetaMinusOne(k)) / k;
});

/** ln Γ(2 + z) for |z| ≤ 1/2: Taylor's series about 2, which keeps full relative accuracy at the zero. */
const logGammaAboutTwo = (z: number): number => {
  let tail = 0;
  for (let index = zetaTerms.length - 1; index >= 0; index--) {
    tail = tail * z + (zetaTerms[index] as number);
  }
  return z * (1 - eulersConstant + z * tail);
};

/**
 * ln Γ(x) minus Stirling's (x − 1/2) ln x − x + ln(2π)/2.
 *
 * Small (about 1/(12x)) and smooth. Ratios of gamma functions written with it do not subtract large
 * logarithms from each other, which is what spoils them at 10⁵ degrees of freedom.
 *
 * @param x above zero
 * @returns the remainder, no unit; NaN for NaN
 * @source Abramowitz and Stegun (1964), 6.1.41
 */
export const stirlingRemainder = (x: number): number => {
  if (x >= stirlingFrom) {
    const inverseSquare = 1 / (x * x);
    let total = 0;
    for (let index = stirlingCoefficients.length - 1; index >= 0; index--) {
      total = total * inverseSquare + (stirlingCoefficients[index] as number);
    }
    return total / x;
  }
  return logGamma(x) - ((x - 0.5) * Math.log(x) - x + halfLogTwoPi);
};

/**
 * Natural logarithm of |Γ(x)|.
 *
 * Full relative accuracy also beside its zeros at 1 and 2.
 *
 * @param x any number
 * @returns ln |Γ(x)|; Infinity at 0 and the negative integers; NaN for NaN and −Infinity
 * @source Abramowitz and Stegun (1964), 6.1.17 (reflection), 6.1.33 (series), 6.1.41 (Stirling)
 * @example
 * logGamma(5) // => 3.1780538
 */
export const logGamma = (x: number): number => {
  if (Number.isNaN(x) || x === -Infinity) return NaN;
  if (x === Infinity) return Infinity;
  if (x <= 0) {
    if (Number.isInteger(x)) return Infinity;
    if (x > -1e-300) return -Math.log(-x);
    const distance = Math.abs(x - Math.round(x));
    return Math.log(Math.PI / (Math.sin(Math.PI * distance) * -x)) - logGamma(-x);
  }
  if (x >= stirlingFrom) return (x - 0.5) * Math.log(x) - x + halfLogTwoPi + stirlingRemainder(x);
  if (x < 0.5) return logGammaAboutTwo(x) - Math.log1p(x) - Math.log(x);
  if (x < 1.5) return logGammaAboutTwo(x - 1) - Math.log1p(x - 1);
  let base = x;
  let product = 1;
  while (base > 2.5) {
    base -= 1;
    product *= base;
  }
  return Math.log(product) + logGammaAboutTwo(base - 2);
};

/** Logarithm of the beta function, and the beta density's shape in a form that survives large arguments. */

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
