import type { Note } from "../errors.js";
import type { ChangeContext, Loading } from "./arm-change.js";
import type { LentSpread } from "./lent-spread.js";
import type { ResolvedCorrelation } from "./pre-post-correlation.js";

/** Whether two arms are different people, the two limbs of the same, or the same in two periods. */
export type ArmRelation =
  "different people" | "limbs of the same people" | "periods of the same people";

/** One arm against another on one scale, in the outcome's own direction. */
export type ArmContrast = Readonly<{
  estimate: number;
  variance: number;
  /** How the effect follows each arm's chance; the comparator's signs are already turned. */
  treatedLoading: Loading;
  comparatorLoading: Loading;
  correlations: readonly ResolvedCorrelation[];
  /** Spreads that are borrowed, of either arm. */
  lent?: readonly LentSpread[];
  /** Correlation between limbs or periods that the variance rests on. */
  betweenLimbs?: number;
  route: string;
  notes: readonly Note[];
}>;

/**
 * Correlation of the changes of two arms made of the same people; 0 for different people.
 *
 * @source none: choice among the options
 */
export const relationCorrelation = (
  relation: ArmRelation,
  options: ChangeContext["options"],
): number => {
  if (relation === "limbs of the same people") return options.limbsCorrelation;
  return relation === "periods of the same people" ? options.periodsCorrelation : 0;
};
