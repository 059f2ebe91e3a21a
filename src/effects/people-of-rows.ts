import type { OutcomeRow } from "../records/outcome-row.js";
import { isTraining } from "./match-comparator.js";
import { cohortOf } from "./pre-post-correlation.js";

/** Who stands behind a row: two rows with the same key are measurements of the same people. */
export type PeopleOf = (row: OutcomeRow) => string;

/**
 * A function that names the people behind each row.
 *
 * Groups: the arm of the cohort. Crossover: the cohort, whatever the arm. Limbs of the same people: the
 * cohort; but where two or more arms train, people have no third limb, so an arm that does not train is
 * another group.
 *
 * @param rows  all rows of the file
 * @returns row to key
 * @source none: convention of this project
 */
export const peopleOfRows = (rows: readonly OutcomeRow[]): PeopleOf => {
  const trainingArms = new Map<string, Set<string>>();
  for (const row of rows) {
    if (!isTraining(row)) continue;
    const arms = trainingArms.get(row.study) ?? new Set<string>();
    trainingArms.set(row.study, arms.add(row.arm));
  }
  return (row) => {
    const cohort = cohortOf(row);
    const together =
      row.design === "crossover" ||
      (row.design === "within-person limbs" &&
        (isTraining(row) || (trainingArms.get(row.study)?.size ?? 0) < 2));
    return JSON.stringify(together ? [cohort] : [cohort, row.arm]);
  };
};
