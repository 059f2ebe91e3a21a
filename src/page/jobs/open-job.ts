import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import { openEvidence } from "../../answers/evidence.js";
import { isJson, readResults, type OlderFile } from "../../answers/older-file.js";
import type { FileLines } from "../../answers/named-lines.js";
import { agesOf } from "../../answers/profile.js";
import type { StudiedAges } from "../../answers/session.js";
import { openFiles } from "../../answers/several-files.js";
import type { CsvTable } from "../../csv/csv-table.js";
import { demoRegisterCsv } from "../../demo/demo-register-csv.js";
import { readAnyTable, tableName } from "../../workbook/read-any-table.js";
import { partsOf, type OpenFile } from "../open-file.js";
import type { Bench, BenchPart, Job } from "./bench.js";
import { problemsFrom, type Problem } from "./problems.js";

/** What the page knows of the open table without its rows. */
export type FileCheck = Readonly<{
  name: string;
  fingerprint: string;
  invented: boolean;
  usable: boolean;
  rowsInFile: number;
  errors: number;
  warnings: number;
  /** Mean ages of the groups that trained; null where the file gives none. */
  ages: StudiedAges | null;
  header: readonly string[];
  /** The files that are open together, and which lines of the joined table are whose. */
  parts: readonly Readonly<{ name: string; encoding: string; sheet?: CsvTable["sheet"] }>[];
  files: readonly FileLines[];
  /** The first problems; more are asked for. */
  problems: readonly Problem[];
}>;

/** Reads a table, with those that are one with it, onto the bench. */
export const openJob: Job<OpenFile, FileCheck> = (bench, file, tell) =>
  readOntoBench(bench, file, tell);

/** The bytes of the invented demonstration register. */
export const demoJob: Job<undefined, Uint8Array> = () =>
  new TextEncoder().encode(demoRegisterCsv());

export const hashed = (bytes: Uint8Array): string => bytesToHex(sha256(bytes));

/** What tells bytes from any others, whatever their file is called. */
export const fingerprintJob: Job<Uint8Array, string> = (_bench, bytes) => hashed(bytes);

/** An older file that the open one is set beside: a table, or the results of a report. */
export const olderOnPage = async (file: OpenFile): Promise<OlderFile> => {
  const text = new TextDecoder().decode(file.bytes);
  if (isJson(text)) return readResults(text);
  const table = await readAnyTable(file.bytes, { sheet: file.sheet });
  return openEvidence({
    name: tableName(file.name, table),
    fingerprint: hashed(file.bytes),
    table,
  });
};

/** Reads, checks and keeps a table, with those that are one with it. */
export const readOntoBench = async (
  bench: Bench,
  open: OpenFile,
  tell: (line: string) => void,
): Promise<FileCheck> => {
  const read: Omit<BenchPart, "above">[] = [];
  for (const file of partsOf(open)) {
    tell(`reading ${file.name}`);
    const table = await readAnyTable(file.bytes, { sheet: file.sheet });
    const name = tableName(file.name, table);
    read.push({ file, read: { name, fingerprint: hashed(file.bytes), table } });
  }
  tell(`checking ${open.name}`);
  const files = read.map((part) => part.read);
  const together = new TextEncoder().encode(files.map(({ fingerprint }) => fingerprint).join("\n"));
  const file = openFiles(files, hashed(together));
  const parts = read.map((part, at) => ({ ...part, above: file.files?.[at]?.above ?? 0 }));
  const { records } = file;
  bench.file = file;
  bench.parts = parts;
  const errors = records.issues.filter(({ severity }) => severity === "error").length;
  return {
    ...file.source,
    usable: records.usable,
    rowsInFile: records.rowsInFile,
    errors,
    warnings: records.issues.length - errors,
    ages: agesOf(file),
    header: file.table.header,
    parts: files.map(({ name, table: { encoding, sheet } }) => ({
      name,
      encoding,
      ...(sheet === undefined ? {} : { sheet }),
    })),
    files: file.files ?? [],
    problems: problemsFrom(bench, 0),
  };
};
