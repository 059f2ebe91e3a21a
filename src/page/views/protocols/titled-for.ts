import type { Table } from "../../../tables/table.js";

/** A table of one protocol among several: its title and its file's name say which. */
export const titledFor = (letter: string, table: Table): Table => ({
  ...table,
  id: `${table.id}-${letter.toLowerCase()}`,
  title: `Protocol ${letter}: ${table.title.charAt(0).toLowerCase()}${table.title.slice(1)}`,
});
