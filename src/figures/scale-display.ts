import type { EffectScale } from "../effects/effect.js";
import { logRatioFromPercent, percentFromLogRatio } from "../effects/percent-from-log-ratio.js";
import { decimalsFor, formatNumber } from "../tables/number-format.js";
import { scaleDisplay } from "../tables/scale-display.js";

/** How values of an analysis scale are shown to people: turned into a readable number and named. */
export type ScaleDisplay = Readonly<{
  /** Heading of the numbers, with the unit in it. */
  label: string;
  /** From the analysis scale to the number shown. */
  toShown: (value: number) => number;
  /** Back again. */
  fromShown: (shown: number) => number;
  /** The number shown as text without its unit, rounded as the tables round it. */
  write: (shown: number) => string;
  /** Follows a number in a sentence, with its space if it has one: "%", " N·m". */
  unit: string;
  /** Whether equal steps on the analysis scale are equal ratios of the number shown. */
  spacing: "even" | "ratio";
}>;

/** Percentages from here on say that an effect could not be estimated, no more. */
const largestPercent = 999_999;

/**
 * Log ratios shown as percent change: 100·(exp(x) − 1), so that 0 is no change.
 *
 * @param label  heading of the numbers
 */
export const percentChangeDisplay = (label = "Change, %"): ScaleDisplay => ({
  label,
  toShown: percentFromLogRatio,
  fromShown: logRatioFromPercent,
  write: (shown) => (shown > largestPercent ? "over 999,999" : formatNumber(shown, { digits: 1 })),
  unit: "%",
  spacing: "ratio",
});

/**
 * Values shown as they stand.
 *
 * @param label  heading of the numbers, with the unit if there is one
 */
export const plainDisplay = (
  label: string,
  options: Readonly<{ unit?: string; digits?: number }> = {},
): ScaleDisplay => ({
  label,
  toShown: (value) => value,
  fromShown: (shown) => shown,
  write: (shown) => formatNumber(shown, { digits: options.digits ?? 2 }),
  unit: options.unit === undefined || options.unit === "" ? "" : ` ${options.unit}`,
  spacing: "even",
});

export type ScaleDisplayOptions = Readonly<{
  /** Unit of a raw mean difference, where all effects share one. */
  unit?: string;
  /** A usual standard error, which sets the decimals of a raw mean difference. */
  standardError?: number;
}>;

/** How figures show a scale of effects, in the words and with the rounding of the tables. */
export const displayForScale = (
  scale: EffectScale,
  options: ScaleDisplayOptions = {},
): ScaleDisplay => {
  const { heading, unit, shownAsPercent } = scaleDisplay(scale);
  if (shownAsPercent) return percentChangeDisplay(`${heading}, %`);
  if (scale !== "raw-mean-difference") return plainDisplay(`${heading}, ${unit}`);
  return plainDisplay(`${heading}, ${options.unit ?? unit}`, {
    ...(options.unit === undefined ? {} : { unit: options.unit }),
    digits: options.standardError === undefined ? 2 : decimalsFor(options.standardError),
  });
};
