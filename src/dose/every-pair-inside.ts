import type { Interval } from "../synthesis/synthesis-results.js";
import { curveStep, type AveragedCurve } from "./averaged-curve.js";
import { gridDoses } from "./curve-grid.js";
import { equivalenceConfidence } from "./verdict.js";

/** Every so many doses of a curve's grid are compared with each other. */
const gridStep = 3;

/**
 * Whether every pair of doses on a grid over a span differs by less than an amount, by the ordinary 90% interval of
 * their difference.
 *
 * The claim is an intersection of claims, each with level 5%, so that it has level 5% itself.
 *
 * @param span doses, inside what was compared
 * @param amount above 0, on the effects' scale
 * @source Schuirmann (1987) Journal of Pharmacokinetics and Biopharmaceutics 15:657–680; Berger (1982)
 *   Technometrics 24:295–300 (intersections of claims)
 */
export const everyPairInside = (curve: AveragedCurve, span: Interval, amount: number): boolean => {
  // A curve that cannot slope at all says nothing about differences.
  if (curve.components.every(({ shape }) => shape === "none")) return false;
  const asked = { ...curve, confidence: equivalenceConfidence };
  const doses = gridDoses(span).filter((_, place) => place % gridStep === 0);
  return doses.every((from, place) =>
    doses.slice(place + 1).every((to) => {
      const { low, high } = curveStep(asked, from, to).interval;
      return low > -amount && high < amount;
    }),
  );
};
