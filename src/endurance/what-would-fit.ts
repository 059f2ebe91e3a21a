/** What would make a session fit: one thing changed at a time, the rest as prescribed. */
import type { Note } from "../errors.js";
import { CallError } from "../errors.js";
import { checkPrescription, prescriptionLimits } from "../protocol/prescription.js";
import type { Prescription } from "../protocol/prescription.js";
import { sessionTimeline } from "../protocol/session-timeline.js";
import { holdGrade } from "./can-be-held.js";
import type { CanBeHeldOptions, HoldGrade } from "./can-be-held.js";

/** The edge of what fits, or why there is none. */
export type Fit =
  | Readonly<{ kind: "limit"; value: number }>
  /** Nothing within the reach of the search fails. */
  | Readonly<{ kind: "no limit"; searchedTo: number }>
  /** Not even the easiest value fits: another field has to change. */
  | Readonly<{ kind: "cannot fit" }>;

export type WhatWouldFit = Readonly<{
  /** The grade that had to be kept. */
  keep: "comfortable" | "near the limit";
  longestHoldSeconds: Fit;
  /** Most repetitions in each set; absent where no rest between holds is given. */
  mostRepetitions?: Fit;
  /** Absent where the session has no such rest. */
  shortestRestBetweenRepetitionsSeconds?: Fit;
  shortestRestBetweenSetsSeconds?: Fit;
  notes: readonly Note[];
}>;

export type WhatWouldFitOptions = CanBeHeldOptions &
  Readonly<{
    /** The grade to keep: `comfortable`, or at worst `near the limit`.
     */
    keep?: "comfortable" | "near the limit";
  }>;
export const whatWouldFitDefaults = { keep: "comfortable" } as const;

/** How far the searches go: a day's hold, 200 repetitions, an hour's rest. */
export const fitReach = {
  holdSeconds: prescriptionLimits.longestHoldSeconds,
  repetitions: 200,
  restSeconds: 3600,
} as const;
/** Fineness of the answers in seconds, rounded to the safe side. */
const stepSeconds = 0.1;

/** The largest of the steps low, low + 1 … high for which `fits` holds, given that it holds at low. */
const lastThatFits = (low: number, high: number, fits: (step: number) => boolean): number => {
  let [good, bad] = [low, high];
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2);
    if (fits(middle)) good = middle;
    else bad = middle;
  }
  return good;
};

const inSeconds = (steps: number): number => Number((steps * stepSeconds).toFixed(1));

/** The largest value of a thing that gets harder as it grows. */
const largest = (
  lowSteps: number,
  highSteps: number,
  valueOf: (steps: number) => number,
  fits: (value: number) => boolean,
): Fit => {
  if (fits(valueOf(highSteps))) return { kind: "no limit", searchedTo: valueOf(highSteps) };
  if (!fits(valueOf(lowSteps))) return { kind: "cannot fit" };
  const steps = lastThatFits(lowSteps, highSteps, (step) => fits(valueOf(step)));
  return { kind: "limit", value: valueOf(steps) };
};

/** The smallest value of a rest, which gets easier as it grows. */
const shortest = (fits: (value: number) => boolean): Fit => {
  const reach = Math.round(fitReach.restSeconds / stepSeconds);
  if (fits(0)) return { kind: "limit", value: 0 };
  if (!fits(fitReach.restSeconds)) return { kind: "cannot fit" };
  const longestThatFails = lastThatFits(0, reach, (steps) => !fits(inSeconds(steps)));
  return { kind: "limit", value: inSeconds(longestThatFails + 1) };
};

/**
 * The longest hold, the most repetitions and the shortest rests that keep a session's grade, each
 * with all else as prescribed. Found by halving: a longer hold, one more repetition and a shorter rest
 * never make a session easier. Holds and rests to 0.1 s, on the safe side; a range of holds is
 * replaced by the one length.
 *
 * @throws CallError when the prescription is unsound or lacks what `canBeHeld` needs, and for a
 *   maximal effort, which is at the limit whatever its length
 *
 * @source none: a search over `holdGrade`
 */
export const whatWouldFit = (p: Prescription, options: WhatWouldFitOptions = {}): WhatWouldFit => {
  checkPrescription(p, "whatWouldFit");
  const keep = options.keep ?? whatWouldFitDefaults.keep;
  const [first] = sessionTimeline(p);
  if (first !== undefined && first.intensityPercent >= 100)
    throw new CallError({
      code: "maximal-effort",
      where: "whatWouldFit",
      needs: "an intensity below 100% of MVC",
      got: "a maximal effort, at which there is no load to fail at",
      try: "give a percentage below 100",
    });
  const kept: readonly HoldGrade[] =
    keep === "comfortable" ? ["comfortable"] : ["comfortable", "near the limit"];
  const { holdSecondsHigh, ...oneHold } = p;
  const fits = (change: Partial<Prescription>): boolean =>
    kept.includes(
      holdGrade("holdSeconds" in change ? { ...oneHold, ...change } : { ...p, ...change }, options),
    );
  const noRestBetween = p.restBetweenRepetitionsSeconds === undefined;
  return {
    keep,
    longestHoldSeconds: largest(
      1,
      Math.round(fitReach.holdSeconds / stepSeconds),
      inSeconds,
      (holdSeconds) => fits({ holdSeconds }),
    ),
    ...(noRestBetween
      ? {}
      : {
          mostRepetitions: largest(
            1,
            fitReach.repetitions,
            (count) => count,
            (repetitions) => fits({ repetitions }),
          ),
        }),
    ...(p.repetitions > 1
      ? {
          shortestRestBetweenRepetitionsSeconds: shortest((restBetweenRepetitionsSeconds) =>
            fits({ restBetweenRepetitionsSeconds }),
          ),
        }
      : {}),
    ...(p.sets > 1
      ? {
          shortestRestBetweenSetsSeconds: shortest((restBetweenSetsSeconds) =>
            fits({ restBetweenSetsSeconds }),
          ),
        }
      : {}),
    notes: [
      ...(noRestBetween
        ? [
            {
              code: "no-rest" as const,
              message: "no rest between holds is given, so their number was not searched",
            },
          ]
        : []),
      ...(holdSecondsHigh === undefined
        ? []
        : [
            {
              code: "hold-range" as const,
              message: "the longest hold replaces the prescribed range",
            },
          ]),
    ],
  };
};
