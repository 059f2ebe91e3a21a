import type { CsvTable } from "../csv/csv-table.js";
import type { Issue, Note } from "../errors.js";
import { sameRowTwice } from "./checks/same-row-twice.js";
import { columnOf, fieldNames, fieldOf } from "./codebook.js";
import { cellKindOf } from "./column-reader.js";
import type { HeaderColumns } from "./header-columns.js";
import { headerColumns } from "./header-columns.js";
import type { DecimalMarks } from "./number-text.js";
import { decimalMarksOf } from "./number-text.js";
import type { OutcomeRow } from "./outcome-row.js";
import { printedForm } from "./printed-form.js";
import type { RecordSet, RowFate } from "./record-set.js";
import { checkRows } from "./row-checks.js";
import type { RowReader } from "./row-reader.js";
import { rowReader } from "./row-reader.js";

export type ReadRecordsOptions = Readonly<{
  /** How the file marks decimals; found from its cells when absent. */
  decimalMark?: "point" | "comma";
}>;

type Fate = RowFate["fate"];
type Verdict = { fate: Fate; reasons: string[] };

/**
 * A table read through the codebook: the rows that can be used, what became of every row, and all
 * problems at once.
 *
 * A row is *refused* when study, arm or outcome is missing, when its line does not have the header's
 * number of cells, when a cell of an essential column (see the codebook) cannot be read, or when its
 * numbers contradict each other. It is *set aside* when it repeats an earlier row or prints no change to
 * analyse. A cell of any other column that cannot be read is set aside and the row *used with a warning*,
 * as is a row without spread, interval or test statistic, which cannot be weighted. A blank `statistic`
 * is filled from the columns that are filled, and a note counts these.
 *
 * @param table from `readTable`
 * @returns rows in file order; `fates` has one entry for each row of the file
 */
export const readRecords = (table: CsvTable, options: ReadRecordsOptions = {}): RecordSet => {
  const header = headerColumns(table.header);
  const marks = marksOf(table, header, options);
  const reader = rowReader(header, marks);
  const badLines = new Map<number, string>();
  for (const issue of table.issues) {
    if (issue.severity === "error" && issue.line > 0 && !badLines.has(issue.line)) {
      badLines.set(issue.line, issue.message);
    }
  }
  const issues: Issue[] = [...table.issues, ...(table.header.length > 0 ? header.issues : [])];
  // Only rows with something to say have a verdict; the others are used without remark.
  const verdicts = new Map<number, Verdict>();
  const read: OutcomeRow[] = [];
  const counts = { inferred: 0, spreadAssumed: 0 };
  const missing = missingReason(header);
  for (const { line, cells } of table.rows) {
    const { row, refusing, problems } = reader.read(line, cells);
    const broken = badLines.get(line);
    if (broken !== undefined) {
      verdicts.set(line, { fate: "refused", reasons: [broken] });
      continue;
    }
    if (cells.every((cell) => cell.trim() === "")) {
      verdicts.set(line, { fate: "set aside", reasons: ["the row is blank"] });
      continue;
    }
    for (const problem of problems) issues.push(problem);
    const absent = missing ?? absentReason(row, header, problems, issues);
    if (absent !== undefined || refusing > 0) {
      const reasons = problems.filter(({ severity }) => severity === "error").map(cellReason);
      verdicts.set(line, {
        fate: "refused",
        reasons: absent === undefined ? reasons : [absent, ...reasons],
      });
      continue;
    }
    const verdict: Verdict = { fate: "used", reasons: [] };
    for (const problem of problems) warn(verdict, cellReason(problem));
    const settled = settle(row, verdict, counts, issues);
    if (verdict.fate !== "used") verdicts.set(line, verdict);
    if (settled !== undefined) read.push(settled);
  }
  const repeats = sameRowTwice(read);
  for (const [line, first] of repeats) {
    verdicts.set(line, { fate: "set aside", reasons: [`repeats line ${first} in every cell`] });
  }
  const distinct = repeats.size === 0 ? read : read.filter((row) => !repeats.has(row.line));
  const checks = checkRows(distinct);
  for (const issue of checks.issues) {
    issues.push(issue);
    const verdict: Verdict = verdicts.get(issue.line) ?? { fate: "used", reasons: [] };
    verdicts.set(issue.line, verdict);
    if (issue.severity === "error") {
      if (verdict.fate !== "refused") verdict.reasons = [];
      verdict.fate = "refused";
      verdict.reasons.push(cellReason(issue));
    } else if (verdict.fate !== "refused") warn(verdict, cellReason(issue));
  }
  const rows = distinct.filter((row) => verdicts.get(row.line)?.fate !== "refused");
  const fates = table.rows.map(({ line }): RowFate => {
    const verdict = verdicts.get(line);
    return verdict === undefined
      ? { line, fate: "used", reason: "" }
      : { line, fate: verdict.fate, reason: reasonText(verdict.reasons) };
  });
  return {
    rows,
    fates,
    issues: inFileOrder(issues),
    notes: [...table.notes, ...readingNotes(reader, counts, marks), ...checks.notes],
    unknownColumns: header.unknown,
    completeness: completenessOf(reader, table.rows.length),
    usable: rows.length > 0 && !issues.some(({ severity }) => severity === "error"),
    rowsInFile: table.rows.length,
  };
};

