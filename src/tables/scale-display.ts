/** How tables and figures show values of an analysis scale. What each scale is called stands in `scales.ts`. */
import type { Interval } from "../synthesis/synthesis-results.js";
import type { EffectScale } from "../effects/effect.js";
import { logRatioFromPercent, percentFromLogRatio } from "../effects/percent-from-log-ratio.js";
import { scales } from "../effects/scales.js";
import { decimalsFor, formatNumber } from "./number-format.js";

export type ScaleDisplay = Readonly<{
  /** Heading of the estimate's column. */
  heading: string;
  unit: string;
  /** Heading of numbers without a column of units: heading and unit. */
  label: string;
  /** Follows a number in a sentence: "%", or nothing. */
  sign: "%" | "";
  /** Whether people see 100·(eˣ − 1), with the logarithm in a second column. */
  shownAsPercent: boolean;
  /** Heading of the logarithm's column; empty where the estimate is shown as it is. */
  logHeading: string;
  /** From the analysis scale to the number shown. */
  toShown: (value: number) => number;
  /** Back again. */
  fromShown: (shown: number) => number;
  /** A value of the analysis scale as text without its unit, rounded. */
  write: (value: number) => string;
  /** Whether equal steps on the analysis scale are equal ratios of the number shown. */
  spacing: "even" | "ratio";
}>;

/** Percentages from here on are a sign that an effect could not be estimated; their digits say nothing. */
const largestPercent = 999_999;

/**
 * How a scale is shown to people: log ratios as percent change, the rest as they stand.
 *
 * @param standardError on the scale itself; decides the decimals of a raw difference, two where not given
 */
export const scaleDisplay = (scale: EffectScale, standardError?: number): ScaleDisplay => {
  const { heading, unit, kind, falls = false } = scales[scale];
  const named = { heading, unit, label: `${heading}, ${unit}` };
  if (kind === "log ratio") {
    // A fall is bounded by 100%: 1 − e⁻ˣ is the share of the first score that is gone.
    const percent = (value: number): number =>
      falls ? -percentFromLogRatio(-value) : percentFromLogRatio(value);
    return {
      ...named,
      sign: "%",
      shownAsPercent: true,
      logHeading: "Log ratio",
      toShown: percent,
      fromShown: falls ? (shown) => -logRatioFromPercent(-shown) : logRatioFromPercent,
      write: (value) =>
        Math.abs(percent(value)) > largestPercent
          ? `over ${percent(value) < 0 ? "\u2212" : ""}999,999`
          : formatNumber(percent(value), { digits: 1 }),
      spacing: "ratio",
    };
  }
  const digits = kind === "raw" && standardError !== undefined ? decimalsFor(standardError) : 2;
  return {
    ...named,
    sign: "",
    shownAsPercent: false,
    logHeading: "",
    toShown: (value) => value,
    fromShown: (shown) => shown,
    write: (value) => formatNumber(value, { digits }),
    spacing: "even",
  };
};

/**
 * An estimate as people see it on a scale.
 *
 * @param standardError on the scale itself; decides the decimals of a raw difference
 */
export const shownEstimate = (
  estimate: number,
  scale: EffectScale,
  standardError: number,
): string => scaleDisplay(scale, standardError).write(estimate);

/** Bounds as people see them on a scale, "2.1 to 5.4". */
export const shownInterval = (
  bounds: Interval,
  scale: EffectScale,
  standardError: number,
): string =>
  `${shownEstimate(bounds.low, scale, standardError)} to ${shownEstimate(bounds.high, scale, standardError)}`;

/** An estimate and its interval in a sentence: "4.0% (2.1 to 5.4)". */
export const valueText = (
  { write, sign }: ScaleDisplay,
  { estimate, low, high }: Readonly<{ estimate: number }> & Interval,
): string => `${write(estimate)}${sign} (${write(low)} to ${write(high)})`;
