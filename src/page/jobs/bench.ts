import type { WithAdded } from "../../answers/added-rows.js";
import type { Evidence } from "../../answers/evidence.js";
import type { Help } from "../../answers/shared-work.js";
import type { ReadFile } from "../../answers/several-files.js";
import type { Course } from "../../course/course.js";
import { CallError } from "../../errors.js";
import type { TextWidth } from "../../host/figure-svg.js";
import type { OpenFile } from "../open-file.js";

/** The file that is open, as the worker keeps it. */
export type BenchFile = Evidence;

/** One of the files that are open together, as it came and as it was read. */
export type BenchPart = Readonly<{
  file: OpenFile;
  read: ReadFile;
  /** Its lines stand this much higher in the joined table. */
  above: number;
}>;

/** What the worker remembers between jobs. */
export type Bench = {
  /** Who shares long work; none where the page works by itself. */
  readonly help?: Help | undefined;
  file?: BenchFile;
  parts?: readonly BenchPart[];
  /** The open file with rows that are being typed. */
  added?: WithAdded & Readonly<{ key: string }>;
  /** The course on the open file, with what it was asked with. */
  course?: Readonly<{ key: string; course: Course }>;
  /** How text is measured, with the widths it was read from. */
  letters?: Readonly<{ text: string; measure: TextWidth }>;
};

/** Work on the bench: input and output cross as plain data, `tell` says how far the work is. */
export type Job<Input, Output> = (
  bench: Bench,
  input: Input,
  tell: (line: string) => void,
) => Output | Promise<Output>;

/** An empty bench. */
export const newBench = (help?: Help): Bench => ({ help });

/**
 * The open file.
 *
 * @throws {CallError} "no-file"
 */
export const openFile = (bench: Bench): BenchFile => {
  if (bench.file !== undefined) return bench.file;
  throw new CallError({
    code: "no-file",
    where: "this view",
    needs: "a file",
    got: "none",
    try: "open a table or the demonstration first",
  });
};