/** Which decimal marks the number columns use; only cells that hold a comma or a point are looked at. */
const marksOf = (
  table: CsvTable,
  header: HeaderColumns,
  options: ReadRecordsOptions,
): DecimalMarks => {
  if (options.decimalMark !== undefined) {
    return { point: options.decimalMark === "point", comma: options.decimalMark === "comma" };
  }
  const indices = header.found
    .filter(({ name }) => cellKindOf(fieldOf(name)) === "number")
    .map(({ index }) => index);
  return decimalMarksOf(table.rows, indices);
};

const missingReason = (header: HeaderColumns): string | undefined => {
  const found = new Set(header.found.map(({ name }) => name));
  const absent = fieldNames.filter((name) => fieldOf(name).required === true && !found.has(name));
  return absent.length === 0
    ? undefined
    : `the file has no column ${absent.map(columnOf).join(", ")}`;
};

/** Required cells that are blank; cells that could not be read are told by their own problem. */
const absentReason = (
  row: OutcomeRow,
  header: HeaderColumns,
  problems: readonly Issue[],
  issues: Issue[],
): string | undefined => {
  const blank = header.found.filter(
    ({ name, title }) =>
      fieldOf(name).required === true &&
      row[name] === undefined &&
      !problems.some(({ column }) => column === title),
  );
  for (const { name, title } of blank) {
    issues.push({
      code: "missing",
      severity: "error",
      line: row.line,
      column: title,
      value: "",
      message: `${columnOf(name)} is blank, and no row can do without it`,
      mend: `type it, such as ${fieldOf(name).example}`,
    });
  }
  return blank.length === 0 ? undefined : `${blank.map(({ title }) => title).join(", ")} missing`;
};

const warn = (verdict: Verdict, reason: string): void => {
  if (verdict.fate === "used") verdict.fate = "used with a warning";
  verdict.reasons.push(reason);
};

const cellReason = ({ column, message }: Issue): string =>
  column === "" ? message : `${column}: ${message}`;

const reasonText = (reasons: readonly string[]): string =>
  reasons.length < 2 ? (reasons[0] ?? "") : [...new Set(reasons)].join("; ");

/** A row with its statistic settled, or undefined when it prints no change to analyse. */
const settle = (
  row: OutcomeRow,
  verdict: Verdict,
  counts: { inferred: number; spreadAssumed: number },
  issues: Issue[],
): OutcomeRow | undefined => {
  const form = printedForm(row, row.statistic);
  if (form.kind === "no change") {
    verdict.fate = "set aside";
    verdict.reasons = ["no change to analyse: the number columns are blank or hold one time only"];
    return undefined;
  }
  if (row.statistic !== undefined && row.statistic !== form.statistic) {
    issues.push({
      code: "statistic-not-filled",
      severity: "warning",
      line: row.line,
      column: "statistic",
      value: row.statistic,
      message: `the columns of this form are not filled; the row is read as ${form.statistic}`,
      mend: "fill the columns the statistic needs, or correct the statistic",
    });
    warn(verdict, `statistic: read as ${form.statistic}`);
  } else if (row.statistic === undefined) counts.inferred += 1;
  if (form.kind === "no spread") {
    warn(verdict, "no spread, interval or test statistic, so the row cannot be weighted");
  } else if (row.nStart === undefined && row.nEnd === undefined) {
    const elsewhere = form.statistic === "effect computed elsewhere";
    if (!elsewhere) warn(verdict, "n_start and n_end are blank, so the row cannot be weighted");
  }
  if ((form.statistic === "F value" || form.statistic === "p value") && directionUnknown(row)) {
    warn(verdict, `the ${form.statistic} has no direction, so the sign of the change is not known`);
  }
  const hasSpread =
    row.preSpread !== undefined || row.postSpread !== undefined || row.changeSpread !== undefined;
  if (row.spreadKind === undefined && hasSpread) counts.spreadAssumed += 1;
  // The reader copies the row above when it makes the next one, so rows are never written to here.
  return row.statistic === form.statistic ? row : { ...row, statistic: form.statistic };
};

const directionUnknown = (row: OutcomeRow): boolean =>
  row.direction === undefined &&
  row.changeMean === undefined &&
  (row.preMean === undefined || row.postMean === undefined);

const countedRows = (count: number): string => (count === 1 ? "1 row" : `${count} rows`);

const readingNotes = (
  reader: RowReader,
  counts: Readonly<{ inferred: number; spreadAssumed: number }>,
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

const completenessOf = (reader: RowReader, rows: number): RecordSet["completeness"] => {
  const counted = new Map(reader.columns.map((column) => [column.name, column]));
  return fieldNames.map((name) => {
    const nothing = { coded: 0, notReported: 0, unusable: 0 };
    const { coded, notReported, unusable } = counted.get(name) ?? nothing;
    const blank = rows - coded - notReported - unusable;
    return { column: columnOf(name), coded, notReported, blank, unusable };
  });
};

const inFileOrder = (issues: readonly Issue[]): readonly Issue[] =>
  issues
    .map((issue, place) => ({ issue, place }))
    .sort((a, b) => a.issue.line - b.issue.line || a.place - b.place)
    .map(({ issue }) => issue);
