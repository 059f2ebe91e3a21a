import type { Contrast, EffectScale } from "./effect.js";

const scaleLabels: Readonly<Record<EffectScale, string>> = {
  "log-ratio-of-means": "log ratio of means (shown as percent change)",
  "standardised-mean-change-baseline-deviation":
    "standardised mean change, in standard deviations at baseline",
  "standardised-mean-change-change-deviation":
    "standardised mean change, in standard deviations of the changes",
  "standardised-mean-difference": "standardised mean difference, in pooled standard deviations",
  "raw-mean-difference": "mean difference, in the outcome's own unit",
  "log-variability-ratio": "log ratio of standard deviations (no direction of improvement)",
  "log-coefficient-of-variation-ratio":
    "log ratio of coefficients of variation (no direction of improvement)",
};

const contrastLabels: Readonly<Record<Contrast, string>> = {
  "change-within-arm": "change within the training arm, before to after",
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
export const scaleLabel = (scale: EffectScale): string => scaleLabels[scale];

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
