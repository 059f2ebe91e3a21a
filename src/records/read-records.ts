import type { CsvTable } from "../csv/csv-table.js";
import type { Issue, Note } from "../errors.js";
import { cleanCell } from "./clean-cell.js";
import { sameRowTwice } from "./checks/same-row-twice.js";
import { columnOf, fieldNames, fieldOf } from "./codebook.js";
import { cellKindOf } from "./column-reader.js";
import type { HeaderColumns } from "./header-columns.js";
import { headerColumns } from "./header-columns.js";
import type { DecimalMarks } from "./number-text.js";
import { decimalMarksOf, numberText } from "./number-text.js";
import { saysNotReported } from "./not-reported.js";
import type { OutcomeRow } from "./outcome-row.js";
import { completenessOf, readingNotes } from "./reading-notes.js";
import type { RecordSet, RowFate } from "./record-set.js";
import { checkRows } from "./row-checks.js";
import { rowReader } from "./row-reader.js";
import { settleStatistic, warn } from "./settle-statistic.js";
import type { Verdict } from "./settle-statistic.js";

export type ReadRecordsOptions = Readonly<{
  /** How the file marks decimals; found from its cells when absent. */
  decimalMark?: "point" | "comma";
}>;

/**
 * A table read through the codebook: the rows that can be used, what became of every row, and all
 * problems at once.
 *
 * A row is *refused* when study, arm or outcome is missing, when its line does not have the header's
 * number of cells, when a cell of an essential column (see the codebook) cannot be read, or when its
 * numbers contradict each other. It is *set aside* when it repeats an earlier row or prints no change to
 * analyse. A cell of any other column that cannot be read is set aside and the row *used with a warning*,
 * as is a row without spread, interval or test statistic, which has no weight of its own. A blank `statistic`
 * is filled from the columns that are filled, and a note counts these. Columns that the codebook does not know
 * are kept with their rows.
 *
 * @param table from `readTable`
 * @returns rows in file order; `fates` has one entry for each row of the file
 */
export const readRecords = (table: CsvTable, options: ReadRecordsOptions = {}): RecordSet => {
  const header = headerColumns(table.header, table.headerLine);
  const marks = marksOf(table, header, options);
  const reader = rowReader(header, marks, numberColumns(table, header, marks));
  const badLines = new Map<number, string>();
  for (const issue of table.issues) {
    if (issue.severity === "error" && issue.line > 0 && !badLines.has(issue.line)) {
      badLines.set(issue.line, issue.message);
    }
  }
  const issues: Issue[] = [
    ...table.issues,
    ...(table.header.length > 0 ? header.issues.map(orOtherSheet(table)) : []),
  ];
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
    const settled = settleStatistic(row, verdict, counts, issues);
    if (verdict.fate !== "used") verdicts.set(line, verdict);
    if (settled !== undefined) read.push(settled);
  }
  const repeats = sameRowTwice(read);
  for (const [line, first] of repeats) {
    verdicts.set(line, {
      fate: "set aside",
      reasons: [`repeats line ${first} in every column of the codebook`],
    });
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
  for (const { line, code } of checks.confirmed) {
    const verdict: Verdict = verdicts.get(line) ?? { fate: "used", reasons: [] };
    verdicts.set(line, verdict);
    if (verdict.fate !== "refused") verdict.reasons.push(`${code} confirmed by whoever entered it`);
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
    notes: [
      ...table.notes,
      ...readingNotes(reader, counts, marks),
      ...checks.notes,
      ...confirmedNote(checks.confirmed),
    ],
    unknownColumns: header.unknown.map(({ title }) => title),
    completeness: completenessOf(reader, table.rows.length),
    usable: rows.length > 0 && !issues.some(({ severity }) => severity === "error"),
    rowsInFile: table.rows.length,
  };
};

/** A column that is missing may stand on another sheet of the workbook. */
const orOtherSheet =
  ({ sheet }: CsvTable) =>
  (issue: Issue): Issue => {
    const others = (sheet?.names ?? []).filter((name) => name !== sheet?.name);
    return issue.code !== "missing-column" || others.length === 0
      ? issue
      : {
          ...issue,
          mend: `${issue.mend}; or read another sheet: ${others.map((name) => `"${name}"`).join(", ")}`,
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

/** Places of the columns of one's own in which every filled cell is a number. */
const numberColumns = (
  table: CsvTable,
  header: HeaderColumns,
  marks: DecimalMarks,
): ReadonlySet<number> =>
  new Set(
    header.unknown.flatMap(({ index }) => {
      const isNumber = table.rows.every(({ cells }) => {
        const cell = cleanCell(cells[index] ?? "");
        return cell === "" || saysNotReported(cell) || numberText(cell, marks).kind === "number";
      });
      return isNumber ? [index] : [];
    }),
  );

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

const cellReason = ({ column, message }: Issue): string =>
  column === "" ? message : `${column}: ${message}`;

/** Doubts that are silent because whoever entered the rows looked them up. */
const confirmedNote = (confirmed: readonly Issue[]): readonly Note[] =>
  confirmed.length === 0
    ? []
    : [
        {
          code: "doubts-confirmed",
          message: `confirmed by whoever entered it: ${confirmed.map(({ code, line }) => `${code} (line ${line})`).join(", ")}`,
        },
      ];

const reasonText = (reasons: readonly string[]): string =>
  reasons.length < 2 ? (reasons[0] ?? "") : [...new Set(reasons)].join("; ");

const inFileOrder = (issues: readonly Issue[]): readonly Issue[] =>
  issues
    .map((issue, place) => ({ issue, place }))
    .sort((a, b) => a.issue.line - b.issue.line || a.place - b.place)
    .map(({ issue }) => issue);
