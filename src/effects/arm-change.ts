import type { Note } from "../errors.js";
import type { ArmReading } from "./arm-reading.js";
import { logCoefficientOfVariationChange, logVariabilityChange } from "./arm-change-of-spread.js";
import { logRatioChange, rawChange } from "./arm-change-of-means.js";
import {
  changeStandardisedChange,
  scoreStandardisedChange,
  withinStandardisedChange,
} from "./arm-change-standardised.js";
import type { EffectScale } from "./effect.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import type { ResolvedCorrelation } from "./pre-post-correlation.js";
import { readyEffect } from "./ready-effect.js";
import type { Refusal } from "./refusal.js";
import { isRefusal } from "./refusal.js";

/**
 * How far an effect follows one arm's chance: signed square roots of the part of its variance that comes
 * from the arm's means, and of the part that comes from its deviations. The two are independent.
 */
export type Loading = Readonly<{ mean: number; spread: number }>;

/** One arm's change on one scale, in the outcome's own direction (a rise is positive). */
export type ArmChange = Readonly<{
  estimate: number;
  variance: number;
  loading: Loading;
  /** Absent when the formula needed none. */
  correlation?: ResolvedCorrelation;
  route: string;
  notes: readonly Note[];
}>;

export type ChangeContext = Readonly<{
  options: ResolvedEffectsOptions;
  correlationOf: (reading: ArmReading) => ResolvedCorrelation;
}>;

type ChangeOnScale = (reading: ArmReading, context: ChangeContext) => ArmChange | Refusal;

const changeOn = {
  "log-ratio-of-means": logRatioChange,
  "standardised-mean-change-baseline-deviation": scoreStandardisedChange,
  "standardised-mean-change-after-deviation": scoreStandardisedChange,
  "standardised-mean-change-pooled-deviation": scoreStandardisedChange,
  "standardised-mean-change-change-deviation": changeStandardisedChange,
  "standardised-mean-difference": withinStandardisedChange,
  "raw-mean-difference": rawChange,
  "log-variability-ratio": logVariabilityChange,
  "log-coefficient-of-variation-ratio": logCoefficientOfVariationChange,
} as const satisfies Record<EffectScale, ChangeOnScale>;

/**
 * One arm's change from before to after on the scale asked for, from whatever its row prints.
 *
 * @param reading  what the row prints
 * @param context  resolved options and where correlations come from
 * @returns estimate, variance and story, or why this scale cannot be reached from this row
 * @source none: each scale's formula names its source in its own file
 */
export const armChange = (reading: ArmReading, context: ChangeContext): ArmChange | Refusal => {
  const ready = readyEffect(reading.row, context.options.scale);
  if (ready !== undefined) {
    if (isRefusal(ready)) {
      // The row may print means besides; when they do not lead to the scale either, say what was tried first.
      const other = changeOn[context.options.scale](reading, context);
      return isRefusal(other) ? ready : other;
    }
    return {
      estimate: ready.estimate,
      variance: ready.variance,
      loading: { mean: Math.sqrt(ready.variance), spread: 0 },
      route: ready.route,
      notes: [],
    };
  }
  return changeOn[context.options.scale](reading, context);
};
