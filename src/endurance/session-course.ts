/** A whole session carried through the fatigue model: when it first fails, what is left at each time. */
import type { TimelinePart } from "../protocol/session-timeline.js";
import { advance, capacity, freshState } from "./three-compartment.js";
import type { FatigueParameters } from "./fatigue-parameters.js";

/** Where in a session the reserve runs out. */
export type FailurePoint = Readonly<{
  set: number;
  repetition: number;
  /** Seconds from the start of the session. */
  seconds: number;
  /** Seconds from the start of that hold. */
  secondsIntoHold: number;
}>;

export type SessionCourse = Readonly<{
  failsAt?: FailurePoint;
  /** Least of (capacity − load) over the ends of the holds, percent of MVC; below 0 after failure. */
  smallestReservePercent: number;
  /** Capacity at the end of each hold, percent of MVC. */
  afterHoldsPercent: readonly number[];
  /** Capacity at `samplesPerPart` evenly spaced times of each part, percent of MVC. */
  samplesPercent: readonly number[];
}>;

export type SessionCourseOptions = Readonly<{
  /** How many times of each part to report; 0, the default, for none. */
  samplesPerPart?: number;
  /** Whether to end with the first hold that fails, where only that is asked; false by default. */
  untilFailure?: boolean;
}>;

/**
 * A fresh muscle's course through a session. After the first failure the session is carried on at
 * full effort, so that what follows shows what would be left.
 *
 * @param timeline parts in order, efforts in percent of MVC, at most 100
 */
export const sessionCourse = (
  timeline: readonly TimelinePart[],
  parameters: FatigueParameters,
  options: SessionCourseOptions = {},
): SessionCourse => {
  const { samplesPerPart = 0, untilFailure = false } = options;
  let state = freshState;
  let failsAt: FailurePoint | undefined;
  let smallestReservePercent = Infinity;
  const afterHoldsPercent: number[] = [];
  const samplesPercent: number[] = [];
  for (const part of timeline) {
    const demand = Math.min(part.intensityPercent / 100, 1);
    const seconds = part.endSeconds - part.startSeconds;
    for (let sample = 1; sample < samplesPerPart; sample += 1) {
      const there = advance(state, demand, (seconds * sample) / samplesPerPart, parameters);
      samplesPercent.push(100 * capacity(there.state));
    }
    const { state: end, failedAfterSeconds } = advance(state, demand, seconds, parameters);
    state = end;
    const left = 100 * capacity(state);
    if (samplesPerPart > 0) samplesPercent.push(left);
    if (part.kind !== "hold") continue;
    afterHoldsPercent.push(left);
    smallestReservePercent = Math.min(smallestReservePercent, left - part.intensityPercent);
    if (failedAfterSeconds !== undefined)
      failsAt ??= {
        set: part.set,
        repetition: part.repetition,
        seconds: part.startSeconds + failedAfterSeconds,
        secondsIntoHold: failedAfterSeconds,
      };
    if (untilFailure && failsAt !== undefined) break;
  }
  return {
    ...(failsAt === undefined ? {} : { failsAt }),
    smallestReservePercent,
    afterHoldsPercent,
    samplesPercent,
  };
};
