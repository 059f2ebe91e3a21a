import { logCoefficientOfVariationChange, logVariabilityChange } from "./arm-change-of-spread.js";
import { logRatioChange, rawChange } from "./arm-change-of-means.js";
import {
  changeStandardisedChange,
  scoreStandardisedChange,
  withinStandardisedChange,
} from "./arm-change-standardised.js";
import type { ArmChange, ChangeContext } from "./arm-change.js";
import type { ArmReading } from "./arm-reading.js";
import type { EffectScale } from "./effect.js";
import { readyEffect } from "./ready-effect.js";
import { isRefusal, type Refusal } from "./refusal.js";

type ChangeOnScale = (reading: ArmReading, context: ChangeContext) => ArmChange | Refusal;

/** The formula of each scale, by its name. */
const changeOn = {
  "log-ratio-of-means": logRatioChange,
  "log-ratio-of-means-where-lower-is-better": logRatioChange,
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
export const changeOnScale = (reading: ArmReading, context: ChangeContext): ArmChange | Refusal => {
  const ready = readyEffect(reading.row, context.options.scale);
  if (ready !== undefined) {
    if (isRefusal(ready)) {
      // The row may print means besides; when they do not lead to the scale either, say what was tried first.
      const other = changeOn[context.options.scale](reading, context);
      return isRefusal(other) ? { ...other, ...ready } : other;
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
