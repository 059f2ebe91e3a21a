import type { RecordSet } from "../../records/record-set.js";
import type { Exercise } from "../exercise.js";
import { shippedFile } from "../shipped-data.js";

const register = (): RecordSet => shippedFile("demo-register.csv").records;
const withFate = (...fates: readonly string[]): number =>
  register().fates.filter(({ fate }) => fates.includes(fate)).length;
const studies = (): number => new Set(register().rows.map(({ study }) => study)).size;
const cohorts = (): number =>
  new Set(register().rows.map(({ study, cohort }) => cohort ?? study)).size;
const most = (count: "notReported" | "blank"): string =>
  [...register().completeness].sort((first, second) => second[count] - first[count])[0]?.column ??
  "";

/** Notebook 1: reading and checking a file. */
export const readingExercises: readonly Exercise[] = [
  {
    id: "1.1",
    answer: () => withFate("used with a warning"),
    slips: [
      {
        answer: () => register().rowsInFile,
        because: "That is every row of the file; only those with a warning are asked for.",
      },
      {
        answer: () => withFate("used"),
        because: "Those rows were used without any doubt; it is the others that are asked for.",
      },
      {
        answer: () => register().issues.length,
        because:
          "That counts problems, and not rows: a row may be warned of in a note, or have several problems.",
      },
    ],
    hint: 'Count the entries of records.fates whose fate is "used with a warning".',
    reason:
      "A row with a warning is used all the same, and the warning goes with it; only a row that cannot be read is set aside.",
  },
  {
    id: "1.2",
    answer: () => most("notReported"),
    slips: [
      {
        answer: () => most("blank"),
        because:
          'That column has the most blanks. Blank means nobody has looked yet; "not reported" means somebody looked in vain.',
      },
    ],
    hint: "records.completeness has, for each column, how many cells are coded, not reported and blank.",
    reason:
      "Somebody looked for it in every source and wrote down that it is not there. That is a finding about how trials are printed; a blank is none.",
  },
  {
    id: "1.3",
    answer: cohorts,
    slips: [
      {
        answer: studies,
        because:
          "That counts papers. Two papers on the same people are one study: where a row names a cohort, the cohort counts.",
      },
      {
        answer: () => new Set(register().rows.flatMap(({ cohort }) => cohort ?? [])).size,
        because:
          "That counts only rows that name a cohort; where none is named, the study stands for itself.",
      },
    ],
    hint: "For each row take its cohort, and its study where it names none; how many different ones are there?",
    reason:
      "Where two papers name one cohort they tell of the same people: counted by paper, these would count twice.",
  },
];
