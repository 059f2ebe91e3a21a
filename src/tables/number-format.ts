import type { Interval } from "../synthesis/synthesis-results.js";
import { CallError } from "../errors.js";

export type NumberFormatOptions = Readonly<{
  /** Digits after the decimal point, an integer from 0 to 12. */
  digits?: number;
  /** People read the typographic minus (U+2212); a machine reads the hyphen. */
  minus?: "typographic" | "plain";
}>;

export const numberFormatDefaults = {
  digits: 2,
  minus: "typographic",
} as const satisfies Required<NumberFormatOptions>;

/** From here on a number is written with an exponent: its digits no longer tell a reader anything. */
const exponentFrom = 1e9;

const requireFinite = (value: number, where: string): void => {
  if (Number.isFinite(value)) return;
  throw new CallError({ code: "not-finite", where, needs: "a finite number", got: String(value) });
};

/** Half away from zero on the decimal digits a person sees (1.005 gives 1.01, as on paper). */
const roundedDigits = (magnitude: number, digits: number): string => {
  const [mantissa = "0", exponent = "0"] = String(magnitude).split("e");
  const shifted = Math.round(Number(`${mantissa}e${Number(exponent) + digits}`));
  return Number(`${shifted}e${-digits}`).toFixed(digits);
};

/**
 * A number as text, rounded half away from zero to a fixed count of decimals.
 *
 * Never "NaN", never "-0.00". From 10⁹ on an exponent with three significant digits is written.
 *
 * @param value any finite number
 * @throws {CallError} "not-finite" for NaN and infinities: a table never shows a number that is none;
 *   "digits" when the digits are not an integer from 0 to 12
 */
export const formatNumber = (value: number, options: NumberFormatOptions = {}): string => {
  const { digits, minus } = { ...numberFormatDefaults, ...options };
  requireFinite(value, "formatNumber");
  if (!Number.isInteger(digits) || digits < 0 || digits > 12) {
    throw new CallError({
      code: "digits",
      where: "formatNumber",
      needs: "digits as an integer from 0 to 12",
      got: String(digits),
    });
  }
  const magnitude = Math.abs(value);
  const text =
    magnitude >= exponentFrom
      ? magnitude.toExponential(2).replace("e+", "e")
      : roundedDigits(magnitude, digits);
  const isZero = Number(text) === 0;
  const sign = value < 0 && !isZero ? (minus === "plain" ? "-" : "\u2212") : "";
  return sign + text;
};

/** A share as a percentage without decimals: "58%" for 0.575, of which 100 × 0.575 would make 57 in binary numbers. */
export const sharePercent = (share: number): string => {
  requireFinite(share, "sharePercent");
  const [mantissa = "0", exponent = "0"] = String(share).split("e");
  return `${formatNumber(Number(`${mantissa}e${Number(exponent) + 2}`), { digits: 0 })}%`;
};

/**
 * A number with every digit it has, hyphen for minus: what a CSV cell holds.
 *
 * @throws {CallError} "not-finite" for NaN and infinities
 */
export const plainNumber = (value: number): string => {
  requireFinite(value, "plainNumber");
  return String(Object.is(value, -0) ? 0 : value);
};

/**
 * A count with its thousands parted by commas.
 *
 * @throws {CallError} "not-a-count" when the value is not an integer from 0
 */
export const formatCount = (value: number): string => {
  if (!Number.isSafeInteger(value) || value < 0) {
    throw new CallError({
      code: "not-a-count",
      where: "formatCount",
      needs: "an integer from 0",
      got: String(value),
    });
  }
  return String(value).replace(/\B(?=(\d{3})+$)/g, ",");
};

/** A percentage as text, with its sign: one decimal unless told otherwise. */
export const formatPercent = (percent: number, options: NumberFormatOptions = {}): string =>
  `${formatNumber(percent, { digits: 1, ...options })}%`;

/** Two bounds as text, "2.1 to 5.4". */
export const formatInterval = (bounds: Interval, options: NumberFormatOptions = {}): string => {
  if (bounds.low > bounds.high) {
    throw new CallError({
      code: "interval-order",
      where: "formatInterval",
      needs: "the low bound first",
      got: `${bounds.low} and ${bounds.high}`,
    });
  }
  return `${formatNumber(bounds.low, options)} to ${formatNumber(bounds.high, options)}`;
};

/** Words with their first letter in capitals. */
export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** Bounds of which either may be missing, each as it is written: "no lower limit to 9.3". */
export const openLimits = (
  { low, high }: Readonly<{ low: number | null; high: number | null }>,
  write: (bound: number) => string,
): string =>
  `${low === null ? "no lower limit" : write(low)} to ${high === null ? "no upper limit" : write(high)}`;

/**
 * A p-value for a table cell: three decimals, "<0.001" below them, ">0.999" above.
 *
 * @throws {CallError} "not-a-probability" outside 0 to 1
 */
export const pValueCell = (p: number): string => {
  if (!(p >= 0 && p <= 1)) {
    throw new CallError({
      code: "not-a-probability",
      where: "pValueCell",
      needs: "a probability from 0 to 1",
      got: String(p),
    });
  }
  if (p < 0.001) return "<0.001";
  if (p > 0.999) return ">0.999";
  return formatNumber(p, { digits: 3 });
};

/** A p-value for a sentence: "p = 0.034", "p < 0.001". */
export const pValueText = (p: number): string => {
  const cell = pValueCell(p);
  return /^[<>]/.test(cell) ? `p ${cell.charAt(0)} ${cell.slice(1)}` : `p = ${cell}`;
};

/** Degrees of freedom as text; an infinite count is the normal distribution and says so. */
export const formatDegreesOfFreedom = (degreesOfFreedom: number): string => {
  if (degreesOfFreedom === Infinity) return "normal";
  return formatNumber(degreesOfFreedom, { digits: Number.isInteger(degreesOfFreedom) ? 0 : 1 });
};

/**
 * Decimals that show a number to two significant digits of its standard error.
 *
 * More digits would be noise, fewer would hide the size of the error.
 *
 * @param standardError above 0, in the number's unit
 * @returns an integer from 0 to 6
 */
export const decimalsFor = (standardError: number): number => {
  requireFinite(standardError, "decimalsFor");
  if (standardError <= 0) return 2;
  return Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(standardError))));
};

/** A count with its word in the right number: "1 week", "12 weeks". */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${plainNumber(count)} ${count === 1 ? one : many}`;

/** A share such as 0.95 as 95, without what binary fractions add behind it. */
export const confidencePercent = (confidence: number): number =>
  Number((100 * confidence).toPrecision(6));

/** A share such as 0.95 as "95%". */
export const confidenceWords = (confidence: number): string => `${confidencePercent(confidence)}%`;
