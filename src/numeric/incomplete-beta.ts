/** The regularised incomplete beta function, each tail computed as itself. */
import { CallError, ConvergenceError } from "../errors.js";
import { devianceTerm, logBeta, stirlingRemainder } from "./log-gamma.js";
import { requirePositive } from "./scalar-guard.js";

export type IncompleteBetaOptions = Readonly<{
  /** Is the probability above x wanted, instead of at or below it? */
  upper?: boolean;
  /** 1 − x, when the caller knows it more exactly than subtraction would give it. */
  complement?: number;
  /** a − (a + b)x, how far x lies below the mean, when the caller knows it more exactly. */
  lead?: number;
}>;

/** Up to this size plain powers lose fewer digits in far tails than an exponential of logarithms. */
const powersUpTo = 15;

/** a − (a + b)x, from whichever of x and y is the smaller and so the more exact. */
const leadOf = (x: number, y: number, a: number, b: number): number =>
  x <= y ? a - (a + b) * x : (a + b) * y - b;

/**
 * x^a · y^b / B(a, b) with y = 1 − x: x·y times the beta density.
 *
 * @param x between 0 and 1
 * @param y 1 − x, known to full relative accuracy
 * @param a above zero
 * @param b above zero
 * @param lead a − (a + b)x
 * @returns zero or more
 * @source Loader C (2000), the saddle-point form
 */
export const betaDensityTimesXY = (
  x: number,
  y: number,
  a: number,
  b: number,
  lead = leadOf(x, y, a, b),
): number => {
  if (a <= powersUpTo && b <= powersUpTo) return (x ** a * y ** b) / Math.exp(logBeta(a, b));
  const total = a + b;
  const exponent = devianceTerm(a, total * x, lead) + devianceTerm(b, total * y, -lead);
  const remainder = stirlingRemainder(total) - stirlingRemainder(a) - stirlingRemainder(b);
  return Math.sqrt((a / total) * (b / (2 * Math.PI))) * Math.exp(remainder - exponent);
};

/** I_x(a, b) by the even part of the continued fraction, for x at or below the mean a/(a + b). */
const lowerFraction = (x: number, y: number, a: number, b: number, lead: number): number => {
  const front = betaDensityTimesXY(x, y, a, b, lead);
  if (front === 0) return 0;
  let c = (a * (lead + 1)) / (a + 1);
  let d = 0;
  let value = c;
  const limit = 2_000_000;
  for (let n = 1; n < limit; n++) {
    const odd = a + 2 * n - 1;
    const numerator = ((a + n - 1) / odd) * ((a + b + n - 1) / odd) * (n * x) * ((b - n) * x);
    const denominator =
      n + (n * (b - n) * x) / odd + ((a + n) * (lead + 1 + n * (1 + y))) / (odd + 2);
    d = 1 / (denominator + numerator * d);
    c = denominator + numerator / c;
    const factor = c * d;
    value *= factor;
    if (Math.abs(factor - 1) < 3e-16) return front / value;
  }
  throw new ConvergenceError({
    where: "incompleteBeta",
    iterations: limit,
    lastChange: NaN,
    tolerance: 3e-16,
    try: "use smaller parameters: above about 1e12 the normal distribution serves",
  });
};

/**
 * I_x(a, b), the regularised incomplete beta function, or its complement 1 − I_x(a, b).
 *
 * Probability that a beta variable with parameters a and b is at or below x (above it with `upper`).
 * The tail that lies away from the mean is computed as itself.
 *
 * @param x between 0 and 1
 * @param a above zero
 * @param b above zero
 * @returns a probability; NaN when any argument is NaN
 * @throws {CallError} "not-positive" for a or b, "not-a-fraction" for x outside [0, 1]
 * @source DiDonato AR, Morris AH (1992) ACM Transactions on Mathematical Software 18:360–373, equation 9
 * @example
 * incompleteBeta(0.5, 2, 3) // => 0.6875
 */
export const incompleteBeta = (
  x: number,
  a: number,
  b: number,
  options: IncompleteBetaOptions = {},
): number => {
  requirePositive("incompleteBeta", "a", a);
  requirePositive("incompleteBeta", "b", b);
  const y = options.complement ?? 1 - x;
  if (x < 0 || x > 1 || y < 0 || y > 1) {
    throw new CallError({
      code: "not-a-fraction",
      where: "incompleteBeta",
      needs: "x between 0 and 1",
      got: String(x),
    });
  }
  if (Number.isNaN(x + y + a + b)) return NaN;
  const upper = options.upper ?? false;
  if (x === 0) return upper ? 1 : 0;
  if (y === 0) return upper ? 0 : 1;
  const lead = options.lead ?? leadOf(x, y, a, b);
  if (lead >= 0) {
    const lower = lowerFraction(x, y, a, b, lead);
    return upper ? 1 - lower : lower;
  }
  const higher = lowerFraction(y, x, b, a, -lead);
  return upper ? higher : 1 - higher;
};
