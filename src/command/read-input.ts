import { createHash } from "node:crypto";
import { basename } from "node:path";
import { openEvidence, type Evidence } from "../answers/evidence.js";
import type { CsvTable } from "../csv/csv-table.js";
import { readTable } from "../csv/read-table.js";
import { DataError } from "../errors.js";
import { readBytes } from "../host/read-bytes.js";

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

/** A user's file opened for questions. */
export const openInput = async (path: string): Promise<Evidence> =>
  openEvidence(await readInput(path));
