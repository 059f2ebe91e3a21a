import type { Note } from "../../errors.js";
import type { OutcomeRow } from "../outcome-row.js";

/** Cohorts that several studies report on, as the file says itself: their effects are of the same people. */
export const sharedCohorts = (rows: readonly OutcomeRow[]): readonly Note[] => {
  const studies = new Map<string, Set<string>>();
  for (const { cohort, study } of rows) {
    if (cohort === undefined) continue;
    const known = studies.get(cohort);
    if (known === undefined) studies.set(cohort, new Set([study]));
    else known.add(study);
  }
  return [...studies]
    .filter(([, names]) => names.size > 1)
    .map(([cohort, names]) => ({
      code: "shared-cohort",
      message: `cohort "${cohort}" is reported on by ${[...names].join(", ")}: the same people, to be counted once`,
    }));
};
