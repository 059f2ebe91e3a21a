/** What a working-up is asked for with, and what is refused before it is begun. */
import type { CanBeHeldOptions } from "../endurance/can-be-held.js";
import { CallError } from "../errors.js";
import { checkPrescription } from "../protocol/prescription.js";
import type { Prescription } from "../protocol/prescription.js";
import { timelineNeeds } from "../protocol/session-timeline.js";
import { rampFroms, rampRules } from "./ramp-start.js";
import type { RampFrom, RampRule } from "./ramp-start.js";

export type RampOptions = Readonly<{
  from: RampFrom;
  /** Weeks from the first to the one at the target, 1 to 104, whole. */
  weeks: number;
  /** Joint or region for the endurance check; the target's own joint when left out. */
  joint?: NonNullable<CanBeHeldOptions["joint"]>;
  /** Numbers to use in place of the rule's for this kind of person. */
  rule?: Partial<RampRule>;
}>;

/** Longest working-up that can be asked for. */
export const mostRampWeeks = 104;

/**
 * The rule to work by, once target and options are known to be usable.
 *
 * @throws CallError naming what is wrong
 * @source none: limits of common sense
 */
export const checkRampOptions = (target: Prescription, options: RampOptions): RampRule => {
  const where = "rampPlan";
  if (!rampFroms.includes(options.from))
    throw new CallError({
      code: "unknown-choice",
      where,
      needs: `from as one of ${rampFroms.join(", ")}`,
      got: String(options.from),
    });
  const { weeks } = options;
  if (!Number.isInteger(weeks) || weeks < 1 || weeks > mostRampWeeks)
    throw new CallError({
      code: "outside-limits",
      where,
      needs: `a whole number of weeks from 1 to ${mostRampWeeks}`,
      got: String(weeks),
    });
  checkPrescription(target, where);
  const needs = timelineNeeds(target);
  if (needs.length > 0)
    throw new CallError({
      code: "missing-field",
      where,
      needs:
        "a target with every rest and an intensity in percent of MVC, so that each week can be checked",
      got: `one without ${needs.join(" and ")}`,
      try: "for example 4 × 20 s at 70%, rest 60 s, 3/week",
    });
  const rule = { ...rampRules[options.from], ...options.rule };
  const bounds: Readonly<Record<keyof RampRule, number>> = {
    startEffortPercent: 100,
    startHoldsShare: 1,
    startHoldLengthShare: 1,
    startSessionsPerWeek: 70,
    effortBeforeLengthPercent: 100,
    largestEffortStepPercent: 100,
    largestVolumeStepShare: 1,
  };
  for (const [name, high] of Object.entries(bounds)) {
    const value = rule[name as keyof RampRule];
    if (!(value > 0 && value <= high))
      throw new CallError({
        code: "outside-limits",
        where,
        needs: `${name} above 0 and at most ${high}`,
        got: String(value),
      });
  }
  return rule;
};
