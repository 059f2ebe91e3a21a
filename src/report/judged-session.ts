import { canBeHeld, type HoldAssessment } from "../endurance/can-be-held.js";
import type { Prescription } from "../protocol/prescription.js";
import { sessionTimeline, timelineNeeds, type TimelinePart } from "../protocol/session-timeline.js";
import { fieldWords } from "../protocol/written-reader.js";
import { holdAnswer } from "../tables/hold-table.js";

/** A session laid out and judged, or the words for what it lacks. */
export type JudgedSession = Readonly<{
  timeline?: readonly TimelinePart[];
  assessment?: HoldAssessment;
  /** Whether it can be held, in one line. */
  words: string;
}>;

/** Lays a session out and judges whether it can be held; says what is missing where it cannot. */
export const judgedSession = (p: Prescription): JudgedSession => {
  const needs = timelineNeeds(p);
  if (needs.length > 0)
    return {
      words: `Whether it can be held cannot be said without ${needs.map((field) => fieldWords[field]).join(" and ")}.`,
    };
  const assessment = canBeHeld(p);
  return {
    timeline: sessionTimeline(p),
    assessment,
    words: `Can it be held? ${holdAnswer(assessment)}`,
  };
};
