import { createHash } from "node:crypto";
import { basename } from "node:path";
import type { Evidence } from "../answers/evidence.js";
import { isJson, readResults, type OlderFile } from "../answers/older-file.js";
import { openFiles } from "../answers/several-files.js";
import type { CsvTable } from "../csv/csv-table.js";
import { CallError, DataError } from "../errors.js";
import { readBytes } from "../host/read-bytes.js";
import { isWorkbook, readAnyTable, tableName } from "../workbook/read-any-table.js";
import type { TypedFiles } from "./typed-files.js";
import type { Terminal } from "./terminal.js";

/** A user's file: its table, and the fingerprint that says which bytes an answer rests on. */
export type InputFile = Readonly<{
  name: string;
  /** SHA-256 of the bytes, hexadecimal. */
  fingerprint: string;
  table: CsvTable;
}>;

/** SHA-256 of a file's bytes, hexadecimal. */
export const fingerprintOf = (bytes: Uint8Array): string =>
  createHash("sha256").update(bytes).digest("hex");

/**
 * Reads tables, delimited texts or sheets of workbooks, and remembers which bytes they held.
 *
 * @param sheets names of sheets, for the workbooks in their order
 */
export const readInputs = async (
  paths: readonly string[],
  sheets: readonly string[] = [],
): Promise<readonly InputFile[]> => {
  const files: InputFile[] = [];
  const wanted = [...sheets];
  for (const path of paths) {
    const bytes = await readBytes(path);
    const table = await readAnyTable(bytes, {
      sheet: isWorkbook(bytes) ? wanted.shift() : undefined,
    });
    const other = table.issues.filter(({ code }) => code === "not-a-table");
    if (other.length > 0) throw new DataError(other);
    const name = tableName(basename(path), table);
    files.push({ name, fingerprint: fingerprintOf(bytes), table });
  }
  if (wanted.length > 0)
    throw new CallError({
      code: "no-sheet",
      where: "--sheet",
      needs: "a workbook (.xlsx) for each sheet that is named",
      got: `"${wanted[0]!}" without one`,
    });
  return files;
};

/** Reads one table, as `readInputs` does. */
export const readInput = async (path: string, sheets?: readonly string[]): Promise<InputFile> =>
  (await readInputs([path], sheets))[0]!;

/**
 * A user's file opened for questions, with others that are to be one with it.
 *
 * Its fingerprint is that of the file, or of the fingerprints of all of them in the order they were named.
 */
export const openInput = async (
  path: string,
  { with: others = [], sheet }: TypedFiles = {},
): Promise<Evidence> => {
  const files = await readInputs([path, ...others], sheet);
  const together = new TextEncoder().encode(files.map(({ fingerprint }) => fingerprint).join("\n"));
  return openFiles(files, fingerprintOf(together));
};

/** An older file that a newer one is set beside: a table, or the results of a report. */
export const openOlder = async (path: string): Promise<OlderFile> => {
  const text = new TextDecoder().decode(await readBytes(path));
  return isJson(text) ? readResults(text) : openInput(path);
};

/** The file that was typed with its others, as the terminal opens it. */
export const openTyped = (
  path: string,
  typed: TypedFiles,
  { open = openInput }: Pick<Terminal, "open">,
): Promise<Evidence> =>
  typed.with === undefined && typed.sheet === undefined ? open(path) : openInput(path, typed);
