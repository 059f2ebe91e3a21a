import { rangeFields, type Prescription, type RangeField } from "../../../protocol/prescription.js";

/** A number of a protocol that a slider can move. */
export type ProtocolField = Readonly<{
  key: RangeField;
  label: string;
  unit: string;
  /** Reach of the slider; the number beside it takes anything sound. */
  low: number;
  high: number;
  required: boolean;
}>;

const restReach = { low: 0, high: 300 } as const;

const setsField: ProtocolField = {
  key: "sets",
  label: "Sets",
  unit: "",
  low: 1,
  high: 10,
  required: true,
};
const repetitionsField: ProtocolField = {
  key: "repetitions",
  label: "Holds in a set",
  unit: "",
  low: 1,
  high: 30,
  required: true,
};
const holdField: ProtocolField = {
  key: "holdSeconds",
  label: "Length of a hold",
  unit: "s",
  low: 1,
  high: 120,
  required: true,
};
const intensityField: ProtocolField = {
  key: "intensityPercent",
  label: "Intensity",
  unit: "% of MVC",
  low: 10,
  high: 100,
  required: false,
};
const ratingField: ProtocolField = {
  key: "effortRating",
  label: "Effort 0–10",
  unit: "",
  low: 1,
  high: 10,
  required: false,
};
const withinField: ProtocolField = {
  key: "restBetweenRepetitionsSeconds",
  label: "Rest between holds",
  unit: "s",
  ...restReach,
  required: false,
};
const betweenField: ProtocolField = {
  key: "restBetweenSetsSeconds",
  label: "Rest between sets",
  unit: "s",
  ...restReach,
  required: false,
};
const frequencyField: ProtocolField = {
  key: "sessionsPerWeek",
  label: "Sessions a week",
  unit: "",
  low: 1,
  high: 7,
  required: false,
};
const weeksField: ProtocolField = {
  key: "weeks",
  label: "Weeks",
  unit: "",
  low: 1,
  high: 26,
  required: false,
};

/** Every field, in reading order. */
export const allFields: readonly ProtocolField[] = [
  setsField,
  repetitionsField,
  holdField,
  intensityField,
  ratingField,
  withinField,
  betweenField,
  frequencyField,
  weeksField,
];

/** The fields that mean something for a protocol, in reading order. */
export const fieldsOf = (p: Prescription): readonly ProtocolField[] => [
  setsField,
  repetitionsField,
  holdField,
  p.effortRating === undefined ? intensityField : ratingField,
  ...(p.repetitions > 1 ? [withinField] : []),
  ...(p.sets > 1 ? [betweenField] : []),
  frequencyField,
  weeksField,
];

/** Rests that stand in the text when a slider makes room for them and none was written. */
const firstRests = { within: 30, between: 120 } as const;

/** The same protocol with one number changed; a range becomes the one number. */
export const withField = (
  p: Prescription,
  key: RangeField,
  value: number | undefined,
): Prescription => {
  const { [key]: _before, intensityBasis, ...rest } = p;
  const isIntensity = key === "intensityPercent" || key === "effortRating";
  // A basis stays only where a number still stands on it.
  const basisGoes = isIntensity && (value === undefined || intensityBasis === "maximal effort");
  const changed = {
    ...rest,
    ...(intensityBasis === undefined || basisGoes ? {} : { intensityBasis }),
    ...(value === undefined ? {} : { [key]: value }),
  } as Prescription;
  const { [rangeFields[key]]: _high, ...rangeless } = changed;
  const single = rangeless as Prescription;
  return {
    ...single,
    ...(single.repetitions > 1 &&
    p.repetitions === 1 &&
    single.restBetweenRepetitionsSeconds === undefined
      ? { restBetweenRepetitionsSeconds: firstRests.within }
      : {}),
    ...(single.sets > 1 && p.sets === 1 && single.restBetweenSetsSeconds === undefined
      ? { restBetweenSetsSeconds: firstRests.between }
      : {}),
  };
};

/** The same protocol with one word changed, or without it. */
export const withWord = <Key extends "muscleLength" | "joint" | "action">(
  p: Prescription,
  key: Key,
  word: Prescription[Key] | undefined,
): Prescription =>
  Object.fromEntries(
    Object.entries({ ...p, [key]: word }).filter(([, value]) => value !== undefined),
  ) as Prescription;
