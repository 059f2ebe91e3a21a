import { CallError } from "../errors.js";
import {
  effectiveHoldSeconds,
  effectiveIntensityPercent,
  missingRests,
} from "./derived-quantities.js";
import type { Prescription } from "./prescription.js";
import { typicalOf } from "./range-ends.js";

/** One stretch of a session. `set` and `repetition` count from 1; a rest bears those of the hold before it. */
export type TimelinePart = Readonly<{
  kind: "hold" | "rest between repetitions" | "rest between sets";
  startSeconds: number;
  endSeconds: number;
  /** Target effort, percent of MVC; 0 in a rest. */
  intensityPercent: number;
  set: number;
  repetition: number;
}>;

/** The fields a session needs to be laid out in time and effort and that this prescription lacks. */
export const timelineNeeds = (p: Prescription): readonly (keyof Prescription)[] => [
  ...missingRests(p),
  ...(effectiveIntensityPercent(p) === undefined ? (["intensityPercent"] as const) : []),
];

/**
 * A session laid out in time: holds and the rests between them, each beginning where the one before
 * ends. Rests of no length are left out. Ranges stand at their midpoints.
 *
 * @throws {CallError} naming the fields that are missing; ask `timelineNeeds` first
 */
export const sessionTimeline = (ranged: Prescription): readonly TimelinePart[] => {
  const p = typicalOf(ranged);
  const needs = timelineNeeds(p);
  const intensityPercent = effectiveIntensityPercent(p);
  if (needs.length > 0 || intensityPercent === undefined)
    throw new CallError({
      code: "missing-field",
      where: "sessionTimeline",
      needs: "every rest and an intensity in percent of MVC",
      got: `a prescription without ${needs.join(" and ")}`,
      try: "for example 4 × 20 s at 70%, rest 60 s",
    });
  const hold = effectiveHoldSeconds(p);
  const parts: TimelinePart[] = [];
  let clock = 0;
  const add = (
    kind: TimelinePart["kind"],
    seconds: number,
    effort: number,
    set: number,
    repetition: number,
  ): void => {
    if (seconds === 0) return;
    parts.push({
      kind,
      startSeconds: clock,
      endSeconds: clock + seconds,
      intensityPercent: effort,
      set,
      repetition,
    });
    clock += seconds;
  };
  for (let set = 1; set <= p.sets; set += 1)
    for (let repetition = 1; repetition <= p.repetitions; repetition += 1) {
      add("hold", hold, intensityPercent, set, repetition);
      if (repetition < p.repetitions)
        add("rest between repetitions", p.restBetweenRepetitionsSeconds ?? 0, 0, set, repetition);
      else if (set < p.sets)
        add("rest between sets", p.restBetweenSetsSeconds ?? 0, 0, set, repetition);
    }
  return parts;
};
