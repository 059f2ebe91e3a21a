/** Quantities that follow from a row's prescription and can stand in a condition as any column can. */
import {
  contractionsPerSession,
  dutyCycle,
  effectiveHoldSeconds,
  effectiveIntensityPercent,
  nearMaximalSharePercent,
  nearMaximalTimePerSessionSeconds,
  tensionTimePerSessionSeconds,
  tensionTimePerWeekSeconds,
  torqueTimePerSession,
} from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";
import type { OutcomeRow } from "./outcome-row.js";
import { prescriptionOf } from "./prescription-of.js";

type Derived = Readonly<{
  /** In what it is counted. */
  unit: string;
  /** Other spellings, as `columnSpelling` gives them. */
  otherNames?: readonly string[];
  of: (p: Prescription) => number | undefined;
}>;

/** By the name that stands in a condition; a column of that name in the file itself comes first. */
const derived: Readonly<Record<string, Derived>> = {
  intensity: { unit: "% of MVC", of: effectiveIntensityPercent },
  hold: { unit: "s", otherNames: ["hold_length"], of: effectiveHoldSeconds },
  holds_per_session: {
    unit: "holds",
    otherNames: ["holds_a_session", "holds_in_a_session"],
    of: contractionsPerSession,
  },
  tension_per_session: {
    unit: "s",
    otherNames: [
      "tension_a_session",
      "tension_time_in_a_session",
      "tension_time_per_session_seconds",
    ],
    of: tensionTimePerSessionSeconds,
  },
  tension_per_week: {
    unit: "s",
    otherNames: ["tension_a_week", "tension_time_in_a_week", "tension_time_per_week_seconds"],
    of: tensionTimePerWeekSeconds,
  },
  torque_time_per_session: {
    unit: "%MVC·s",
    otherNames: ["torque_time_in_a_session"],
    of: torqueTimePerSession,
  },
  near_maximal_per_session: {
    unit: "s",
    otherNames: ["near_maximal_tension", "near_maximal_seconds", "near_maximal_a_session"],
    of: nearMaximalTimePerSessionSeconds,
  },
  near_maximal_share: {
    unit: "%",
    otherNames: ["share_near_maximal"],
    of: nearMaximalSharePercent,
  },
  duty_cycle: {
    unit: "%",
    of: (p) => {
      const share = dutyCycle(p);
      return share === undefined ? undefined : 100 * share;
    },
  },
};

/** Names of the quantities, each with its unit. */
export const derivedColumns: readonly Readonly<{ name: string; unit: string }>[] = Object.entries(
  derived,
).map(([name, { unit }]) => ({ name, unit }));

const byName = new Map(
  Object.entries(derived).flatMap(([name, one]) =>
    [name, ...(one.otherNames ?? [])].map((spelling) => [spelling, one] as const),
  ),
);

/** Whether a name in the codebook's spelling is one of these quantities. */
export const isDerivedColumn = (key: string): boolean => byName.has(key);

/** What stands in for sets, holds and hold length where only the intensity is asked for. */
const oneHold = { sets: 1, repetitions: 1, holdSeconds: 1 };

/**
 * A quantity of a row's prescription; undefined where the row does not say enough, or the arm moved.
 *
 * Intensity, its near-maximal share and hold length are told of rows that leave the rest blank.
 *
 * @param key in the codebook's spelling
 */
export const derivedValue = (row: OutcomeRow, key: string): number | undefined => {
  const one = byName.get(key);
  if (one === undefined || (row.armKind ?? "isometric") !== "isometric") return undefined;
  const alone =
    one.of === effectiveIntensityPercent || one.of === nearMaximalSharePercent
      ? oneHold
      : one.of === effectiveHoldSeconds
        ? { sets: 1, repetitions: 1 }
        : {};
  const prescription = prescriptionOf({ ...row, ...alone });
  return prescription === undefined ? undefined : one.of(prescription);
};
