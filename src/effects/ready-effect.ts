import type { OutcomeRow } from "../records/outcome-row.js";
import type { EffectScale } from "./effect.js";
import { effectScales } from "./effect.js";
import type { Refusal } from "./refusal.js";
import { scaleLabel } from "./scale-label.js";
import { intervalQuantile } from "./standard-deviation-from-standard-error.js";

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^\p{L}]+/gu, " ")
    .trim();

/**
 * The scale a cell names, by its id, its label, or the label without the words after the comma where
 * that is enough; undefined for any other words (a bare "effect size" names no denominator).
 *
 * @source none: wording of this project
 */
export const scaleNamed = (text: string): EffectScale | undefined => {
  const wanted = plain(text);
  return effectScales.find(
    (scale) =>
      wanted === plain(scale) ||
      wanted === plain(scaleLabel(scale)) ||
      (!scale.startsWith("standardised-mean-change") &&
        wanted === plain(scaleLabel(scale).split(/[,(]/)[0] ?? "")),
  );
};

/**
 * An effect computed elsewhere, when the row's form says so and its scale is the one asked for.
 *
 * @param row  any row
 * A standardised difference of two groups without a printed error gets its large-sample variance:
 *
 *   V = 1/n₁ + 1/n₂ + d²/(2(n₁ + n₂))      n₁, n₂ = people in the two groups
 *
 * @param scale  the scale asked for
 * @param groups  people of both groups, where the row is a difference between them
 * @returns undefined when the row is of another form; else the effect, or why it cannot be used
 * @source the number is the source's own; Hedges LV, Olkin I (1985) Statistical methods for meta-analysis, for the variance
 */
export const readyEffect = (
  row: OutcomeRow,
  scale: EffectScale,
  groups?: Readonly<{ treated: number; control: number }>,
): Readonly<{ estimate: number; variance: number; route: string }> | Refusal | undefined => {
  const formIsEffect =
    row.statistic === "effect computed elsewhere" ||
    (row.statistic === undefined && row.effect !== undefined && row.postMean === undefined);
  if (!formIsEffect) return undefined;
  const { effect, effectScale } = row;
  const named = effectScale === undefined ? undefined : scaleNamed(effectScale);
  const printed = row.effectStandardError ?? errorFromInterval(row);
  const ofGroups =
    printed === undefined && named === "standardised-mean-difference" && groups !== undefined;
  const error = ofGroups && effect !== undefined ? largeSampleError(effect, groups) : printed;
  if (effect === undefined || error === undefined || !(error > 0)) {
    return {
      refused:
        "an effect computed elsewhere needs both the effect and its standard error or interval",
    };
  }
  if (effectScale === undefined) {
    return { refused: "the scale of the effect computed elsewhere is not named" };
  }
  if (named !== scale) {
    return {
      refused: `the effect computed elsewhere is on another scale ("${effectScale}") than the one asked for (${scaleLabel(scale)})`,
    };
  }
  return {
    estimate: effect,
    variance: error ** 2,
    route: ofGroups
      ? "effect computed elsewhere, taken as printed, its error from the sizes of the two groups (large samples)"
      : row.effectStandardError === undefined
        ? "effect computed elsewhere, taken as printed, its standard error from its interval (normal)"
        : "effect and standard error computed elsewhere, taken as printed",
  };
};

const largeSampleError = (
  d: number,
  { treated, control }: Readonly<{ treated: number; control: number }>,
): number => Math.sqrt(1 / treated + 1 / control + d ** 2 / (2 * (treated + control)));

const errorFromInterval = (row: OutcomeRow): number | undefined => {
  const { intervalLow: low, intervalHigh: high } = row;
  if (low === undefined || high === undefined) return undefined;
  return (high - low) / 2 / intervalQuantile(row.intervalPercent ?? 95, Infinity);
};
