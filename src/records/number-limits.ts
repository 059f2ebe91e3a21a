import * as z from "zod";

/** The bounds of a number schema, read from the schema itself so that they are stated once. */
export type NumberLimits = Readonly<{
  integer: boolean;
  low: number;
  high: number;
  lowExcluded: boolean;
  highExcluded: boolean;
}>;

type JsonNumber = Readonly<{
  type?: string;
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  exclusiveMaximum?: number;
}>;

const known = new WeakMap<z.ZodType, NumberLimits>();

/** Limits of a number schema; worked out once per schema. */
export const numberLimits = (schema: z.ZodType): NumberLimits => {
  const before = known.get(schema);
  if (before !== undefined) return before;
  const limits = limitsOf(schema);
  known.set(schema, limits);
  return limits;
};

const limitsOf = (schema: z.ZodType): NumberLimits => {
  const json = z.toJSONSchema(schema) as JsonNumber;
  return {
    integer: json.type === "integer",
    low: json.exclusiveMinimum ?? json.minimum ?? -Infinity,
    high: json.exclusiveMaximum ?? json.maximum ?? Infinity,
    lowExcluded: json.exclusiveMinimum !== undefined,
    highExcluded: json.exclusiveMaximum !== undefined,
  };
};

/** Whether a number lies within the limits. */
export const withinLimits = (value: number, limits: NumberLimits): boolean =>
  (limits.lowExcluded ? value > limits.low : value >= limits.low) &&
  (limits.highExcluded ? value < limits.high : value <= limits.high) &&
  (!limits.integer || Number.isInteger(value));

/** The limits in words: "a whole number from 1 to 100000", "a number above 0 up to 7200". */
export const limitsText = (limits: NumberLimits): string => {
  const kind = limits.integer ? "a whole number" : "a number";
  const low = Number.isFinite(limits.low)
    ? limits.lowExcluded
      ? `above ${limits.low}`
      : `from ${limits.low}`
    : "";
  const high = Number.isFinite(limits.high)
    ? limits.highExcluded
      ? `below ${limits.high}`
      : `${low === "" || limits.lowExcluded ? "up to" : "to"} ${limits.high}`
    : "";
  return [kind, low, high].filter((part) => part !== "").join(" ");
};
