/**
 * Every quantity of a prescription that a gain can be set against, defined once: what it is called,
 * its unit, what it means, which step along it is worth speaking of, and its value for a row; and
 * what people call it, and where it is asked about. Long for the number of axes: a new one is one record here.
 */
import {
  contractionsPerSession,
  contractionsPerWeek,
  dutyCycle,
  tensionTimePerSessionSeconds,
  tensionTimePerSetSeconds,
  tensionTimePerWeekSeconds,
  tensionTimeProgrammeSeconds,
  torqueTimePerSession,
  torqueTimePerWeek,
  torqueTimeProgramme,
} from "../protocol/derived-quantities.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import {
  angleDistance,
  derived,
  exact,
  holdOf,
  intensityOf,
  levelOf,
  meanAngle,
  weeksTrained,
  type DoseValue,
} from "./dose-value.js";

export const doseAxisNames = [
  "intensityPercent",
  "holdSeconds",
  "repetitions",
  "sets",
  "contractionsPerSession",
  "contractionsPerWeek",
  "tensionTimePerSetSeconds",
  "tensionTimePerSessionSeconds",
  "tensionTimePerWeekSeconds",
  "tensionTimeProgrammeSeconds",
  "torqueTimePerSession",
  "torqueTimePerWeek",
  "torqueTimeProgramme",
  "dutyCyclePercent",
  "restBetweenRepetitionsSeconds",
  "restBetweenSetsSeconds",
  "sessionsPerWeek",
  "weeks",
  "trainingAngleDegrees",
  "muscleLength",
  "angleDistanceDegrees",
  "effortIntent",
  "action",
  "continuity",
] as const;
/** The name of a dose, with its unit in it. */
export type DoseAxisName = (typeof doseAxisNames)[number];

/** A dose: its words, unit, definition, and the step by which its slope is told. */
export type DoseAxis = Readonly<{
  name: DoseAxisName;
  /** Lower case, as it stands inside a sentence. */
  label: string;
  /** As written after a number; empty for a count. */
  unit: string;
  definition: string;
  kind: "number" | "levels";
  /** Of a choice between two ways of training, the first at 0 and the second at 1; a third takes no side. */
  levels?: readonly [string, string];
  /** The step a slope is spoken of in, in the axis's own unit, and in words. */
  step: number;
  stepWords: string;
}>;

export type AxisRecord = Omit<DoseAxis, "name" | "kind"> &
  Readonly<{
    /** What people type beside the name and the label. */
    otherNames?: readonly string[];
    /** Asked about unless others are named: one for each idea of a prescription. */
    usual?: true;
    /** Left out of the table of variables unless asked for: a part or another total of one that stands there. */
    onDemand?: true;
    /** Known beforehand to act by ratios rather than by differences: lengths, counts and totals. */
    byRatio?: true;
    /** Doses it is worked out from. */
    from?: readonly DoseAxisName[];
    /** A place of the test and no choice of who trains. */
    noChoice?: true;
    /** Drawn on the map of doses that move together: what a coach sets, before what follows from it. */
    mapped?: true;
    /** The dose of a row; undefined where it does not say. */
    valueOf: (row: OutcomeRow) => DoseValue | undefined;
  }>;

const lengths = ["short length", "long length"] as const;
const intents = ["ramped and sustained", "as fast as possible"] as const;
const actions = ["pushing against a fixed stop", "holding a load"] as const;
const continuities = ["several holds in a set", "one continuous hold in a set"] as const;

/** What a choice between two ways of training is called and is asked in. */
const choice = (levels: readonly [string, string]) => ({
  unit: "",
  levels,
  step: 1,
  stepWords: `${levels[1]} instead of ${levels[0]}`,
});

