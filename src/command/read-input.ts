import { createHash } from "node:crypto";
import { basename } from "node:path";
import type { Evidence } from "../answers/evidence.js";
import { openFiles } from "../answers/several-files.js";
import type { CsvTable } from "../csv/csv-table.js";
import { readTable } from "../csv/read-table.js";
import { DataError } from "../errors.js";
import { readBytes } from "../host/read-bytes.js";
import type { TypedOthers } from "./other-files.js";
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

/** Reads a delimited file and remembers which bytes it held. */
export const readInput = async (path: string): Promise<InputFile> => {
  const bytes = await readBytes(path);
  const table = readTable(bytes);
  const other = table.issues.filter(({ code }) => code === "not-a-table");
  if (other.length > 0) throw new DataError(other);
  return { name: basename(path), fingerprint: fingerprintOf(bytes), table };
};

/**
 * A user's file opened for questions, with others that are to be one with it.
 *
 * Its fingerprint is that of the file, or of the fingerprints of all of them in the order they were named.
 */
export const openInput = async (
  path: string,
  others: readonly string[] = [],
): Promise<Evidence> => {
  const files: InputFile[] = [];
  for (const each of [path, ...others]) files.push(await readInput(each));
  const together = new TextEncoder().encode(files.map(({ fingerprint }) => fingerprint).join("\n"));
  return openFiles(files, fingerprintOf(together));
};

/** The file that was typed with its others, as the terminal opens it. */
export const openTyped = (
  path: string,
  { with: others = [] }: TypedOthers,
  { open = openInput }: Pick<Terminal, "open">,
): Promise<Evidence> => (others.length === 0 ? open(path) : openInput(path, others));
