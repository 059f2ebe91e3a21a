/** Working up to a protocol: a prescription for each week, one thing changed at a time. */
import {
  type CanBeHeldOptions,
  type HoldAssessment,
  canBeHeld,
  mostFinish,
} from "../endurance/can-be-held.js";
import type { Note } from "../errors.js";
import { type Prescription, canonicalPrescription } from "../protocol/prescription.js";
import { type RampOptions, checkRampOptions } from "./ramp-options.js";
import { type RampRefusal, beyondTheModel, tooFewWeeks } from "./ramp-refusal.js";
import { type RampFrom, type RampRule, startLevel, targetLevel } from "./ramp-start.js";
import { rampSchedule } from "./ramp-steps.js";
import { type RampWeek, rampWeek } from "./ramp-week.js";

const about: Readonly<Record<RampFrom, string>> = {
  deconditioned:
    "deconditioned: begins with half of the holds, half of their length and 40% intensity unless told otherwise",
  "returning after injury":
    "returning after injury: whether, when and at which angles to load the site is for the clinician who treats it; the plan begins only then, and pain on the day and the next day goes before the calendar",
  trained:
    "trained: begins with three quarters of the holds and 60% intensity unless told otherwise",
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
      "one change at a time, middle length and moderate intensity first, another muscle length and near-maximal intensity last: common practice, no source",
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
          code: "length-not-stated" as const,
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
          code: "angle-waits" as const,
          message:
            "the training angle of the target is left out until its muscle length is taken up; until then train near the middle of the range",
        },
      ]
    : []),
  ...(target.weeks === undefined
    ? []
    : [
        {
          code: "weeks-begin-after" as const,
          message: `the target's own ${target.weeks} weeks begin when the plan has arrived`,
        },
      ]),
  ...held.statements.filter(({ code }) => carried.includes(code)),
];

export type RampPlan = Readonly<{
  kind: "plan";
  target: Prescription;
  from: RampFrom;
  rule: RampRule;
  /** The fewest weeks this would have taken. */
  shortestWeeks: number;
  weeks: readonly RampWeek[];
  /** What the plan rests on and what it does not know. */
  notes: readonly Note[];
}>;

/**
 * A prescription for each week on the way to a target, or why there is none and what would fit.
 *
 * Begins at middle muscle length and moderate effort with fewer and shorter holds, changes one variable
 * from week to week or none, never lets one fall back, and comes to another muscle length and to
 * near-maximal effort last: common practice, no source. The size of the start and of the steps is
 * chosen here (`rampRules`), has no source either, and can be changed. Every week is run through
 * `canBeHeld`; a week or a target that most will not finish is refused. The plan is not a clearance for anybody.
 *
 * @param target what the last week is to be; its own number of weeks is left out, as it begins then
 * @throws CallError for an unsound target, one that cannot be laid out in time, and unusable options
 * @source none: common practice for the order, chosen here for the numbers; endurance as in `canBeHeld`
 *   (Frey Law & Avin 2010; Looft, Herkert & Frey-Law 2018)
 * @example rampPlan({ sets: 1, repetitions: 4, holdSeconds: 20, intensityPercent: 70, restBetweenRepetitionsSeconds: 60 }, { from: "deconditioned", weeks: 8 }).kind // => "plan"
 */
export const rampPlan = (target: Prescription, options: RampOptions): RampPlan | RampRefusal => {
  const rule = checkRampOptions(target, options);
  const goal = canonicalPrescription(target);
  const holding: CanBeHeldOptions = options.joint === undefined ? {} : { joint: options.joint };
  const schedule = rampSchedule(startLevel(goal, rule), targetLevel(goal), rule, options.weeks);
  const held = canBeHeld(goal, { ...holding, samplesPerPart: 0 });
  const said = {
    target: goal,
    from: options.from,
    rule,
    notes: rampNotes(goal, options.from, held),
  };
  if (!mostFinish(held.grade))
    return { kind: "refusal", ...said, ...beyondTheModel(goal, "the target", holding) };
  const { weekly, shortestWeeks } = schedule;
  if (weekly === undefined)
    return { kind: "refusal", ...said, ...tooFewWeeks(goal, schedule, options.weeks) };
  const weeks = weekly.map((stage, index) =>
    rampWeek(goal, stage, weekly[index - 1], index + 1, holding),
  );
  const hard = weeks.find(({ grade }) => !mostFinish(grade));
  return hard === undefined
    ? { kind: "plan", ...said, shortestWeeks, weeks }
    : {
        kind: "refusal",
        ...said,
        ...beyondTheModel(hard.prescription, `week ${hard.week} on the way`, holding),
      };
};
