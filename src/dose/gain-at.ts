import { evaluateCurve, type CurvePoint } from "./averaged-curve.js";
import type { DoseCurve } from "./dose-response-result.js";
import { doseText, type Refusal } from "./identifiability.js";

/** The gain at one dose, or why it is not told. */
export type GainAt =
  | Readonly<{ identified: true; dose: number; point: CurvePoint }>
  | (Refusal & Readonly<{ dose: number }>);

/**
 * The gain a curve predicts at a dose, with its pointwise interval; outside the doses that were compared a refusal.
 *
 * @param answer from `doseResponse`
 * @param dose   in the axis's unit
 * @source none: reads evaluateCurve inside the compared range only
 */
export const gainAt = (answer: DoseCurve, dose: number): GainAt => {
  const { range, axis, averaged } = answer;
  if (!(dose >= range.low && dose <= range.high)) {
    return {
      identified: false,
      dose,
      missing: `${doseText(dose, axis)} lies outside the doses compared, ${doseText(range.low, axis)} to ${doseText(range.high, axis)}; nothing is said there`,
    };
  }
  return { identified: true, dose, point: evaluateCurve(averaged, dose) };
};
