/** What the working-up figure shows of a week, row by row. */
import type { RampPlan } from "../projection/ramp-plan.js";
import type { RampVariable } from "../projection/ramp-steps.js";
import type { RampWeek } from "../projection/ramp-week.js";
import { effectiveHoldSeconds, effectiveIntensityPercent } from "../protocol/derived-quantities.js";
import { fieldWords } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { formatNumber } from "../tables/number-format.js";

type Session = RampWeek["prescription"];

/** What a row shows of a week: how high its bar is, and what is written above it where it begins and changes. */
export type RampRow = Readonly<{
  variable: RampVariable;
  name: string;
  height: (week: RampWeek) => number;
  words: (week: RampWeek) => string;
  /** The same at more length, where there is room. */
  longer?: (week: RampWeek) => string;
  /** Height of the whole row; of its highest bar where left out. */
  top?: number;
  unit?: string;
}>;

const plain = (value: number): string =>
  formatNumber(value, { digits: Number.isInteger(value) ? 0 : 1 });

/** An intensity in the least room: 70%, 70–75%, 6.5/10, maximal. */
const rampEffort = (p: Session): string => {
  if (p.effortRating !== undefined) return `${plain(p.effortRating)}/10`;
  const { intensityPercent: low, intensityPercentHigh: high } = p;
  return low === undefined
    ? "maximal"
    : `${plain(low)}${high === undefined ? "" : `–${plain(high)}`}%`;
};

/** Torque–time of a session, percent of MVC times seconds. */
const workOf = (p: Session): number =>
  p.sets * p.repetitions * effectiveHoldSeconds(p) * (effectiveIntensityPercent(p) ?? 0);

/** Holds and intensity of a session, without its rests and place. */
export const briefly = (p: Session): string =>
  writePrescription({
    sets: p.sets,
    repetitions: p.repetitions,
    holdSeconds: effectiveHoldSeconds(p),
    ...(p.intensityPercent === undefined ? {} : { intensityPercent: p.intensityPercent }),
    ...(p.intensityPercentHigh === undefined
      ? {}
      : { intensityPercentHigh: p.intensityPercentHigh }),
    ...(p.effortRating === undefined ? {} : { effortRating: p.effortRating }),
  });

/** Rests that no week changes, in words. */
export const restsOf = (weeks: readonly RampWeek[]): readonly string[] =>
  (["restBetweenRepetitionsSeconds", "restBetweenSetsSeconds"] as const).flatMap((field) => {
    const words = ({ prescription: p }: RampWeek): string => {
      const [low, high] = [p[field], p[`${field}High`]];
      return low === undefined
        ? ""
        : `${plain(low)}${high === undefined ? "" : `–${plain(high)}`} s`;
    };
    const [first, ...others] = new Set(weeks.map(words));
    return first === undefined || first === "" || others.length > 0
      ? []
      : [`${fieldWords[field]} ${first}`];
  });

/** What of a plan can be drawn, a row each, in the order in which they stand. */
export const rampRows = ({ target }: RampPlan): readonly RampRow[] => {
  const sized = (
    variable: RampVariable,
    name: string,
    height: (session: Session) => number,
    unit = "",
  ): RampRow => ({
    variable,
    name,
    height: ({ prescription }) => height(prescription),
    words: ({ prescription }) => `${plain(height(prescription))}${unit}`,
    unit,
  });
  const worded = (
    variable: RampVariable,
    value: (session: Session) => string | undefined,
  ): RampRow => ({
    variable,
    name: variable,
    height: () => 1,
    words: ({ prescription }) => value(prescription) ?? "not stated",
    top: 2.4,
  });
  const atLength = (p: Session): boolean =>
    target.muscleLength === "long" && p.muscleLength === "long";
  const share = ({ long, prescription: p }: RampWeek): number => {
    const session = long?.prescription ?? (atLength(p) ? p : undefined);
    return session === undefined ? 0 : Math.round((100 * workOf(session)) / workOf(target));
  };
  // Sessions at long length take turns with the others of a week.
  const sessions = ({ prescription, long }: RampWeek): number =>
    Math.min(
      target.sessionsPerWeek ?? 0,
      (prescription.sessionsPerWeek ?? 0) + (long?.prescription.sessionsPerWeek ?? 0),
    );
  return [
    ...(target.sets > 1 ? [sized("sets", "sets", (p) => p.sets)] : []),
    sized("repetitions", target.sets > 1 ? "holds in a set" : "holds", (p) => p.repetitions),
    sized("hold length", "hold length", effectiveHoldSeconds, " s"),
    ...(target.sessionsPerWeek === undefined
      ? []
      : [
          {
            variable: "sessions a week" as const,
            name: "sessions a week",
            height: sessions,
            words: (week: RampWeek) => plain(sessions(week)),
            unit: "",
          },
        ]),
    {
      variable: "intensity",
      name: "intensity",
      height: ({ prescription }) => effectiveIntensityPercent(prescription) ?? 0,
      words: ({ prescription }) => rampEffort(prescription),
      top: 100,
      unit: "%",
    },
    {
      variable: "at long length",
      name: "at long length, of target",
      height: share,
      words: (week) => `${share(week)}%`,
      longer: (week) =>
        `${share(week)}%${week.long === undefined || week.change?.variable !== "at long length" ? "" : `, ${week.long.place}`}`,
      unit: "%",
    },
    ...(target.muscleLength === undefined
      ? []
      : [worded("muscle length", ({ muscleLength }) => muscleLength)]),
    ...(target.effortIntent === undefined
      ? []
      : [worded("intent", ({ effortIntent }) => effortIntent)]),
  ];
};
