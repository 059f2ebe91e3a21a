import type { Note } from "../errors.js";
import { columnOf, fieldNames } from "./codebook.js";
import type { DecimalMarks } from "./number-text.js";
import type { FieldCompleteness } from "./record-set.js";
import type { RowReader } from "./row-reader.js";
import type { AssumptionCounts } from "./settle-statistic.js";

const countedRows = (count: number): string => (count === 1 ? "1 row" : `${count} rows`);

/** What the reader assumed or let pass, counted over the file. */
export const readingNotes = (
  reader: RowReader,
  counts: Readonly<AssumptionCounts>,
  marks: DecimalMarks,
): readonly Note[] => {
  const notes: Note[] = [];
  if (counts.inferred > 0) {
    notes.push({
      code: "statistic-inferred",
      message: `on ${countedRows(counts.inferred)} statistic is blank and was taken from the columns that are filled`,
    });
  }
  if (counts.spreadAssumed > 0) {
    notes.push({
      code: "spread-kind-assumed",
      message: `on ${countedRows(counts.spreadAssumed)} spread_kind is blank and spreads are taken as standard deviations`,
    });
  }
  if (marks.comma && marks.point) {
    notes.push({
      code: "two-decimal-marks",
      message: "the file marks decimals with commas in some cells and with points in others",
    });
  }
  for (const { title, remarked } of reader.columns) {
    for (const [remark, count] of remarked) {
      const cells = count === 1 ? "1 cell" : `${count} cells`;
      notes.push({ code: "cell-remark", message: `column ${title}: ${remark} in ${cells}` });
    }
  }
  return notes;
};

/** How far each column of the codebook is filled. */
export const completenessOf = (reader: RowReader, rows: number): readonly FieldCompleteness[] => {
  const counted = new Map(reader.columns.map((column) => [column.name, column]));
  return fieldNames.map((name) => {
    const nothing = { coded: 0, notReported: 0, unusable: 0 };
    const { coded, notReported, unusable } = counted.get(name) ?? nothing;
    const blank = rows - coded - notReported - unusable;
    return { column: columnOf(name), coded, notReported, blank, unusable };
  });
};
