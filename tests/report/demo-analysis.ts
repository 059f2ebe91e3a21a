import { readFileSync } from "node:fs";
import { readTable } from "../../src/csv/read-table.js";
import { readRecords } from "../../src/records/read-records.js";
import { analyse, type Analysis, type AnalysisOptions } from "../../src/report/analysis.js";

/** A file of `data/` analysed as the report does it. */
export const analysisOf = (name: string, options: AnalysisOptions = {}): Analysis =>
  analyse(
    { name, fingerprint: "f".repeat(64), invented: name.startsWith("demo") },
    readRecords(readTable(readFileSync(new URL(`../../data/${name}`, import.meta.url)))),
    options,
  );

/** A short file of codebook rows analysed, for what the shipped files do not hold. */
export const analysisOfText = (csv: string): Analysis =>
  analyse(
    { name: "typed.csv", fingerprint: "0".repeat(64), invented: false },
    readRecords(readTable(csv)),
  );
