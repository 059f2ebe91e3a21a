import { familyNotCoded, outcomeFamilyNames } from "../../records/outcome-families.js";

/** Outcome families in the order of the report. */
export const familyWords = [...outcomeFamilyNames, familyNotCoded] as const;
