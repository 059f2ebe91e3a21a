/** What would make a session fit: one thing changed at a time, the rest as prescribed. */
import type { Note } from "../errors.js";
import { CallError } from "../errors.js";
import { contractionsPerSession } from "../protocol/derived-quantities.js";
import { checkPrescription, type Prescription } from "../protocol/prescription.js";
import { sessionTimeline } from "../protocol/session-timeline.js";
import { maximalFromPercent } from "./assessment-cases.js";
import {
  holdGrade,
  longestJudgedSeconds,
  mostFinish,
  type CanBeHeldOptions,
  type HoldGrade,
} from "./can-be-held.js";

/** The edge of what fits, or why there is none. */
export type Fit =
  | Readonly<{ kind: "limit"; value: number }>
  /** Nothing within the reach of the search fails. */
  | Readonly<{ kind: "no limit"; searchedTo: number }>
  /** Not even the easiest value fits: another field has to change. */
  | Readonly<{ kind: "cannot fit" }>;

/** The worst grade that is kept: nothing harder than to spare, or all that most people finish. */
export const keptGrades = ["to spare", "hard"] as const;
export type KeptGrade = (typeof keptGrades)[number];

/** Whether a grade is kept. What has no grade is not ruled out, but nothing says that it is to spare. */
export const isKept = (grade: HoldGrade | null, keep: KeptGrade): boolean =>
  keep === "to spare" ? grade === "to spare" : mostFinish(grade);

export type WhatWouldFit = Readonly<{
  /** The grade that had to be kept. */
  keep: KeptGrade;
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
    /** The worst grade to keep. */
    keep?: KeptGrade;
  }>;
export const whatWouldFitDefaults = { keep: "to spare" } as const;

/** Most repetitions tried; no search goes to where the session takes over an hour, which is not judged. */
export const mostRepetitionsTried = 200;
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
const shortest = (reachSeconds: number, fits: (value: number) => boolean): Fit => {
  const reach = Math.floor(reachSeconds / stepSeconds);
  if (fits(0)) return { kind: "limit", value: 0 };
  if (!fits(inSeconds(reach))) return { kind: "cannot fit" };
  const longestThatFails = lastThatFits(0, reach, (steps) => !fits(inSeconds(steps)));
  return { kind: "limit", value: inSeconds(longestThatFails + 1) };
};

/**
 * The longest hold, the most repetitions and the shortest rests that keep a session's grade, each
 * with all else as prescribed. Found by halving: a longer hold, one more repetition and a shorter rest
 * never make a session easier. Holds and rests to 0.1 s, on the safe side; a range of holds is
 * replaced by the one length.
 *
 * @throws {CallError} when the prescription is unsound or lacks what `canBeHeld` needs, and for a
 *   maximal effort and a session of over an hour, which have no grade
 * @source none: a search over `holdGrade`
 */
export const whatWouldFit = (p: Prescription, options: WhatWouldFitOptions = {}): WhatWouldFit => {
  checkPrescription(p, "whatWouldFit");
  const keep = options.keep ?? whatWouldFitDefaults.keep;
  const timeline = sessionTimeline(p);
  const seconds = timeline.at(-1)?.endSeconds ?? 0;
  if ((timeline[0]?.intensityPercent ?? 0) >= maximalFromPercent)
    throw new CallError({
      code: "maximal-effort",
      where: "whatWouldFit",
      needs: `an intensity below ${maximalFromPercent}% of MVC`,
      got: "a maximal effort, at which there is no load to fail at",
      try: `give a percentage below ${maximalFromPercent}`,
    });
  if (seconds > longestJudgedSeconds)
    throw new CallError({
      code: "outside-limits",
      where: "whatWouldFit",
      needs: "a session of at most an hour",
      got: `one of ${(seconds / 60).toFixed(0)} min, which is not judged`,
    });
  const { holdSecondsHigh, ...oneHold } = p;
  const fits = (change: Partial<Prescription>): boolean =>
    isKept(
      holdGrade("holdSeconds" in change ? { ...oneHold, ...change } : { ...p, ...change }, options),
      keep,
    );
  /** How long each of some like parts could be with the session still within the hour. */
  const reach = (now: number, count: number): number =>
    now + (longestJudgedSeconds - seconds) / count;
  const within = p.restBetweenRepetitionsSeconds ?? 0;
  const noRestBetween = p.restBetweenRepetitionsSeconds === undefined;
  return {
    keep,
    longestHoldSeconds: largest(
      1,
      Math.floor(
        reach(
          (timeline[0]?.endSeconds ?? 0) - (timeline[0]?.startSeconds ?? 0),
          contractionsPerSession(p),
        ) / stepSeconds,
      ),
      inSeconds,
      (holdSeconds) => fits({ holdSeconds }),
    ),
    ...(noRestBetween
      ? {}
      : {
          mostRepetitions: largest(
            1,
            Math.min(
              mostRepetitionsTried,
              Math.max(2, Math.floor(reach(p.repetitions, p.sets * (p.holdSeconds + within)))),
            ),
            (count) => count,
            (repetitions) => fits({ repetitions }),
          ),
        }),
    ...(p.repetitions > 1
      ? {
          shortestRestBetweenRepetitionsSeconds: shortest(
            reach(within, p.sets * (p.repetitions - 1)),
            (restBetweenRepetitionsSeconds) => fits({ restBetweenRepetitionsSeconds }),
          ),
        }
      : {}),
    ...(p.sets > 1
      ? {
          shortestRestBetweenSetsSeconds: shortest(
            reach(p.restBetweenSetsSeconds ?? 0, p.sets - 1),
            (restBetweenSetsSeconds) => fits({ restBetweenSetsSeconds }),
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
