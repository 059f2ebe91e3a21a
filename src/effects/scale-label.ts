import type { Contrast, EffectScale } from "./effect.js";
import { scales } from "./scales.js";

const contrastLabels: Readonly<Record<Contrast, string>> = {
  "change-within-arm": "before to after",
  "against-control": "training arm against a no-exercise control",
  "against-other-limb": "training arm against the person's other limb, which may gain too",
  "between-arms": "one training arm against another in the same study",
};

/**
 * The scale in plain words, with its denominator named.
 *
 * @source none: wording of this project
 * @example
 * scaleLabel("standardised-mean-change-baseline-deviation")
 * // => "standardised mean change, in standard deviations at baseline"
 */
export const scaleLabel = (scale: EffectScale): string => scales[scale].label;

/**
 * What is compared, in plain words.
 *
 * @source none: wording of this project
 */
export const contrastLabel = (contrast: Contrast): string => contrastLabels[contrast];

const contrastShortLabels: Readonly<Record<Contrast, string>> = {
  "change-within-arm": "before to after",
  "against-control": "against no exercise",
  "against-other-limb": "against the person's other limb",
  "between-arms": "between training arms",
};

/**
 * What is compared, short enough for a heading.
 *
 * @source none: wording of this project
 */
export const contrastShortLabel = (contrast: Contrast): string => contrastShortLabels[contrast];
