/** What has to be said beside a working-up: what it rests on, and what it does not know. */
import type { Note } from "../errors.js";
import type { HoldAssessment } from "../endurance/can-be-held.js";
import type { Prescription } from "../protocol/prescription.js";
import type { RampFrom } from "./ramp-start.js";

const about: Readonly<Record<RampFrom, string>> = {
  deconditioned:
    "deconditioned: begins with half of the holds, half of their length and 40 % effort unless told otherwise",
  "returning after injury":
    "returning after injury: whether, when and at which angles to load the site is for the clinician who treats it; the plan begins only then, and pain on the day and the next day goes before the calendar",
  trained: "trained: begins with three quarters of the holds and 60 % effort unless told otherwise",
};

/** Statements of an endurance check that hold for the whole plan. */
const carried: readonly string[] = [
  "general-curve",
  "band",
  "no-person-terms",
  "rating-as-percent",
];

/**
 * The notes of a plan.
 *
 * @param held the endurance check of the target
 */
export const rampNotes = (
  target: Prescription,
  from: RampFrom,
  held: HoldAssessment,
): readonly Note[] => [
  { code: "start", message: about[from] },
  {
    code: "order-is-practice",
    message:
      "one change at a time, middle length and moderate effort first, another muscle length and near-maximal effort last: common practice, no source",
  },
  {
    code: "sizes-are-chosen",
    message:
      "the size of the start and of the weekly steps is chosen here, no source; no trial that was read compared ways of working up to isometric training",
  },
  {
    code: "repeat-a-week",
    message:
      "a week that hurt, or was not finished, is repeated or taken back, not passed over: common practice, no source",
  },
  ...(target.muscleLength === undefined
    ? [
        {
          code: "length-not-stated",
          message:
            "the target does not say at which muscle length it is held, so the plan cannot change it; begin near the middle of the range",
        },
      ]
    : []),
  ...(target.trainingAngleDegrees !== undefined &&
  target.muscleLength !== undefined &&
  target.muscleLength !== "middle"
    ? [
        {
          code: "angle-waits",
          message:
            "the training angle of the target is left out until its muscle length is taken up; until then train near the middle of the range",
        },
      ]
    : []),
  ...(target.weeks === undefined
    ? []
    : [
        {
          code: "weeks-begin-after",
          message: `the target's own ${target.weeks} weeks begin when the plan has arrived`,
        },
      ]),
  ...held.statements.filter(({ code }) => carried.includes(code)),
];
