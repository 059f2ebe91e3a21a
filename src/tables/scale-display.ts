import type { Contrast, EffectScale } from "../effects/effect.js";
import { decimalsFor, formatNumber, percentChange, type Bounds } from "./number-format.js";

/** How one scale is shown: its full name, what a reader sees, and how it is rounded. */
export type ScaleDisplay = Readonly<{
  /** The scale in full, denominator named. */
  name: string;
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
    name: "log ratio of means, shown as percent change",
    heading: "Change",
    unit: "%",
    shownAsPercent: true,
    logHeading: "Log ratio",
  },
  "standardised-mean-change-baseline-deviation": {
    name: "standardised mean change (divided by the baseline standard deviation)",
    heading: "Change",
    unit: "baseline standard deviations",
    shownAsPercent: false,
    logHeading: "",
  },
  "standardised-mean-change-change-deviation": {
    name: "standardised mean change (divided by the standard deviation of the changes)",
    heading: "Change",
    unit: "standard deviations of the changes",
    shownAsPercent: false,
    logHeading: "",
  },
  "standardised-mean-difference": {
    name: "standardised mean difference (divided by the standard deviation pooled over both arms)",
    heading: "Difference",
    unit: "pooled standard deviations",
    shownAsPercent: false,
    logHeading: "",
  },
  "raw-mean-difference": {
    name: "raw mean difference (in the outcome's own unit)",
    heading: "Difference",
    unit: "outcome's unit",
    shownAsPercent: false,
    logHeading: "",
  },
  "log-variability-ratio": {
    name: "log ratio of standard deviations, shown as percent change in spread",
    heading: "Change in standard deviation",
    unit: "%",
    shownAsPercent: true,
    logHeading: "Log ratio",
  },
  "log-coefficient-of-variation-ratio": {
    name: "log ratio of coefficients of variation, shown as percent change in relative spread",
    heading: "Change in coefficient of variation",
    unit: "%",
    shownAsPercent: true,
    logHeading: "Log ratio",
  },
} as const satisfies Record<EffectScale, ScaleDisplay>;

/** How a scale is shown to people: name with its denominator, heading, unit, rounding. */
export const scaleDisplay = (scale: EffectScale): ScaleDisplay => displays[scale];

const contrastNames = {
  "change-within-arm": "change within an arm",
  "against-control": "change against a no-exercise control",
  "between-arms": "one arm against another",
} as const satisfies Record<Contrast, string>;

/** What is compared, in words. */
export const contrastName = (contrast: Contrast): string => contrastNames[contrast];

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
  if (estimate > Math.log1p(largestPercent / 100)) return "over 999,999";
  return formatNumber(percentChange(estimate), { digits });
};

/** Bounds as people see them on a scale, "2.1 to 5.4". */
export const shownInterval = (bounds: Bounds, scale: EffectScale, standardError: number): string =>
  `${shownEstimate(bounds.low, scale, standardError)} to ${shownEstimate(bounds.high, scale, standardError)}`;
