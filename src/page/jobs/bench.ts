import type { Evidence } from "../../answers/evidence.js";
import { CallError } from "../../errors.js";
import type { TextWidth } from "../../host/figure-svg.js";
import type { Analysis, AnalysisOptions } from "../../report/analysis.js";
import { analyse } from "../../report/analysis.js";

/** The file that is open, as the worker keeps it. */
export type BenchFile = Evidence;

/** What the worker remembers between jobs. */
export type Bench = {
  file?: BenchFile;
  /** The last analysis, and the options it was made with. */
  analysis?: Readonly<{ key: string; analysis: Analysis }>;
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
export const newBench = (): Bench => ({});

/**
 * The open table.
 *
 * @throws {CallError} "no-file"
 */
export const openFile = (bench: Bench): BenchFile => {
  if (bench.file !== undefined) return bench.file;
  throw new CallError({
    code: "no-file",
    where: "this view",
    needs: "a table",
    got: "none",
    try: "open a CSV or the demonstration first",
  });
};

/** The analysis of the open table; made once for the same options. */
export const analysisOf = (
  bench: Bench,
  options: AnalysisOptions,
  tell: (line: string) => void,
): Analysis => {
  const { source, records } = openFile(bench);
  const { name, fingerprint } = source;
  const key = JSON.stringify([fingerprint, name, options]);
  if (bench.analysis?.key === key) return bench.analysis.analysis;
  const analysis = analyse(source, records, options, tell);
  bench.analysis = { key, analysis };
  return analysis;
};
