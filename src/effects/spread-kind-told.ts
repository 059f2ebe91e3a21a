import type { OutcomeRow } from "../records/outcome-row.js";
import { tFromF, tFromP } from "./standard-deviation-from-test.js";

/** Correlations between before and after that trials print lie between these, generously; ours. */
const least = 0;
const most = 0.995;

/** What a row's test says of its spreads; `cannot tell` where both or neither fit. */
export type SpreadKindTold = Readonly<{
  kind: "standard deviation" | "standard error" | "cannot tell" | "neither fits";
  /** The correlation between before and after each reading asks for; its least where only a bound of p is known. */
  correlation: Readonly<{ asDeviation: number; asError: number }>;
  /** Whether the p was a bound, so that the correlations are the least that fit. */
  isBound: boolean;
}>;

/**
 * Whether the spreads before and after can be deviations, or errors, from the test of the change within the arm.
 *
 *   s_c = |D|·√n/|t|,  r = (s₁² + s₂² − s_c²)/(2·s₁·s₂);  as errors, s is the printed spread times √n
 *
 * D mean change, t the paired t value of the printed t, F or two-sided p. A reading fits where r lies between 0 and 0.995;
 * of a bound p < α only the least r is known, and of p > α the greatest.
 *
 * @param row  both means, both spreads, people, and a test of the change within the arm
 * @returns undefined where one of these is missing, or the means are equal
 * @source Cochrane Handbook for Systematic Reviews of Interventions, chapter 6 (deviations of changes and correlations);
 *   limits of what fits: this project's
 */
export const spreadKindTold = (row: OutcomeRow): SpreadKindTold | undefined => {
  const { preMean, postMean, preSpread, postSpread, tValue, fValue, pValue, pBound } = row;
  const people = row.nEnd ?? row.nStart;
  if (row.statisticOf === "difference from comparator" || people === undefined || people < 3)
    return undefined;
  if (preMean === undefined || postMean === undefined || preMean === postMean) return undefined;
  if (!preSpread || !postSpread) return undefined;
  const p = pValue ?? pBound?.p;
  const t =
    tValue !== undefined
      ? Math.abs(tValue)
      : fValue !== undefined
        ? tFromF(fValue)
        : p !== undefined && p > 0 && p < 1
          ? tFromP({ p, degreesOfFreedom: people - 1 })
          : 0;
  if (t === 0) return undefined;
  const change = (Math.abs(postMean - preMean) * Math.sqrt(people)) / t;
  const correlation = (whole: number): number =>
    (whole * (preSpread ** 2 + postSpread ** 2) - change ** 2) /
    (2 * whole * preSpread * postSpread);
  const [asDeviation, asError] = [correlation(1), correlation(people)];
  const bound =
    tValue === undefined && fValue === undefined && pValue === undefined ? pBound?.side : undefined;
  const fits = (r: number): boolean =>
    (bound === "above" || r <= most) && (bound === "below" || r >= least);
  const [deviation, error] = [fits(asDeviation), fits(asError)];
  return {
    kind:
      deviation === error
        ? deviation
          ? "cannot tell"
          : "neither fits"
        : deviation
          ? "standard deviation"
          : "standard error",
    correlation: { asDeviation, asError },
    isBound: bound !== undefined,
  };
};
