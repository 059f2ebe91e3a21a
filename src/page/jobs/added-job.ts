import {
  addedTold,
  appended,
  withAdded,
  type AddedRows,
  type AddedTold,
} from "../../answers/added-rows.js";
import { asOne, type OpenFile } from "../open-file.js";
import type { Bench, BenchFile, Job } from "./bench.js";
import { written } from "./mend-job.js";
import { hashed, readOntoBench, type FileCheck } from "./open-job.js";

/** The open file with rows that are being typed; read once for the same rows. */
export const evidenceWith = (bench: Bench, added: AddedRows): BenchFile =>
  withOnBench(bench, added).evidence;

const withOnBench = (bench: Bench, added: AddedRows) => {
  const key = JSON.stringify([bench.file?.source.fingerprint, added]);
  if (bench.added?.key !== key) {
    const files = (bench.parts ?? []).map(({ read }) => read);
    const fingerprint = hashed(new TextEncoder().encode(key));
    bench.added = { key, ...withAdded(files, added, fingerprint) };
  }
  return bench.added;
};

/** What is said of rows that are being typed. */
export const addedJob: Job<AddedRows, AddedTold> = (bench, added) =>
  addedTold(withOnBench(bench, added));

/** Puts rows into one of the open files, or into a new one read as one with them; gives the changed file with its check. */
export const appendJob: Job<
  Readonly<{ added: AddedRows; to: number | undefined }>,
  Readonly<{ file: OpenFile; check: FileCheck }>
> = async (bench, { added, to }, tell) => {
  const parts = bench.parts ?? [];
  const part = to === undefined ? undefined : parts[to];
  const { header, rows } = appended(part?.read.table ?? { header: [], rows: [] }, added);
  const file = written(part, header, rows);
  const files = parts.map((one) => one.file);
  const whole = asOne(part === undefined ? [...files, file] : files.with(to!, file))!;
  return { file: whole, check: await readOntoBench(bench, whole, tell) };
};
