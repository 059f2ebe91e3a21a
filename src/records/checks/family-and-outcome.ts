import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";
import { familyNamed } from "../outcome-families.js";

/** Outcomes whose name belongs to another family than the one coded: an area among the strengths. */
export const familyAndOutcome: RowCheck = ({ outcome, ...row }) => {
  const coded = row.outcomeFamily;
  if (coded === undefined || coded === "other") return noDoubts;
  const named = familyNamed(outcome);
  if (named === undefined || named === coded) return noDoubts;
  if (named === "tendon" && coded === "size") return noDoubts;
  return [
    rowIssue({ outcome, ...row }, "outcomeFamily", "warning", {
      code: "family-and-outcome",
      message: `the outcome is called "${outcome}", which is ${named}`,
      mend: `write ${named}, or name the outcome so that its family can be seen`,
    }),
  ];
};
