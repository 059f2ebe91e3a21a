import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";
import type { OutcomeFamily } from "../outcome-families.js";

/** Words of an outcome's name that tell its family, the first that fits. */
const families: readonly Readonly<{ family: OutcomeFamily; words: RegExp }>[] = [
  { family: "tendon", words: /\btendon/i },
  {
    family: "size",
    words: /\b(?:volume|cross.sectional area|thickness|circumference|girth|lean mass)\b/i,
  },
  { family: "symptoms", words: /\b(?:pain|soreness)\b/i },
];

/** Outcomes whose name belongs to another family than the one coded: an area among the strengths. */
export const familyAndOutcome: RowCheck = ({ outcome, ...row }) => {
  const coded = row.outcomeFamily;
  if (coded === undefined || coded === "other") return noDoubts;
  const named = families.find(({ words }) => words.test(outcome))?.family;
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
