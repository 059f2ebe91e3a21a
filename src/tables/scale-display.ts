import type { EffectScale } from "../effects/effect.js";
import { logRatioFromPercent, percentFromLogRatio } from "../effects/percent-from-log-ratio.js";
import { decimalsFor, formatNumber, type Bounds } from "./number-format.js";

/** How one scale is shown: what a reader sees, in which unit. Its full name is `scaleLabel`'s. */
export type ScaleDisplay = Readonly<{
  /** Heading of the estimate's column. */
  heading: string;
  unit: string;
  /** Whether people see 100·(eˣ − 1), with the logarithm in a second column. */
  shownAsPercent: boolean;
  /** Heading of the logarithm's column; empty where the estimate is shown as it is. */
  logHeading: string;
}>;

const displays = {
  "log-ratio-of-means": {
    heading: "Change",
    unit: "%",
    shownAsPercent: true,
    logHeading: "Log ratio",
  },
  "standardised-mean-change-baseline-deviation": {
    heading: "Change",
    unit: "baseline standard deviations",
    shownAsPercent: false,
    logHeading: "",
  },
  "standardised-mean-change-change-deviation": {
    heading: "Change",
    unit: "standard deviations of the changes",
    shownAsPercent: false,
    logHeading: "",
  },
  "standardised-mean-difference": {
    heading: "Difference",
    unit: "pooled standard deviations",
    shownAsPercent: false,
    logHeading: "",
  },
  "raw-mean-difference": {
    heading: "Difference",
    unit: "outcome's unit",
    shownAsPercent: false,
    logHeading: "",
  },
  "log-variability-ratio": {
    heading: "Change in standard deviation",
    unit: "%",
    shownAsPercent: true,
    logHeading: "Log ratio",
  },
  "log-coefficient-of-variation-ratio": {
    heading: "Change in coefficient of variation",
    unit: "%",
    shownAsPercent: true,
    logHeading: "Log ratio",
  },
} as const satisfies Record<EffectScale, ScaleDisplay>;

/** How a scale is shown to people: heading, unit with its denominator, percent or not. */
export const scaleDisplay = (scale: EffectScale): ScaleDisplay => displays[scale];

/** Decimals of an estimate shown on a scale; raw differences follow their standard error. */
const digitsOn = (scale: EffectScale, standardError: number): number => {
  if (displays[scale].shownAsPercent) return 1;
  return scale === "raw-mean-difference" ? decimalsFor(standardError) : 2;
};

/** Percentages from here on are a sign that an effect could not be estimated; their digits say nothing. */
const largestPercent = 999_999;

/**
 * An estimate as people see it on a scale: log ratios as percent change, the rest as they stand.
 *
 * @param standardError on the scale itself; decides the decimals of a raw difference
 */
export const shownEstimate = (
  estimate: number,
  scale: EffectScale,
  standardError: number,
): string => {
  const digits = digitsOn(scale, standardError);
  if (!displays[scale].shownAsPercent) return formatNumber(estimate, { digits });
  if (estimate > logRatioFromPercent(largestPercent)) return "over 999,999";
  return formatNumber(percentFromLogRatio(estimate), { digits });
};

/** Bounds as people see them on a scale, "2.1 to 5.4". */
export const shownInterval = (bounds: Bounds, scale: EffectScale, standardError: number): string =>
  `${shownEstimate(bounds.low, scale, standardError)} to ${shownEstimate(bounds.high, scale, standardError)}`;
