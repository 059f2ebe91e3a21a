import type { Issue } from "../../errors.js";
import type { FieldName } from "../codebook.js";
import { columnOf } from "../codebook.js";
import type { OutcomeRow } from "../outcome-row.js";
import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/** Fields that must not fall along each list, on one row. */
const rising: readonly (readonly FieldName[])[] = [
  ["preMinimum", "preQuartileLow", "preMedian", "preQuartileHigh", "preMaximum"],
  ["postMinimum", "postQuartileLow", "postMedian", "postQuartileHigh", "postMaximum"],
  ["changeMinimum", "changeQuartileLow", "changeMedian", "changeQuartileHigh", "changeMaximum"],
  ["intervalLow", "intervalHigh"],
];

const descriptive: readonly (readonly FieldName[])[] = [
  ["intensityPercent", "intensityPercentHigh"],
  ["holdSeconds", "holdSecondsHigh"],
];

const firstFall = (
  row: OutcomeRow,
  fields: readonly FieldName[],
): readonly [FieldName, FieldName] | undefined => {
  let before: FieldName | undefined;
  for (const field of fields) {
    const value = row[field];
    if (value === undefined) continue;
    if (before !== undefined && (row[before] as number) > (value as number)) return [before, field];
    before = field;
  }
  return undefined;
};

/**
 * Quartiles, extremes and interval ends that are out of order: one of them is mistyped or in the wrong
 * column, so the row is refused; a prescription's range that runs downwards is a warning.
 */
export const orderOfEnds: RowCheck = (row) => {
  let issues: readonly Issue[] = noDoubts;
  for (const fields of rising) issues = withFall(issues, row, fields, "error");
  for (const fields of descriptive) issues = withFall(issues, row, fields, "warning");
  return issues;
};

const withFall = (
  issues: readonly Issue[],
  row: OutcomeRow,
  fields: readonly FieldName[],
  severity: Issue["severity"],
): readonly Issue[] => {
  const fall = firstFall(row, fields);
  if (fall === undefined) return issues;
  const [low, high] = fall;
  return [
    ...issues,
    rowIssue(row, high, severity, {
      code: "out-of-order",
      message: `${columnOf(high)} is below ${columnOf(low)}, which is ${String(row[low])}`,
      mend: "look up both numbers; two cells may be swapped",
    }),
  ];
};
