import type { z } from "zod";
import type { CodebookField } from "./codebook-field.js";
import { numberFields } from "./number-fields.js";
import { outcomeFields } from "./outcome-fields.js";
import { peopleFields } from "./people-fields.js";
import { prescriptionFields } from "./prescription-fields.js";
import { sourceFields, trustFields } from "./source-fields.js";

/**
 * The codebook: every field of an outcome row, defined once, in the order of the template's columns.
 *
 * Row types, cell parsers, the Table Schema, the blank template and the readable page are all derived
 * from it. Keys are the row's field names; column names are the same words in snake case.
 */
export const codebookFields = {
  ...sourceFields,
  ...peopleFields,
  ...prescriptionFields,
  ...outcomeFields,
  ...numberFields,
  ...trustFields,
};

export type FieldName = keyof typeof codebookFields;

/** The sections of the codebook, in order. */
export const codebookSections = [
  { title: "Where it comes from", fields: sourceFields },
  { title: "Design and people", fields: peopleFields },
  { title: "Prescription", fields: prescriptionFields },
  { title: "Outcome", fields: outcomeFields },
  { title: "Numbers as printed", fields: numberFields },
  { title: "Trust", fields: trustFields },
] as const satisfies readonly Readonly<{
  title: string;
  fields: Readonly<Record<string, CodebookField>>;
}>[];

type RequiredName = "study" | "arm" | "outcome";
type Value<Name extends FieldName> = Readonly<z.infer<(typeof codebookFields)[Name]["schema"]>>;

/** The coded fields of one row: the required three, and whichever others the source gives. */
export type CodedFields = Readonly<
  { [Name in RequiredName]: Value<Name> } & {
    [Name in Exclude<FieldName, RequiredName>]?: Value<Name>;
  }
>;

/** Column of a field in the CSV: the same words in snake case. */
export const columnOf = (name: FieldName): string =>
  name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);

/** Field names in template order. */
export const fieldNames = Object.keys(codebookFields) as readonly FieldName[];

/** Story and schema of a field, without the narrow type of its values. */
export const fieldOf = (name: FieldName): CodebookField => codebookFields[name];

const nameByColumn: ReadonlyMap<string, FieldName> = new Map(
  fieldNames.map((name) => [columnOf(name), name]),
);

/** Field of a codebook column, or undefined for a column the codebook does not know. */
export const fieldOfColumn = (column: string): FieldName | undefined => nameByColumn.get(column);
