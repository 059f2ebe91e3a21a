import { openEvidence } from "../../src/answers/evidence.js";
import { courseOn } from "../../src/course/course.js";
import { readTable } from "../../src/csv/read-table.js";
import { shippedText } from "../answers/evidence-under-test.js";
import { libraryText, studiesText } from "./three-studies.js";

const opened = (name: string, letter: string, text: string) =>
  openEvidence({ name, fingerprint: letter.repeat(64), table: readTable(text) });

export const evidence = {
  library: opened("published-outcomes.csv", "a", libraryText),
  demo: opened("demo-register.csv", "b", shippedText("demo-register.csv")),
  three: opened("three.csv", "c", studiesText()),
} as const;

export const courses = {
  library: await courseOn(evidence.library),
  demo: await courseOn(evidence.demo),
  three: await courseOn(evidence.three),
} as const;
