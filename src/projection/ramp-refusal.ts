/** Why there is no working-up to a target, and what there would be one for. */
import { holdGrade, mostFinish, type CanBeHeldOptions } from "../endurance/can-be-held.js";
import { whatWouldFit } from "../endurance/what-would-fit.js";
import type { WhatWouldFit } from "../endurance/what-would-fit.js";
import type { Note, Refusal } from "../errors.js";
import { effectiveIntensityPercent } from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import type { RampFrom, RampRule } from "./ramp-start.js";
import { prescriptionAtLevel, targetLevel } from "./ramp-start.js";
import type { RampSchedule } from "./ramp-steps.js";

/** Why there is no plan, and what there would be one for. */
export type RampRefusal = Refusal &
  Readonly<{
    code: "beyond-the-model" | "too-few-weeks";
    target: Prescription;
    from: RampFrom;
    rule: RampRule;
    /** What would fit, one thing changed at a time; sentences for people. */
    wouldFit: readonly string[];
    /** With too few weeks: the fewest, how far the weeks given reach, and the start from which they would do. */
    shortestWeeks?: number;
    reachedInTime?: Prescription;
    startThatFits?: Prescription;
    /** With a session beyond the model: the edges that would keep it within. */
    edges?: WhatWouldFit;
    /** With a session beyond the model: the highest whole effort that would keep it within, percent of MVC. */
    highestEffortPercent?: number;
    notes: readonly Note[];
  }>;

const number = (value: number): string => String(Number(value.toFixed(2)));

/** The edges within which a session could be held, as sentences. */
const edgeSentences = (edges: WhatWouldFit): readonly string[] => {
  const sentence = (
    fit: WhatWouldFit["longestHoldSeconds"] | undefined,
    say: (value: number) => string,
  ): readonly string[] => (fit?.kind === "limit" ? [say(fit.value)] : []);
  return [
    ...sentence(edges.longestHoldSeconds, (value) => `holds of at most ${number(value)} s`),
    ...sentence(
      edges.mostRepetitions,
      (value) => `at most ${value} ${value === 1 ? "hold" : "holds"} in a set`,
    ),
    ...sentence(
      edges.shortestRestBetweenRepetitionsSeconds,
      (value) => `at least ${number(value)} s of rest between holds`,
    ),
    ...sentence(
      edges.shortestRestBetweenSetsSeconds,
      (value) => `at least ${number(value)} s of rest between sets`,
    ),
  ];
};

/** Highest whole percentage below the prescribed effort at which most people finish a session. */
const highestEffort = (p: Prescription, holding: CanBeHeldOptions): number | undefined => {
  const { intensityPercentHigh: _high, effortRating: _rating, intensityBasis: _basis, ...rest } = p;
  const from = Math.ceil(effectiveIntensityPercent(p) ?? 1) - 1;
  for (let intensityPercent = from; intensityPercent >= 1; intensityPercent -= 1)
    if (mostFinish(holdGrade({ ...rest, intensityPercent }, holding))) return intensityPercent;
  return undefined;
};

/**
 * A session that the model rules out, with what would keep it within, one thing changed at a time.
 *
 * @param where which session it is, for the message
 * @source none: the edges are those of `whatWouldFit`
 */
export const beyondTheModel = (
  p: Prescription,
  where: string,
  holding: CanBeHeldOptions,
): Pick<RampRefusal, "code" | "reason" | "wouldFit" | "edges" | "highestEffortPercent"> => {
  const reason = `${where}, ${writePrescription(p)}, is a session most will not finish by the endurance model`;
  const highestEffortPercent = highestEffort(p, holding);
  const lessEffort =
    highestEffortPercent === undefined ? [] : [`an intensity of at most ${highestEffortPercent}%`];
  const effort = highestEffortPercent === undefined ? {} : { highestEffortPercent };
  const edges = whatWouldFit(p, { ...holding, keep: "hard" });
  return {
    code: "beyond-the-model",
    reason,
    wouldFit: [...edgeSentences(edges), ...lessEffort],
    edges,
    ...effort,
  };
};

const weeksText = (weeks: number): string => `${weeks} ${weeks === 1 ? "week" : "weeks"}`;

/**
 * A way that is longer than the weeks given: the fewest weeks, how far the weeks given reach on it, and
 * from which of its stages they would reach the end.
 *
 * @source none: arithmetic on the stages of the way
 */
export const tooFewWeeks = (
  target: Prescription,
  { shortest, shortestWeeks }: RampSchedule,
  weeks: number,
): Pick<
  RampRefusal,
  "code" | "reason" | "wouldFit" | "shortestWeeks" | "reachedInTime" | "startThatFits"
> => {
  const at = (index: number): Prescription =>
    prescriptionAtLevel(target, shortest[index]?.level ?? targetLevel(target));
  const reachedInTime = at(weeks - 1);
  const startThatFits = at(shortestWeeks - weeks);
  return {
    code: "too-few-weeks",
    reason: `one change a week, in steps no larger than allowed, needs ${weeksText(shortestWeeks)} from this start, and ${weeksText(weeks)} ${weeks === 1 ? "is" : "are"} given`,
    wouldFit: [
      `${weeksText(shortestWeeks)} or more`,
      `in ${weeksText(weeks)} this way comes as far as ${writePrescription(reachedInTime)}`,
      `${weeksText(weeks)} would do only for someone who already trains at ${writePrescription(startThatFits)}`,
    ],
    shortestWeeks,
    reachedInTime,
    startThatFits,
  };
};
