/** The carry-over between joint angles by its half width: the curve, and the width read off a fit or refused. */
import { refusal, type Refusal } from "../errors.js";
import type { OpenInterval } from "./curve-profile.js";
import type { CurveFit, CurveForm } from "./one-parameter-curve.js";

/** The width can be told, or what is missing. */
export type WidthAnswer =
  | Readonly<{
      kind: "told";
      /** Degrees from the trained angle at which half of the gain there is left. */
      degrees: number;
      interval: OpenInterval;
      degreesOfFreedom: number;
    }>
  | (Refusal & Readonly<{ atLeast?: number; atMost?: number }>);

/** A width wider than so many times the furthest tested distance is not read off: 84 % is left there. */
export const widestTold = 2;
const halving = Math.LN2;

/**
 * Share of the gain left at a distance: ½ at the half width.
 *
 *   share = exp(−ln 2 · (distance / halfWidth)²)
 *
 * @param distance degrees from the trained angle
 * @param halfWidth degrees, above 0
 * @source none: a bell curve by its half width
 */
export const shareLeft = (distance: number, halfWidth: number): number =>
  Math.exp(-halving * (distance / halfWidth) ** 2);

/**
 * The bell curve as a form to fit.
 * @param low narrowest width looked for, degrees
 * @param high widest
 * @source none: derivative of shareLeft
 */
export const carryOverForm = (low: number, high: number): CurveForm => ({
  share: shareLeft,
  slope: (distance, halfWidth) =>
    2 * halving * (distance / halfWidth) ** 2 * shareLeft(distance, halfWidth),
  range: { low, high },
});

/**
 * The width of a fitted curve, or what is missing for it.
 *
 * @param nearest nearest distance above 0 that was tested, degrees
 * @param furthest furthest
 * @source none: reading off a fit
 */
export const carryOverWidth = (fit: CurveFit, nearest: number, furthest: number): WidthAnswer => {
  const { limits, level } = fit;
  const width = fit.parameter!;
  if (!(level!.interval.low > 0)) {
    return refusal(
      "no-clear-gain",
      "no clear gain at the trained angle, so there is nothing whose carry-over could be told",
    );
  }
  if (fit.edge === "high") {
    return {
      kind: "refusal",
      code: "hardly-falls",
      reason: `the gain hardly falls off up to ${tidy(furthest)}° from the trained angle, so no width can be told`,
      ...(limits.low === null ? {} : { atLeast: limits.low }),
    };
  }
  if (fit.edge === "low") {
    return {
      kind: "refusal",
      code: "falls-too-soon",
      reason: `hardly any gain is left at the nearest other angle tested (${tidy(nearest)}° away), so only an upper limit can be told`,
      ...(limits.high === null ? {} : { atMost: limits.high }),
    };
  }
  if (!(fit.degreesOfFreedom >= 1)) {
    return refusal(
      "too-few-studies",
      "too few studies stand behind the width for an honest interval",
    );
  }
  return {
    kind: "told",
    degrees: width,
    interval: limits,
    degreesOfFreedom: fit.degreesOfFreedom,
  };
};

const tidy = (value: number): string => String(Number(value.toPrecision(3)));
