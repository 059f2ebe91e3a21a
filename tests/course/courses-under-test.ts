import { readFileSync } from "node:fs";
import { openEvidence } from "../../src/answers/evidence.js";
import { courseOn } from "../../src/course/course.js";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import type { CsvTable } from "../../src/csv/csv-table.js";

const shipped = (name: string): CsvTable =>
  readTable(new Uint8Array(readFileSync(new URL(`../../data/${name}`, import.meta.url))));

const library = shipped("published-outcomes.csv");

/** Three studies of the library by themselves. */
const threeStudies = ["Kubo 2001 J Physiol", "Massey 2018", "Balshaw 2016"];

const three = readTable(
  writeTable(
    library.header,
    library.rows.filter(({ cells }) => threeStudies.includes(cells[0]!)).map(({ cells }) => cells),
  ),
);

export const evidence = {
  library: openEvidence({
    name: "published-outcomes.csv",
    fingerprint: "a".repeat(64),
    table: library,
  }),
  demo: openEvidence({
    name: "demo-register.csv",
    fingerprint: "b".repeat(64),
    table: shipped("demo-register.csv"),
  }),
  three: openEvidence({ name: "three.csv", fingerprint: "c".repeat(64), table: three }),
} as const;

export const courses = {
  library: await courseOn(evidence.library),
  demo: await courseOn(evidence.demo),
  three: await courseOn(evidence.three),
} as const;
