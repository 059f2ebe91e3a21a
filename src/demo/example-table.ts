import { writeTable } from "../csv/write-table.js";
import type { FieldName } from "../records/codebook.js";
import { columnOf, fieldNames } from "../records/codebook.js";
import { demoCitation } from "./demo-notice.js";

/** One arm of an invented trial, with what a row most needs. */
const example = {
  ...{ study: "Example, delete this row", citation: demoCitation, year: "2019" },
  ...{ sourceLocation: "Table 2", design: "randomised groups", arm: "long holds" },
  ...{ armKind: "isometric", nStart: "15", nEnd: "14", femalePercent: "50" },
  ...{ muscleGroup: "knee extensors", intensityPercent: "80", holdSeconds: "5" },
  ...{ intensityBasis: "percent of MVC at the training angle", repetitions: "6", sets: "4" },
  ...{ restBetweenRepetitionsSeconds: "5", sessionsPerWeek: "3", weeks: "8" },
  ...{ trainingAngleDegrees: "60", angleConvention: "full extension is 0" },
  ...{ outcome: "peak isometric torque", outcomeFamily: "strength", unit: "N·m" },
  ...{ testMode: "isometric", testAngleDegrees: "60", statistic: "means at both times" },
  ...{ preMean: "182.4", preSpread: "31.2", postMean: "201.7", postSpread: "33.0" },
  ...{ spreadKind: "standard deviation", pValue: "0.004", direction: "increase" },
  notes: "An invented example: delete this row.",
} as const satisfies Partial<Record<FieldName, string>>;

/**
 * A blank table with one invented row that shows how cells are filled. While it stands, the file counts as invented, so that
 * nobody takes it for evidence.
 */
export const exampleTable = (): string =>
  writeTable(fieldNames.map(columnOf), [
    fieldNames.map((name) => (example as Partial<Record<FieldName, string>>)[name] ?? ""),
  ]);
