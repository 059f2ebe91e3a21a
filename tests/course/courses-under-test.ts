import { openEvidence } from "../../src/answers/evidence.js";
import { courseOn, type Course } from "../../src/course/course.js";
import { readTable } from "../../src/csv/read-table.js";
import { shippedText } from "../answers/evidence-under-test.js";
import { libraryText, studiesText } from "./three-studies.js";

export const opened = (name: string, letter: string, text: string) =>
  openEvidence({ name, fingerprint: letter.repeat(64), table: readTable(text) });

export const evidence = {
  library: opened("published-outcomes.csv", "a", libraryText),
  demo: opened("demo-register.csv", "b", shippedText("demo-register.csv")),
  three: opened("three.csv", "c", studiesText()),
} as const;

/** The course on one of them. */
export const courseOf = (name: keyof typeof evidence): Promise<Course> => courseOn(evidence[name]);
