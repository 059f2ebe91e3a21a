/** The axes that a gain can be set against: looked up, listed, and read off a row. */
import { CallError } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import {
  axisRecords,
  doseAxisNames,
  type DoseAxis,
  type DoseAxisName,
} from "./dose-axis-records.js";
import type { DoseValue } from "./dose-value.js";

export { doseAxisNames, type DoseAxis, type DoseAxisName } from "./dose-axis-records.js";

/** Every dose axis by name, in the order people meet them in a prescription. */
export const doseAxes = Object.fromEntries(
  doseAxisNames.map((name): [DoseAxisName, DoseAxis] => {
    const { label, unit, definition, levels, step, stepWords } = axisRecords[name];
    const kind = levels === undefined ? "number" : "levels";
    return [
      name,
      { name, label, unit, definition, kind, ...(levels && { levels }), step, stepWords },
    ];
  }),
) as Readonly<Record<DoseAxisName, DoseAxis>>;

/** Axes that are asked about unless others are named. */
export const usualAxes = doseAxisNames.filter((name) => axisRecords[name].usual);

/** Axes that stand in the table of variables unless others are named. */
export const tabledAxes = doseAxisNames.filter((name) => !axisRecords[name].onDemand);

/** What is known of an axis before any file is opened. */
export const axisTraits = (name: DoseAxisName) => {
  const { byRatio = false, noChoice = false } = axisRecords[name];
  return { byRatio, noChoice };
};

/** Whether a dose is worked out from another, directly or through a third. */
export const followsFrom = (name: DoseAxisName, other: DoseAxisName): boolean =>
  (axisRecords[name].from ?? []).some((part) => part === other || followsFrom(part, other));

/** Axes of the map of doses that move together. */
export const mappedAxes = doseAxisNames.filter((name) => axisRecords[name].mapped);

/** What people may type for an axis: its name, its label and other short names. */
export const axisWords = (name: DoseAxisName): readonly string[] => [
  name,
  axisRecords[name].label,
  ...(axisRecords[name].otherNames ?? []),
];

/**
 * The dose of a row's arm on an axis; undefined where the row does not say, or the arm does not train so.
 *
 * Only isometric training has these doses; an arm whose kind is not coded counts as isometric.
 */
export const doseOf = (row: OutcomeRow, name: DoseAxisName): DoseValue | undefined =>
  row.armKind === undefined || row.armKind === "isometric"
    ? axisRecords[name].valueOf(row)
    : undefined;

/**
 * The dose axis of a name.
 *
 * @throws {CallError} "unknown-axis"
 * @source none: a look-up
 */
export const doseAxisOf = (name: string): DoseAxis => {
  const known = doseAxisNames.find((axis) => axis === name);
  if (known === undefined) {
    throw new CallError({
      code: "unknown-axis",
      where: "dose axis",
      needs: `one of ${doseAxisNames.join(", ")}`,
      got: `"${name}"`,
    });
  }
  return doseAxes[known];
};
