/** Working up to a protocol: a prescription for each week, one thing changed at a time. */
import type { Note } from "../errors.js";
import { canBeHeld } from "../endurance/can-be-held.js";
import type { CanBeHeldOptions } from "../endurance/can-be-held.js";
import { canonicalPrescription } from "../protocol/prescription.js";
import type { Prescription } from "../protocol/prescription.js";
import { rampNotes } from "./ramp-notes.js";
import { checkRampOptions } from "./ramp-options.js";
import type { RampOptions } from "./ramp-options.js";
import { beyondTheModel, tooFewWeeks } from "./ramp-refusal.js";
import type { RampRefusal } from "./ramp-refusal.js";
import { startLevel, targetLevel } from "./ramp-start.js";
import type { RampFrom, RampRule } from "./ramp-start.js";
import { rampSchedule } from "./ramp-steps.js";
import { rampWeek } from "./ramp-week.js";
import type { RampWeek } from "./ramp-week.js";

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
 * `canBeHeld`; a week or a target beyond the model is refused. The plan is not a clearance for anybody.
 *
 * @param target what the last week is to be; its own number of weeks is left out, as it begins then
 * @throws CallError for an unsound target, one that cannot be laid out in time, and unusable options
 * @source none: common practice for the order, chosen here for the numbers; endurance as in `canBeHeld`
 *   (Frey Law & Avin 2010; Looft, Herkert & Frey-Law 2018)
 * @example rampPlan({ sets: 1, repetitions: 4, holdSeconds: 30, intensityPercent: 70, restBetweenRepetitionsSeconds: 60 }, { from: "deconditioned", weeks: 8 }).kind // => "plan"
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
  if (held.grade === "beyond what the model allows")
    return { kind: "refused", ...said, ...beyondTheModel(goal, "the target", holding) };
  const { weekly, shortestWeeks } = schedule;
  if (weekly === undefined)
    return { kind: "refused", ...said, ...tooFewWeeks(goal, schedule, options.weeks) };
  const weeks = weekly.map((stage, index) =>
    rampWeek(goal, stage, weekly[index - 1], index + 1, holding),
  );
  const hard = weeks.find(({ grade }) => grade === "beyond what the model allows");
  return hard === undefined
    ? { kind: "plan", ...said, shortestWeeks, weeks }
    : {
        kind: "refused",
        ...said,
        ...beyondTheModel(hard.prescription, `week ${hard.week} on the way`, holding),
      };
};
