import { checkPrescription, canonicalPrescription } from "./prescription.js";
import type { IntensityBasis, Prescription } from "./prescription.js";

const basisWords: Readonly<Record<IntensityBasis, string>> = {
  "percent of MVC at the training angle": " MVC",
  "percent of MVC at another angle": " MVC at another angle",
  "percent of one-repetition maximum": " 1RM",
  "maximal effort": ", maximal",
  "effort rating 0–10": "",
};

const range = (low: number, high: number | undefined): string =>
  high === undefined ? String(low) : `${low}–${high}`;

const work = (p: Prescription): string => {
  const holds = `${range(p.repetitions, p.repetitionsHigh)} × ${range(p.holdSeconds, p.holdSecondsHigh)} s`;
  return p.sets === 1 && p.setsHigh === undefined && p.restBetweenSetsSeconds === undefined
    ? holds
    : `${range(p.sets, p.setsHigh)} × (${holds})`;
};

const effort = (p: Prescription): string => {
  if (p.effortRating !== undefined)
    return ` at effort ${range(p.effortRating, p.effortRatingHigh)}`;
  if (p.intensityPercent !== undefined)
    return ` at ${range(p.intensityPercent, p.intensityPercentHigh)}%${
      p.intensityBasis === undefined ? "" : basisWords[p.intensityBasis]
    }`;
  return p.intensityBasis === "maximal effort" ? ", maximal" : "";
};

const place = (p: Prescription): string | undefined => {
  const angles = p.trainingAngleDegrees?.map((angle) => `${angle}°`).join(" / ");
  return angles === undefined ? p.joint : `${p.joint ?? "angle"} ${angles}`;
};

const intents = ["as fast as possible", "ramped and sustained", "to failure"];

/**
 * A prescription in the short form a coach would write by hand, always the same for the same
 * prescription; `parsePrescription` reads it back.
 *
 * One set is `4 × 30 s`, more are `4 × (5 × 3 s)`. Times are in seconds.
 *
 * @throws {CallError} when the prescription is not sound
 * @example writePrescription({ sets: 1, repetitions: 4, holdSeconds: 30 }) // "4 × 30 s"
 */
export const writePrescription = (prescription: Prescription): string => {
  const p = canonicalPrescription(checkPrescription(prescription, "writePrescription"));
  return [
    `${work(p)}${effort(p)}`,
    ...(p.restBetweenRepetitionsSeconds === undefined
      ? []
      : [`rest ${range(p.restBetweenRepetitionsSeconds, p.restBetweenRepetitionsSecondsHigh)} s`]),
    ...(p.restBetweenSetsSeconds === undefined
      ? []
      : [`${range(p.restBetweenSetsSeconds, p.restBetweenSetsSecondsHigh)} s between sets`]),
    ...(p.sessionsPerWeek === undefined
      ? []
      : [`${range(p.sessionsPerWeek, p.sessionsPerWeekHigh)}/week`]),
    ...(p.weeks === undefined ? [] : [`${range(p.weeks, p.weeksHigh)} weeks`]),
    p.muscleLength,
    place(p),
    p.action,
    p.effortIntent === undefined || intents.includes(p.effortIntent)
      ? p.effortIntent
      : `intent "${p.effortIntent}"`,
  ]
    .filter((part) => part !== undefined)
    .join(", ");
};
