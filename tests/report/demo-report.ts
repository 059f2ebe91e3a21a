import { readFileSync } from "node:fs";
import { openEvidence, type Evidence } from "../../src/answers/evidence.js";
import { readTable } from "../../src/csv/read-table.js";
import type { Report } from "../../src/report/report-part.js";
import { reportOn } from "../../src/report/report-parts.js";

/** A file of `data/`, open for questions. */
export const evidenceOf = (name: string): Evidence =>
  openEvidence({
    name: name.slice(name.lastIndexOf("/") + 1),
    fingerprint: "f".repeat(64),
    table: readTable(readFileSync(new URL(`../../data/${name}`, import.meta.url))),
  });

/** A file of `data/` as its report. */
export const reportOf = (
  name: string,
  options: Readonly<Record<string, unknown>> = {},
): Promise<Report> => reportOn(evidenceOf(name), options);

/** A short file of codebook rows, open for questions. */
export const evidenceOfText = (csv: string): Evidence =>
  openEvidence({ name: "typed.csv", fingerprint: "0".repeat(64), table: readTable(csv) });
