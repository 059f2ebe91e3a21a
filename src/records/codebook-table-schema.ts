import * as z from "zod";
import { choicesOf } from "./column-reader.js";
import type { FieldName } from "./codebook.js";
import { columnOf, fieldNames, fieldOf } from "./codebook.js";
import type { FieldLevel } from "./codebook-field.js";
import { numberLimits } from "./number-limits.js";

type Constraints = Readonly<{
  required?: true;
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  exclusiveMaximum?: number;
  enum?: readonly string[];
}>;

/** One column in the words of the Table Schema standard, with unit, level and essential added. */
export type TableSchemaField = Readonly<{
  name: string;
  title: string;
  type: "string" | "number" | "integer" | "list";
  /** For a list: what stands between its items and what they are. */
  delimiter?: string;
  itemType?: "number";
  description: string;
  example: string;
  unit?: string;
  level: FieldLevel;
  essential?: true;
  constraints?: Constraints;
}>;

export type TableSchema = Readonly<{
  $schema: string;
  fields: readonly TableSchemaField[];
  fieldsMatch: "subset";
  missingValues: readonly Readonly<{ value: string; label: string }>[];
}>;

/**
 * The codebook as a Table Schema, the open standard for describing the columns of a CSV file.
 *
 * @source Data Package standard, Table Schema, version 2.0 (datapackage.org)
 */
export const codebookTableSchema = (): TableSchema => ({
  $schema: "https://datapackage.org/profiles/2.0/tableschema.json",
  fields: fieldNames.map(schemaField),
  fieldsMatch: "subset",
  missingValues: [
    { value: "", label: "not coded yet" },
    { value: "not reported", label: "looked for, not in the source" },
  ],
});

const schemaField = (name: FieldName): TableSchemaField => {
  const { schema, title, description, example, unit, level, essential, required } = fieldOf(name);
  const bounds =
    schema instanceof z.ZodNumber
      ? boundsOf(schema)
      : schema instanceof z.ZodArray
        ? boundsOf(schema.element as z.ZodType)
        : {};
  const choices = choicesOf(fieldOf(name));
  const constraints: Constraints = {
    ...(required === true ? { required } : {}),
    // The standard's bounds are of the cell, not of the items of a list.
    ...(schema instanceof z.ZodArray ? {} : bounds),
    ...(choices.length > 0 ? { enum: choices } : {}),
  };
  return {
    name: columnOf(name),
    title,
    ...typeOf(schema),
    description,
    example,
    ...(unit === undefined ? {} : { unit }),
    level,
    ...(essential === true ? { essential } : {}),
    ...(Object.keys(constraints).length > 0 ? { constraints } : {}),
  };
};

const typeOf = (schema: z.ZodType): Pick<TableSchemaField, "type" | "delimiter" | "itemType"> => {
  if (schema instanceof z.ZodArray) return { type: "list", delimiter: "/", itemType: "number" };
  if (!(schema instanceof z.ZodNumber)) return { type: "string" };
  return { type: numberLimits(schema).integer ? "integer" : "number" };
};

const boundsOf = (schema: z.ZodType): Constraints => {
  const { low, high, lowExcluded, highExcluded } = numberLimits(schema);
  return {
    ...(Number.isFinite(low) ? { [lowExcluded ? "exclusiveMinimum" : "minimum"]: low } : {}),
    ...(Number.isFinite(high) ? { [highExcluded ? "exclusiveMaximum" : "maximum"]: high } : {}),
  };
};
