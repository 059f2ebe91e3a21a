import * as z from "zod";

/**
 * Which rows must agree on a field: all rows of a study, all rows of an arm in a study, or none.
 */
export type FieldLevel = "study" | "arm" | "row";

/** What the codebook says about one column, besides the values its schema admits. */
export type FieldStory = Readonly<{
  title: string;
  /** What to type into the cell, in a sentence or two. */
  description: string;
  level: FieldLevel;
  /** A row without it is refused. */
  required?: true;
  /**
   * A row whose cell cannot be read is refused, because the effect computed from it would be another
   * one. Where it is not set, the cell is set aside, the row is used and a warning says so.
   */
  essential?: true;
  /** Unit of a number, e.g. `s`, `%`, `degrees`. */
  unit?: string;
  /** Unit words that may follow the number in the cell and are taken off, lower case. */
  unitWords?: readonly string[];
  /** Column that takes the upper end when the cell holds a range such as 70–85. */
  rangeHigh?: string;
  /** Numbers between 0 and this one look like a fraction typed for a percentage. */
  fractionBelow?: number;
  /** Words that stand for a number of the column, lower case: "men" for 0% women. */
  words?: Readonly<Record<string, number>>;
  /** Column of the spread that a source prints behind this mean: 13.4 ± 9.7. */
  spreadColumn?: string;
  /** Whether sources print bounds where the number belongs, which are kept as bounds: p < .05. */
  bounds?: true;
  /** Other spellings of a choice, lower case, and the choice they mean. */
  spellings?: Readonly<Record<string, string>>;
  /** A value as it stands in a cell. */
  example: string;
}>;

export type CodebookField<S extends z.ZodType = z.ZodType> = FieldStory & Readonly<{ schema: S }>;

/** One field of the codebook: the values it admits (a zod schema) and its story. */
export const field = <S extends z.ZodType, const Story extends FieldStory>(
  schema: S,
  story: Story,
): Readonly<{ schema: S }> & Story => ({ schema, ...story });

/** Schemas that several fields share. */
export const text = z.string().min(1).max(10_000);
/** A name that stands in tables and figures. */
export const name = z.string().min(1).max(200);
export const anyNumber = z.number();
export const spread = z.number().min(0);
export const share = z.number().min(0).max(100);
export const percentUnitWords = ["%", "percent", "per cent", "% mvc", "%mvc", "pct"] as const;
export const secondUnitWords = ["s", "sec", "secs", "second", "seconds"] as const;
export const degreeUnitWords = ["°", "deg", "degree", "degrees"] as const;
