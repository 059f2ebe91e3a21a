import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import { openEvidence } from "../../answers/evidence.js";
import { readTable } from "../../csv/read-table.js";
import { demoRegisterCsv } from "../../demo/demo-register-csv.js";
import type { Bench, Job } from "./bench.js";
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
  header: readonly string[];
  encoding: string;
  /** The first problems; more are asked for. */
  problems: readonly Problem[];
}>;

/** Reads a table onto the bench; the demonstration register where no bytes are given. */
export const openJob: Job<Readonly<{ name: string; bytes: Uint8Array }>, FileCheck> = (
  bench,
  { name, bytes },
  tell,
) => {
  tell(`reading ${name}`);
  return readOntoBench(bench, name, bytes, tell);
};

/** The bytes of the invented demonstration register. */
export const demoJob: Job<undefined, Uint8Array> = () =>
  new TextEncoder().encode(demoRegisterCsv());

/** Reads, checks and keeps a table. */
export const readOntoBench = (
  bench: Bench,
  name: string,
  bytes: Uint8Array,
  tell: (line: string) => void,
): FileCheck => {
  const table = readTable(bytes);
  tell(`checking ${name}`);
  const file = openEvidence({ name, fingerprint: bytesToHex(sha256(bytes)), table });
  const { records } = file;
  bench.file = file;
  const errors = records.issues.filter(({ severity }) => severity === "error").length;
  return {
    ...file.source,
    usable: records.usable,
    rowsInFile: records.rowsInFile,
    errors,
    warnings: records.issues.length - errors,
    header: table.header,
    encoding: table.encoding,
    problems: problemsFrom(file, 0),
  };
};