export const axisRecords: Readonly<Record<DoseAxisName, AxisRecord>> = {
  intensityPercent: {
    label: "intensity",
    unit: "% of MVC",
    definition:
      "prescribed force in percent of maximal voluntary contraction at the trained angle; maximal effort counts as 100, one point of a 0–10 effort rating as ten",
    step: 10,
    stepWords: "10 more points of MVC",
    otherNames: ["intensity", "effort"],
    usual: true,
    mapped: true,
    valueOf: intensityOf,
  },
  holdSeconds: {
    label: "hold length",
    unit: "s",
    definition: "length of one hold",
    step: 10,
    stepWords: "10 more seconds of hold",
    otherNames: ["hold"],
    usual: true,
    mapped: true,
    byRatio: true,
    valueOf: holdOf,
  },
  repetitions: {
    label: "holds in a set",
    unit: "",
    definition: "holds in one set",
    step: 5,
    stepWords: "5 more holds in a set",
    otherNames: ["repetitions in a set"],
    byRatio: true,
    onDemand: true,
    valueOf: (row) => exact(row.repetitions),
  },
  sets: {
    label: "sets",
    unit: "",
    definition: "sets in one session",
    step: 1,
    stepWords: "one more set",
    byRatio: true,
    valueOf: (row) => exact(row.sets),
  },
  contractionsPerSession: {
    label: "holds in a session",
    unit: "",
    definition: "sets × holds in a set",
    step: 10,
    stepWords: "10 more holds in a session",
    otherNames: ["contractions in a session"],
    mapped: true,
    byRatio: true,
    from: ["repetitions", "sets"],
    valueOf: derived(contractionsPerSession),
  },
  contractionsPerWeek: {
    label: "holds in a week",
    unit: "",
    definition: "sets × holds in a set × sessions a week",
    step: 30,
    stepWords: "30 more holds in a week",
    otherNames: ["contractions in a week"],
    byRatio: true,
    onDemand: true,
    from: ["contractionsPerSession", "sessionsPerWeek"],
    valueOf: derived(contractionsPerWeek),
  },
  tensionTimePerSetSeconds: {
    label: "tension time in a set",
    unit: "s",
    definition: "holds in a set × hold length; rests are not counted",
    step: 10,
    stepWords: "10 more seconds of tension in a set",
    byRatio: true,
    onDemand: true,
    from: ["repetitions", "holdSeconds"],
    valueOf: derived(tensionTimePerSetSeconds),
  },
  tensionTimePerSessionSeconds: {
    label: "tension time in a session",
    unit: "s",
    definition: "sets × holds in a set × hold length; rests are not counted",
    step: 30,
    stepWords: "30 more seconds of tension in a session",
    otherNames: ["tension-time"],
    usual: true,
    mapped: true,
    byRatio: true,
    from: ["contractionsPerSession", "holdSeconds", "tensionTimePerSetSeconds"],
    valueOf: derived(tensionTimePerSessionSeconds),
  },
  tensionTimePerWeekSeconds: {
    label: "tension time in a week",
    unit: "s",
    definition: "tension time in a session × sessions a week",
    step: 60,
    stepWords: "60 more seconds of tension in a week",
    byRatio: true,
    onDemand: true,
    from: ["tensionTimePerSessionSeconds", "sessionsPerWeek"],
    valueOf: derived(tensionTimePerWeekSeconds),
  },
  tensionTimeProgrammeSeconds: {
    label: "tension time in the programme",
    unit: "s",
    definition: "tension time in a week × weeks trained up to the measurement",
    step: 600,
    stepWords: "600 more seconds of tension in the programme",
    byRatio: true,
    onDemand: true,
    from: ["tensionTimePerWeekSeconds", "weeks"],
    valueOf: derived(tensionTimeProgrammeSeconds),
  },
  torqueTimePerSession: {
    label: "torque–time in a session",
    unit: "%MVC·s",
    definition: "intensity × tension time in a session",
    step: 1000,
    stepWords: "1,000 more %MVC·s in a session",
    otherNames: ["torque-time"],
    byRatio: true,
    from: ["tensionTimePerSessionSeconds", "intensityPercent"],
    valueOf: derived(torqueTimePerSession, true),
  },
  torqueTimePerWeek: {
    label: "torque–time in a week",
    unit: "%MVC·s",
    definition: "intensity × tension time in a week",
    step: 3000,
    stepWords: "3,000 more %MVC·s in a week",
    byRatio: true,
    onDemand: true,
    from: ["torqueTimePerSession", "tensionTimePerWeekSeconds"],
    valueOf: derived(torqueTimePerWeek, true),
  },
  torqueTimeProgramme: {
    label: "torque–time in the programme",
    unit: "%MVC·s",
    definition: "intensity × tension time in the programme",
    step: 30000,
    stepWords: "30,000 more %MVC·s in the programme",
    byRatio: true,
    onDemand: true,
    from: ["torqueTimePerWeek", "tensionTimeProgrammeSeconds"],
    valueOf: derived(torqueTimeProgramme, true),
  },
  dutyCyclePercent: {
    label: "duty cycle",
    unit: "%",
    definition: "hold as a share of hold plus the rest that follows it in the set",
    step: 10,
    stepWords: "10 more points of duty cycle",
    otherNames: ["duty-cycle"],
    from: ["holdSeconds", "restBetweenRepetitionsSeconds"],
    valueOf: derived((p) => {
      const share = dutyCycle(p);
      return share === undefined ? undefined : 100 * share;
    }),
  },
  restBetweenRepetitionsSeconds: {
    label: "rest between holds",
    unit: "s",
    definition: "rest between two holds of one set",
    step: 10,
    stepWords: "10 more seconds of rest between holds",
    otherNames: ["rest between repetitions", "rest"],
    usual: true,
    byRatio: true,
    valueOf: (row) => exact(row.restBetweenRepetitionsSeconds),
  },
  restBetweenSetsSeconds: {
    label: "rest between sets",
    unit: "s",
    definition: "rest between two sets",
    step: 60,
    stepWords: "60 more seconds of rest between sets",
    byRatio: true,
    valueOf: (row) => exact(row.restBetweenSetsSeconds),
  },
  sessionsPerWeek: {
    label: "sessions a week",
    unit: "",
    definition: "training sessions in a week",
    step: 1,
    stepWords: "one more session a week",
    otherNames: ["frequency"],
    usual: true,
    mapped: true,
    byRatio: true,
    valueOf: (row) => exact(row.sessionsPerWeek),
  },
  weeks: {
    label: "weeks trained",
    unit: "weeks",
    definition: "weeks of training up to the measurement",
    step: 4,
    stepWords: "4 more weeks",
    usual: true,
    mapped: true,
    byRatio: true,
    valueOf: (row) => exact(weeksTrained(row)),
  },
  trainingAngleDegrees: {
    label: "training angle",
    unit: "°",
    definition:
      "joint angle trained at, in the source's own convention; the mean of several angles",
    step: 10,
    stepWords: "10 more degrees of training angle",
    otherNames: ["angle"],
    from: ["muscleLength"],
    onDemand: true,
    valueOf: meanAngle,
  },
  muscleLength: {
    ...choice(lengths),
    label: "muscle length",
    definition: "long against short muscle length; arms trained at middle length take no side",
    usual: true,
    mapped: true,
    valueOf: ({ muscleLength }) => levelOf(lengths, muscleLength && `${muscleLength} length`),
  },
  angleDistanceDegrees: {
    label: "distance between test and training angle",
    unit: "°",
    definition: "degrees between the test angle and the nearest training angle",
    step: 10,
    stepWords: "10 degrees further from the training angle",
    otherNames: ["angle-distance"],
    onDemand: true,
    noChoice: true,
    valueOf: angleDistance,
  },
  effortIntent: {
    ...choice(intents),
    label: "intent of the hold",
    definition:
      "holds made as fast as possible against ramped and sustained; holds to failure take no side",
    otherNames: ["intent"],
    valueOf: ({ effortIntent }) => levelOf(intents, effortIntent),
  },
  action: {
    ...choice(actions),
    label: "action",
    definition: "holding a load still against pushing or pulling at something that cannot move",
    otherNames: ["pushing or holding"],
    valueOf: ({ action }) => levelOf(actions, action),
  },
  continuity: {
    ...choice(continuities),
    label: "continuity of the holds",
    definition: "one hold in each set against several holds with rests between them",
    otherNames: ["continuous", "intermittent", "continuous or intermittent"],
    valueOf: ({ repetitions }) =>
      levelOf(
        continuities,
        repetitions === undefined ? undefined : continuities[repetitions === 1 ? 1 : 0],
      ),
  },
};
