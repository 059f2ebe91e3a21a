import type { Column } from "./table.js";

/** Heading of a column: its label, with the unit in brackets where it has one. */
export const columnHeading = (column: Column): string =>
  column.unit === undefined || column.unit === ""
    ? column.label
    : `${column.label} (${column.unit})`;
