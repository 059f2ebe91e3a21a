/** What a working-up is asked for with, and what is refused before it is begun. */
import type { CanBeHeldOptions } from "../endurance/can-be-held.js";
import { CallError } from "../errors.js";
import { checkPrescription } from "../protocol/prescription.js";
import type { Prescription } from "../protocol/prescription.js";
import { timelineNeeds } from "../protocol/session-timeline.js";
import { rampFroms, rampRules } from "./ramp-start.js";
import type { RampFrom, RampRule } from "./ramp-start.js";

export type RampOptions = Readonly<{
  /** Where the person is now: a word for it, or the session done now. */
  from: RampFrom | Prescription;
  /** Weeks from the first to the one at the target, 1 to 104, whole. */
  weeks: number;
  /** Joint or region for the endurance check; the target's own joint when left out. */
  joint?: NonNullable<CanBeHeldOptions["joint"]>;
  /** The greatest joint angle that can be trained at now, degrees as the target has them. */
  greatestAngleDegrees?: number;
  /** Pain from 0 to 10 up to which the next week goes on as planned; `rampHoldBackAt` when left out. */
  holdBackAt?: number;
  /** Numbers to use in place of the rule's for this kind of person. */
  rule?: Partial<RampRule>;
}>;

/** Up to this pain the bands of the cautions say safe. */
export const rampHoldBackAt = 3;

/** Longest working-up that can be asked for. */
export const mostRampWeeks = 104;

/**
 * The rule to work by, once target and options are known to be usable. Who brings a session of their own goes on by the
 * middle rule, that of deconditioned people.
 *
 * @throws {CallError} naming what is wrong
 * @source none: limits of common sense
 */
export const checkRampOptions = (target: Prescription, options: RampOptions): RampRule => {
  const where = "rampPlan";
  const { weeks, from } = options;
  if (typeof from === "string" && !rampFroms.includes(from))
    throw new CallError({
      code: "unknown-choice",
      where,
      needs: `from as one of ${rampFroms.join(", ")}`,
      got: String(from),
    });
  if (!Number.isInteger(weeks) || weeks < 1 || weeks > mostRampWeeks)
    throw new CallError({
      code: "outside-limits",
      where,
      needs: `a whole number of weeks from 1 to ${mostRampWeeks}`,
      got: String(weeks),
    });
  for (const p of typeof from === "string" ? [target] : [target, from]) {
    checkPrescription(p, where);
    const needs = timelineNeeds(p).filter((field) => p === target || field === "intensityPercent");
    if (needs.length > 0)
      throw new CallError({
        code: "missing-field",
        where,
        needs:
          p === target
            ? "a target with every rest and an intensity in percent of MVC, so that each week can be checked"
            : "a start with an intensity in percent of MVC",
        got: `one without ${needs.join(" and ")}`,
        try: "for example 4 × 20 s at 70%, rest 60 s, 3/week",
      });
  }
  const rule = { ...rampRules[typeof from === "string" ? from : "deconditioned"], ...options.rule };
  const bounds: Readonly<Record<keyof RampRule, number>> = {
    startEffortPercent: 100,
    startHoldsShare: 1,
    startHoldLengthShare: 1,
    largestEffortStepPercent: 100,
    largestWeeklyRise: 1,
    angleStepDegrees: 90,
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
