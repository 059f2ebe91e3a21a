import { demanded } from "./arm-summary.js";

/**
 * Pre–post correlation that three printed deviations imply.
 *
 *   r = (s₁² + s₂² − s_c²) / (2·s₁·s₂)      s₁, s₂, s_c = deviations before, after, of the changes
 *
 * A value outside −1 to 1 is returned as it is: it means one of the three is wrong (a standard error
 * taken for a deviation, a slip of the decimal point), and the caller says so.
 *
 * @param deviations  before and after above 0, of the changes 0 or more, in one unit
 * @returns correlation, no unit; beyond ±1 when the three cannot belong together
 * @source Cochrane Handbook for Systematic Reviews of Interventions, chapter 6 (imputing change deviations)
 */
export const correlationFromDeviations = (
  deviations: Readonly<{ before: number; after: number; change: number }>,
): number => {
  const where = "correlationFromDeviations";
  const above = { where, needs: "deviations above 0", holds: (v: number) => v > 0 };
  const before = demanded(deviations.before, above);
  const after = demanded(deviations.after, above);
  const change = demanded(deviations.change, { ...above, holds: (v) => v >= 0 });
  return (before ** 2 + after ** 2 - change ** 2) / (2 * before * after);
};
