/** Working up to a protocol: the sessions of each week, one thing changed at a time. */
import {
  type CanBeHeldOptions,
  type HoldAssessment,
  canBeHeld,
  holdGrade,
  mostFinish,
} from "../endurance/can-be-held.js";
import type { Note, Refusal } from "../errors.js";
import { type Prescription, canonicalPrescription } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { notDoable, notDoableWords } from "./doable.js";
import { type RampOptions, checkRampOptions, rampHoldBackAt } from "./ramp-options.js";
import {
  type RampFrom,
  type RampLevel,
  type RampRule,
  angleWay,
  startLevel,
  targetLevel,
} from "./ramp-start.js";
import { rampPath, weeklyStages } from "./ramp-steps.js";
import { type RampWeek, rampWeek, sessionsAt } from "./ramp-week.js";

const about: Readonly<Record<RampFrom, string>> = {
  deconditioned:
    "deconditioned: begins with half of the holds, half of their length and 40% intensity",
  "returning after injury":
    "returning after injury: whether, when and at which angles to load the site is for the clinician who treats it; the plan begins only then, and pain on the day and the next day goes before the calendar",
  trained: "trained: begins with three quarters of the holds and 60% intensity",
};

/** Statements of an endurance check that hold for the whole plan. */
const carried: readonly string[] = [
  "general-curve",
  "band",
  "no-person-terms",
  "rating-as-percent",
  "action-unknown",
];

/** What the plan keeps to, each rule with where it comes from. */
const rules = (rule: RampRule): readonly Note[] => [
  {
    code: "order-is-practice",
    message:
      "one change a week; more and longer holds before more intensity, near-maximal work last: common practice, no source",
  },
  {
    code: "sizes-are-chosen",
    message: `a week's torque–time rises by at most ${Math.round(100 * rule.largestWeeklyRise)}%: common practice, no source; no trial that was read compared ways of working up to isometric training`,
  },
];

const lengthRule: Note = {
  code: "angle-waits",
  message:
    "long length begins early and light, at no more than half the intensity and half the holds, takes turns with the middle of the range, and angle and intensity never rise in the same week: maximal holds at long length cost more force and soreness (Allen 2018), and a first light dose protects for days (Chen 2013); the sizes are common practice",
};

/** What a week's worst pain makes of the next week; above 5 nobody goes on. */
const painRule = (goOnUpTo: number): string => {
  const repeated =
    goOnUpTo >= 5
      ? ""
      : goOnUpTo === 3
        ? "4 or 5 repeat the week, "
        : "more than that and up to 5 repeat the week, ";
  return `up to ${goOnUpTo} go on, ${repeated}above 5 or worse next morning go back a week and ask`;
};

const planNotes = (
  asked: Prescription,
  goal: Prescription,
  options: RampOptions,
  rule: RampRule,
  held: HoldAssessment,
): readonly Note[] => [
  {
    code: "start",
    message:
      typeof options.from === "string"
        ? about[options.from]
        : `begins at what is done now, ${writePrescription(options.from)}, as far as the target allows`,
  },
  ...rules(rule),
  ...(goal.muscleLength === "long" ? [lengthRule] : []),
  {
    code: "repeat-a-week",
    message: `pain rewrites the week that comes: ${painRule(options.holdBackAt ?? rampHoldBackAt)} (the bands of Silbernagel 2007; what follows from them is common practice)`,
  },
  ...(goal.muscleLength === undefined
    ? [
        {
          code: "length-not-stated" as const,
          message:
            "the target does not say at which muscle length it is held, so the plan cannot change it; begin near the middle of the range",
        },
      ]
    : []),
  ...(String(goal.trainingAngleDegrees) === String(asked.trainingAngleDegrees)
    ? []
    : [
        {
          code: "angle-limited" as const,
          message: `the target's ${asked.trainingAngleDegrees?.join("° and ")}° are beyond the greatest angle now, ${options.greatestAngleDegrees}°: the plan ends there; measure again, then plan the rest`,
        },
      ]),
  ...(goal.weeks === undefined
    ? []
    : [
        {
          code: "weeks-begin-after" as const,
          message: `the target's own ${goal.weeks} weeks begin when the plan has arrived`,
        },
      ]),
  ...held.statements.filter(({ code }) => carried.includes(code)),
];

/** Weeks of working up to a session. */
export type RampPlan = Readonly<{
  kind: "plan";
  /** What the plan works up to: the target, or the nearest to it that most people finish. */
  target: Prescription;
  /** The target as asked for, where it is another; why it is not worked up to. */
  asked?: Readonly<{ written: string; why: string }>;
  from: string;
  rule: RampRule;
  /** Pain from 0 to 10 up to which the next week goes on as planned. */
  holdBackAt: number;
  /** The fewest weeks the rules allow; null where they do not lead to the target. */
  shortestWeeks: number | null;
  /** Whether the last week is the target. */
  arrives: boolean;
  weeks: readonly RampWeek[];
  /** What the plan rests on and what it does not know. */
  notes: readonly Note[];
}>;

