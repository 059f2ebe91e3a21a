/** Rows that are being typed, read with the open file as one before they stand in it. */
import { readTable } from "../csv/read-table.js";
import { writeTable } from "../csv/write-table.js";
import { spreadKindTold, type SpreadKindTold } from "../effects/spread-kind-told.js";
import type { Issue } from "../errors.js";
import { boundText } from "../records/cell-reading.js";
import { columnSpelling } from "../records/header-columns.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { RowFate } from "../records/record-set.js";
import { formatNumber } from "../tables/number-format.js";
import type { Evidence } from "./evidence.js";
import { openFiles, type ReadFile } from "./several-files.js";

/** Cells under their columns. */
export type AddedRows = Readonly<{
  header: readonly string[];
  rows: readonly (readonly string[])[];
}>;

/** The file and the added rows as one; `above` is the line above the first of them less one for their header. */
export type WithAdded = Readonly<{ evidence: Evidence; above: number }>;

/**
 * Rows read as one with the files that are open; alone where none is.
 *
 * @param fingerprint of them all together
 * @throws {CallError} "invented-and-real", "ready-effects" where they cannot stand beside the open file
 * @source none: bookkeeping
 */
export const withAdded = (
  files: readonly ReadFile[],
  { header, rows }: AddedRows,
  fingerprint: string,
): WithAdded => {
  const table = readTable(writeTable(header, rows));
  const evidence = openFiles([...files, { name: "the new rows", fingerprint, table }], fingerprint);
  return { evidence, above: evidence.files?.at(-1)?.above ?? 0 };
};

/**
 * A table with the added rows below its own, and the columns it lacks behind its own.
 *
 * @source none: bookkeeping
 */
export const appended = (
  before: Readonly<{
    header: readonly string[];
    rows: readonly Readonly<{ cells: readonly string[] }>[];
  }>,
  added: AddedRows,
): AddedRows => {
  const spelt = before.header.map(columnSpelling);
  const header = [...before.header, ...added.header.filter((name) => !spelt.includes(name))];
  const places = header.map((name) => added.header.indexOf(columnSpelling(name)));
  return {
    header,
    rows: [
      ...before.rows.map(({ cells }) => header.map((_, at) => cells[at] ?? "")),
      ...added.rows.map((cells) => places.map((place) => cells[place] ?? "")),
    ],
  };
};

/** What is said of the added rows, each known by its place among them; a problem without one is of them all. */
export type AddedTold = Readonly<{
  above: number;
  problems: readonly (Issue & Readonly<{ row: number }>)[];
  fates: readonly RowFate[];
  /** Whether spreads are deviations or errors, row by row; undefined where the row has no spreads. */
  spreads: readonly (
    | Readonly<{
        sentence: string;
        /** Whether the row prints a test to tell it by. */
        test: boolean;
        kind?: "standard deviation" | "standard error";
      }>
    | undefined
  )[];
}>;

const testOf = ({ tValue, fValue, pValue, pBound }: OutcomeRow): string =>
  tValue !== undefined
    ? `t = ${formatNumber(tValue)}`
    : fValue !== undefined
      ? `F = ${formatNumber(fValue)}`
      : pValue !== undefined
        ? `p = ${pValue}`
        : `p ${pBound === undefined ? "" : boundText(pBound)}`;

const spreadSentence = (row: OutcomeRow, told: SpreadKindTold): string => {
  const { kind, correlation, isBound } = told;
  const bound = isBound ? (row.pBound?.side === "above" ? "at most " : "at least ") : "";
  const at = (r: number) => `${bound}${formatNumber(r, { digits: 2 })}`;
  const known = `With n = ${row.nEnd ?? row.nStart} and ${testOf(row)}`;
  const needs = `before and after would correlate at ${at(correlation.asDeviation)} if they are deviations, at ${at(correlation.asError)} if errors`;
  if (kind === "cannot tell")
    return `${known} both are possible: ${needs}. The paper's methods say which.`;
  if (kind === "neither fits")
    return `${known} neither fits: ${needs}. Check means, spreads, people and test against the paper.`;
  return `${known} these can only be ${kind}s: ${needs}.`;
};

/**
 * What the reader says of the added rows, and what their tests tell of their spreads.
 *
 * @source none: wording of this project
 */
export const addedTold = ({ evidence: { records, table }, above }: WithAdded): AddedTold => {
  const lines = table.rows.flatMap(({ line }) => (line > above ? [line] : []));
  const byLine = new Map(records.rows.map((row) => [row.line, row]));
  const fates = new Map(records.fates.map((fate) => [fate.line, fate]));
  return {
    above,
    problems: records.issues.flatMap((issue) => {
      const row = lines.indexOf(issue.line);
      return row === -1 ? [] : [{ ...issue, row }];
    }),
    fates: lines.map((line) => fates.get(line) ?? { line, fate: "used", reason: "" }),
    spreads: lines.map((line) => {
      const row = byLine.get(line);
      if (row?.preSpread === undefined && row?.postSpread === undefined) return undefined;
      const told = spreadKindTold(row);
      if (told === undefined)
        return {
          test: false,
          sentence:
            "Whether these are deviations or errors can be told once both means, both spreads, the people and a t, F or p of this arm's change are typed.",
        };
      const { kind } = told;
      return {
        test: true,
        sentence: spreadSentence(row, told),
        ...(kind === "standard deviation" || kind === "standard error" ? { kind } : {}),
      };
    }),
  };
};
