import { familyNotCoded } from "../../report/analysis.js";

/** Outcome families in the order of the report. */
export const familyWords = [
  "strength",
  "size",
  "tendon",
  "rapid force",
  "endurance",
  "symptoms",
  "other",
  familyNotCoded,
] as const;
