/** Protocols changed in one stated field until they agree in tension time, session length or torque–time. */
import { CallError } from "../errors.js";
import { prescriptionLimits, type Prescription } from "../protocol/prescription.js";
import {
  sessionLengthSeconds,
  tensionTimePerSessionSeconds,
  torqueTimePerSession,
} from "../protocol/derived-quantities.js";
import { writePrescription } from "../protocol/write-prescription.js";

export const equalQuantities = ["tension time", "session length", "torque–time"] as const;
export type EqualQuantity = (typeof equalQuantities)[number];

export const adjustableFields = ["holdSeconds", "repetitions", "sets"] as const;
export type AdjustableField = (typeof adjustableFields)[number];

export type EqualiseOptions = Readonly<{
  quantity: EqualQuantity;
  /** The one field that is changed. */
  adjust?: AdjustableField;
}>;
export const equaliseDefaults = { adjust: "repetitions" } as const;

export type EqualisedProtocol = Readonly<{
  before: Prescription;
  after: Prescription;
  written: string;
  /** The quantity before and after; whole repetitions and sets only come near the target. */
  valueBefore: number;
  value: number;
}>;

export type Equalised = Readonly<{
  quantity: EqualQuantity;
  unit: string;
  adjusted: AdjustableField;
  /** The first protocol's value. */
  target: number;
  protocols: readonly EqualisedProtocol[];
}>;

const where = "making protocols equal";

const valueOf = {
  "tension time": tensionTimePerSessionSeconds,
  "session length": sessionLengthSeconds,
  "torque–time": torqueTimePerSession,
} as const satisfies Record<EqualQuantity, (p: Prescription) => number | undefined>;

const needs = {
  "tension time": "sets, repetitions and hold",
  "session length": "every rest",
  "torque–time": "an intensity in % of MVC",
} as const satisfies Record<EqualQuantity, string>;

const unitOf = {
  "tension time": "s",
  "session length": "s",
  "torque–time": "%MVC·s",
} as const satisfies Record<EqualQuantity, string>;

const quantityOf = (p: Prescription, quantity: EqualQuantity): number => {
  const value = valueOf[quantity](p);
  if (value === undefined) {
    throw new CallError({
      code: "missing-field",
      where,
      needs: `protocols that give ${needs[quantity]}, to make ${quantity} equal`,
      got: `"${writePrescription(p)}"`,
    });
  }
  return value;
};

/** Most sets or repetitions tried. */
const mostCount = 400;

const wholeAdjusted = (
  p: Prescription,
  field: "repetitions" | "sets",
  quantity: EqualQuantity,
  target: number,
): Prescription => {
  let best = p;
  let gap = Infinity;
  for (let count = 1; count <= mostCount; count++) {
    const changed = { ...p, [field]: count };
    if (changed.sets * changed.repetitions > prescriptionLimits.mostContractions) break;
    const value = valueOf[quantity](changed);
    // One more may need a rest that is not given; what can be laid out is compared.
    if (value === undefined) continue;
    if (Math.abs(value - target) < gap) [best, gap] = [changed, Math.abs(value - target)];
    if (value > target) break;
  }
  return best;
};

const holdAdjusted = (p: Prescription, quantity: EqualQuantity, target: number): Prescription => {
  const { holdSecondsHigh: _high, ...one } = p;
  const at = (holdSeconds: number): number => quantityOf({ ...one, holdSeconds }, quantity);
  // Each of the quantities is a straight line in the length of the hold.
  const slope = at(2) - at(1);
  const hold = 1 + (target - at(1)) / slope;
  if (!(hold > 0) || hold > prescriptionLimits.longestHoldSeconds) {
    throw new CallError({
      code: "cannot-equalise",
      where,
      needs: `a ${quantity} of ${target} that some length of hold reaches`,
      got: `"${writePrescription(p)}", whose rests alone are longer`,
      try: "adjust repetitions or sets",
    });
  }
  return { ...one, holdSeconds: Number(hold.toPrecision(6)) };
};

/**
 * Protocols that agree with the first one in a quantity, each changed in one field only.
 *
 * Repetitions and sets are whole, so the quantity comes as near as they allow; a hold's length meets it exactly. What
 * else follows from the changed field changes with it: more repetitions make a longer session.
 *
 * @param prescriptions the first stays as it is
 * @throws {CallError} "missing-field", "cannot-equalise", "unknown-choice"
 * @source none: arithmetic of the derived quantities
 */
export const equaliseProtocols = (
  prescriptions: readonly Prescription[],
  options: EqualiseOptions,
): Equalised => {
  const { quantity } = options;
  const adjust = options.adjust ?? equaliseDefaults.adjust;
  if (!equalQuantities.includes(quantity) || !adjustableFields.includes(adjust)) {
    throw new CallError({
      code: "unknown-choice",
      where,
      needs: `a quantity of ${equalQuantities.join(", ")} and a field of ${adjustableFields.join(", ")}`,
      got: `${String(quantity)} and ${String(adjust)}`,
    });
  }
  const [first] = prescriptions;
  if (first === undefined) {
    throw new CallError({
      code: "no-protocols",
      where,
      needs: "at least one protocol",
      got: "none",
    });
  }
  const target = quantityOf(first, quantity);
  return {
    quantity,
    unit: unitOf[quantity],
    adjusted: adjust,
    target,
    protocols: prescriptions.map((before, index) => {
      const valueBefore = quantityOf(before, quantity);
      const after =
        index === 0 || valueBefore === target
          ? before
          : adjust === "holdSeconds"
            ? holdAdjusted(before, quantity, target)
            : wholeAdjusted(before, adjust, quantity, target);
      return {
        before,
        after,
        written: writePrescription(after),
        valueBefore,
        value: quantityOf(after, quantity),
      };
    }),
  };
};
