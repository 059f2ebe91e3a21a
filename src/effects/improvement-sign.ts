import { higherIs } from "../records/outcome-families.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { EffectScale } from "./effect.js";
import { scales } from "./scales.js";

/**
 * Whether a scale compares spread; such a scale has no direction of improvement.
 *
 * @source none: convention of this project
 */
export const isSpreadScale = (scale: EffectScale): boolean => scales[scale].ofSpread;

/**
 * 1 when a rise of the outcome is an improvement, −1 when a fall is. Scales of spread keep their sign.
 *
 * A log ratio is turned by changing its sign, which turns the ratio upside down.
 *
 * @source none: convention of this project
 */
export const improvementSign = (
  row: Pick<OutcomeRow, "higherIs" | "outcomeFamily">,
  scale: EffectScale,
): 1 | -1 => (!isSpreadScale(scale) && higherIs(row) === "worse" ? -1 : 1);
