import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { columnOf } from "../../src/records/codebook.js";
import type { FieldName } from "../../src/records/codebook.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { readRecords } from "../../src/records/read-records.js";
import type { RecordSet } from "../../src/records/record-set.js";

export type Cells = Readonly<Partial<Record<FieldName, string>>>;

/** A row that nothing is wrong with; tests change what they are about. */
export const soundRow = {
  study: "Ashdown 2019",
  design: "randomised groups",
  arm: "long holds",
  armKind: "isometric",
  nStart: "15",
  nEnd: "14",
  intensityPercent: "80",
  intensityBasis: "percent of MVC at the training angle",
  holdSeconds: "5",
  repetitions: "6",
  sets: "4",
  sessionsPerWeek: "3",
  weeks: "8",
  trainingAngleDegrees: "60",
  angleConvention: "full extension is 0",
  outcome: "peak isometric torque",
  outcomeFamily: "strength",
  unit: "N·m",
  statistic: "means at both times",
  preMean: "182.4",
  preSpread: "31.2",
  postMean: "201.7",
  postSpread: "33.0",
  spreadKind: "standard deviation",
} as const satisfies Cells;

/** The sound row's cells, each test row with its own changes. */
export const tableText = (changes: readonly Cells[], delimiter: "," | ";" = ","): string => {
  const rows: Cells[] = changes.map((change) => ({ ...soundRow, ...change }));
  const names = [...new Set(rows.flatMap((row) => Object.keys(row)))] as FieldName[];
  return writeTable(
    names.map(columnOf),
    rows.map((row) => names.map((name) => row[name] ?? "")),
    { delimiter },
  );
};

export const recordsOf = (...changes: readonly Cells[]): RecordSet =>
  readRecords(readTable(tableText(changes)));

/** Sound rows as the checks see them. */
export const rowOf = (fields: Partial<OutcomeRow> = {}): OutcomeRow => ({
  line: 2,
  notReported: [],
  study: "Ashdown 2019",
  arm: "long holds",
  outcome: "peak isometric torque",
  outcomeFamily: "strength",
  nEnd: 14,
  preMean: 182.4,
  preSpread: 31.2,
  postMean: 201.7,
  postSpread: 33,
  spreadKind: "standard deviation",
  statistic: "means at both times",
  ...fields,
});

export const codesOf = (issues: readonly Readonly<{ code: string; line: number }>[]) =>
  issues.map(({ code, line }) => `${code}@${line}`);
