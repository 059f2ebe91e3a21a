/** A prescription with ranges, taken at one end of all of them or between. */
import { rangeFields, type Prescription, type RangeField } from "./prescription.js";

/** Longer, harder and more often is heavier; so is a shorter rest. */
const restFields: readonly RangeField[] = [
  "restBetweenRepetitionsSeconds",
  "restBetweenSetsSeconds",
];
const wholeFields: readonly RangeField[] = ["sets", "repetitions"];

/** The fields of which a prescription gives a range. */
export const rangesOf = (p: Prescription): readonly RangeField[] =>
  (Object.keys(rangeFields) as RangeField[]).filter((field) => p[rangeFields[field]] !== undefined);

const taken = (
  p: Prescription,
  fields: readonly RangeField[],
  pick: (low: number, high: number, field: RangeField) => number,
): Prescription => {
  const numbers: Partial<Record<string, number | undefined>> = {};
  for (const field of fields) {
    const [low, high] = [p[field], p[rangeFields[field]]];
    if (low === undefined || high === undefined) continue;
    numbers[field] = pick(low, high, field);
    numbers[rangeFields[field]] = undefined;
  }
  return Object.fromEntries(
    Object.entries({ ...p, ...numbers }).filter(([, value]) => value !== undefined),
  ) as unknown as Prescription;
};

/**
 * The same prescription with one number in place of each range: midpoints, whole sets and holds
 * rounded up from a half. A prescription without ranges is returned as it is.
 */
export const typicalOf = (
  p: Prescription,
  fields: readonly RangeField[] = rangesOf(p),
): Prescription =>
  fields.length === 0
    ? p
    : taken(p, fields, (low, high, field) =>
        wholeFields.includes(field) ? Math.round((low + high) / 2) : (low + high) / 2,
      );

/**
 * The lightest and the heaviest session that a prescription with ranges allows: every range at the
 * end that asks least (fewest and shortest holds, least effort, longest rests) and at the end that
 * asks most; undefined where it gives no range.
 */
export const rangeEnds = (
  p: Prescription,
): Readonly<{ lightest: Prescription; heaviest: Prescription }> | undefined => {
  const fields = rangesOf(p);
  if (fields.length === 0) return undefined;
  const at = (heavy: boolean): Prescription =>
    taken(p, fields, (low, high, field) => (heavy !== restFields.includes(field) ? high : low));
  return { lightest: at(false), heaviest: at(true) };
};
