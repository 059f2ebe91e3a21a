import type { NoteCode, Note } from "../errors.js";
import {
  contractionsPerSession,
  effectiveHoldSeconds,
  effectiveIntensityPercent,
  missingRests,
  percentPerRatingStep,
} from "./derived-quantities.js";
import type { Prescription } from "./prescription.js";

/**
 * What was taken for granted, or could not be worked out, when a dose is derived from a
 * prescription: midpoints of ranges, ratings read as percentages, efforts on a basis that does not
 * convert, rests that are not known.
 */
export const doseNotes = (p: Prescription): readonly Note[] => {
  const notes: Note[] = [];
  const add = (code: NoteCode, message: string): void => {
    notes.push({ code, message });
  };
  if (p.holdSecondsHigh !== undefined)
    add(
      "hold-midpoint",
      `the hold is a range, ${p.holdSeconds}–${p.holdSecondsHigh} s; its midpoint ${effectiveHoldSeconds(p)} s is used`,
    );
  const intensity = effectiveIntensityPercent(p);
  if (p.intensityPercentHigh !== undefined && intensity !== undefined)
    add(
      "intensity-midpoint",
      `the intensity is a range, ${String(p.intensityPercent)}–${p.intensityPercentHigh}%; its midpoint ${intensity}% is used`,
    );
  if (p.effortRating !== undefined)
    add(
      "rating-as-percent",
      `effort ${p.effortRating} on the 0–10 scale is read as ${percentPerRatingStep * p.effortRating}% of MVC: common practice, no source; ratings drift upwards in long holds`,
    );
  if (p.intensityBasis === "percent of one-repetition maximum")
    add(
      "basis-does-not-convert",
      "a percentage of a one-repetition maximum does not convert to a percentage of MVC; nothing that needs the intensity is worked out",
    );
  if (p.intensityBasis === "percent of MVC at another angle")
    add(
      "basis-does-not-convert",
      "the MVC was taken at another angle, so the percentage is not of the force at the trained angle; nothing that needs the intensity is worked out",
    );
  if (p.intensityBasis === undefined && p.intensityPercent !== undefined)
    add("basis-assumed", "the percentage is taken to be of MVC at the training angle");
  if (p.intensityBasis === "maximal effort" && p.intensityPercent === undefined)
    add(
      "maximal-as-100",
      "maximal effort is counted as 100% of MVC, which later holds do not reach",
    );
  if (intensity === undefined && p.intensityPercent === undefined)
    add("no-intensity", "no intensity is given; nothing that needs it is worked out");
  const missing = missingRests(p);
  if (missing.length > 0)
    add(
      "no-rest",
      `${contractionsPerSession(p)} holds, but no rest between ${missing
        .map((field) => (field === "restBetweenSetsSeconds" ? "sets" : "holds"))
        .join(" or ")} is given; the length of the session is not known`,
    );
  return notes;
};
