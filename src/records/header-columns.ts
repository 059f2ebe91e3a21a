import type { IssueCode, Issue } from "../errors.js";
import type { FieldName } from "./codebook.js";
import { columnOf, fieldNames, fieldOf, fieldOfColumn } from "./codebook.js";
import { cleanCell } from "./clean-cell.js";
import { longestHeader } from "../csv/read-table.js";
import { nearestWord } from "../protocol/nearest-word.js";

/** Where each field stands in a file's header. */
export type HeaderColumns = Readonly<{
  /** Fields found, with the cell's place in the row and the name the file gives the column. */
  found: readonly Readonly<{ name: FieldName; index: number; title: string }>[];
  /** Further columns that name a field already found. */
  repeated: readonly Readonly<{ name: FieldName; index: number; title: string }>[];
  /** Columns the codebook does not know, with the key their cells are kept under. */
  unknown: readonly Readonly<{ key: string; index: number; title: string }>[];
  issues: readonly Issue[];
}>;

/** A header name in the codebook's spelling: lower case, words joined by underscores. */
export const columnSpelling = (title: string): string =>
  cleanCell(title.slice(0, longestHeader))
    .normalize("NFKC")
    .replace(/([a-z0-9])([A-Z])/g, "$1_$2")
    .toLowerCase()
    .replace(/\[.*\]|\(.*\)/g, "")
    .replace(/[\s\-–—.]+/g, "_")
    .replace(/_+/g, "_")
    .replace(/^_+|_+$/g, "");

const columns = fieldNames.map(columnOf);

/**
 * The codebook's fields in a header, whatever the order, case, and joining of words.
 *
 * Unknown columns are kept, with the nearest column of the codebook when one is near; a column that
 * names a field for the second time and a missing required column are errors.
 *
 * @param header column names as the file has them
 * @param line   where they stand
 */
export const headerColumns = (header: readonly string[], line = 1): HeaderColumns => {
  const headerIssue = (code: IssueCode, severity: Issue["severity"], title: string): Issue => ({
    ...{ code, severity, line, column: title, value: title },
    ...{ message: "", mend: "" },
  });
  const found = new Map<FieldName, Readonly<{ name: FieldName; index: number; title: string }>>();
  const repeated: { name: FieldName; index: number; title: string }[] = [];
  const unknown: { key: string; index: number; title: string }[] = [];
  const issues: Issue[] = [];
  header.forEach((title, index) => {
    const name = fieldOfColumn(columnSpelling(title));
    if (name === undefined) {
      const spelt = columnSpelling(title);
      const taken = spelt === "" || unknown.some(({ key }) => key === spelt);
      const key = taken ? `column_${index + 1}` : spelt;
      unknown.push({ key, index, title: title === "" ? `column ${index + 1}` : title });
    } else if (found.has(name)) {
      repeated.push({ name, index, title });
      issues.push({
        ...headerIssue("repeated-column", "error", title),
        message: `columns ${(found.get(name)?.index ?? 0) + 1} and ${index + 1} are both ${columnOf(name)}`,
        mend: "keep one of them",
      });
    } else {
      found.set(name, { name, index, title });
    }
  });
  const free = columns.filter((_, i) => !found.has(fieldNames[i] as FieldName));
  for (const { title } of unknown) {
    const near = nearestWord(columnSpelling(title), free);
    if (near === undefined) continue;
    issues.push({
      ...headerIssue("unknown-column", "warning", title),
      message: "the codebook does not know the column, so it is kept as one of your own",
      mend: `did you mean ${near}? rename it if so`,
    });
  }
  for (const name of fieldNames) {
    if (fieldOf(name).required !== true || found.has(name)) continue;
    issues.push({
      ...headerIssue("missing-column", "error", ""),
      column: columnOf(name),
      message: `the header has no column ${columnOf(name)}`,
      mend: `add it: ${fieldOf(name).description}`,
    });
  }
  return { found: [...found.values()], repeated, unknown, issues };
};