/** No plan: most will not finish the target, and nothing near it would do. */
export type RampRefusal = Refusal & Readonly<{ target: Prescription; notes: readonly Note[] }>;

/** A start that most people finish with the target's rests: shorter holds, then less intensity. */
const eased = (start: RampLevel, finished: (level: RampLevel) => boolean): RampLevel => {
  let level = start;
  while (!finished(level)) {
    const { holdSeconds, effortPercent } = level.main;
    const main =
      holdSeconds > 2
        ? { ...level.main, holdSeconds: Math.ceil(holdSeconds - 1) }
        : { ...level.main, effortPercent: effortPercent - 5 };
    if (main.effortPercent < 1) return start;
    level = { ...level, main };
  }
  return level;
};

/** The target no further than can be reached now. */
const within = (target: Prescription, greatest: number | undefined): Prescription =>
  greatest === undefined || !target.trainingAngleDegrees?.some((angle) => angle > greatest)
    ? target
    : {
        ...target,
        trainingAngleDegrees: [
          ...new Set(target.trainingAngleDegrees.map((angle) => Math.min(angle, greatest))),
        ],
      };

/**
 * The sessions of each week on the way to a target.
 *
 * The way is the shortest that keeps the rules (`rampPath`): one change a week, a week's torque–time up by at most 15%, long
 * length early, light and in turns with the middle of the range, every session one that most people finish. Where it is longer
 * than the weeks given, the plan ends at what fits; where it is shorter, early weeks are repeated. A target that most will not
 * finish gives way to the nearest that they do. The plan is not a clearance for anybody.
 *
 * @param target what the last week is to be; its own number of weeks is left out, as it begins then
 * @throws {CallError} for an unsound target, one that cannot be laid out in time, and unusable options
 * @source none: common practice for the order, chosen here for the numbers; endurance as in `canBeHeld`
 * @example rampPlan({ sets: 1, repetitions: 4, holdSeconds: 20, intensityPercent: 70, restBetweenRepetitionsSeconds: 60 }, { from: "deconditioned", weeks: 8 }).kind // => "plan"
 */
export const rampPlan = (target: Prescription, options: RampOptions): RampPlan | RampRefusal => {
  const rule = checkRampOptions(target, options);
  const asked = canonicalPrescription(target);
  const holding: CanBeHeldOptions = options.joint === undefined ? {} : { joint: options.joint };
  const limited = within(asked, options.greatestAngleDegrees);
  const beyond = notDoable(limited, holding);
  const goal = beyond === undefined ? limited : beyond.nearest;
  const held = canBeHeld(goal ?? limited, { ...holding, samplesPerPart: 0 });
  const notes = planNotes(asked, goal ?? limited, options, rule, held);
  if (goal === undefined)
    return {
      kind: "refusal",
      code: "beyond-the-model",
      target: asked,
      reason: notDoableWords(writePrescription(asked), beyond!).reason,
      notes,
    };
  const way = angleWay(goal, options.from, rule, options.greatestAngleDegrees);
  const finished = (level: RampLevel): boolean => {
    const { main, long } = sessionsAt(goal, level, way);
    return [main, ...(long === undefined ? [] : [long.prescription])].every((p) =>
      mostFinish(holdGrade(p, holding)),
    );
  };
  const asSaid = startLevel(goal, options.from, rule);
  const start = eased(asSaid, finished);
  const path = rampPath(start, targetLevel(goal), rule, way, finished);
  const weekly = weeklyStages(path.stages, options.weeks);
  return {
    kind: "plan",
    target: goal,
    ...(beyond === undefined
      ? {}
      : { asked: { written: writePrescription(asked), why: beyond.why } }),
    from: typeof options.from === "string" ? options.from : writePrescription(options.from),
    rule,
    holdBackAt: options.holdBackAt ?? rampHoldBackAt,
    shortestWeeks: path.arrived ? path.stages.length : null,
    arrives: path.arrived && options.weeks >= path.stages.length,
    weeks: weekly.map((stage, index) =>
      rampWeek(goal, stage, weekly[index - 1], index + 1, way, holding),
    ),
    notes:
      start === asSaid
        ? notes
        : [
            ...notes,
            {
              code: "start",
              message:
                "the start was made easier, as most will not finish it with the target's rests",
            },
          ],
  };
};
