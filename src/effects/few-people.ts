import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import { rowNote } from "./refusal.js";
import { intervalQuantile } from "./standard-deviation-from-standard-error.js";

/**
 * How many times a variance is widened when it rests, as if that were known, on the spread of very few people.
 *
 *   k = (t(0.975; m) / z(0.975))²      m = degrees of freedom of the spread;  k = 1 from `fewPeople` people on
 *
 * With it the normal interval of a single effect is as wide as Student's. In groups of 3, 4 and 5 people that interval
 * holds the truth, in the seeded simulation beside this file's test,
 *
 *   - of a mean change with a printed spread of the changes:  0.81, 0.86, 0.88 before;  0.95 after
 *   - of a log ratio from both deviations and a correlation:  0.90, 0.91, 0.92 before;  0.99, 0.98, 0.98 after
 *
 * so it is exact where one spread is all there is, and too wide rather than too narrow where the deviations at two
 * times steady each other. A spread pooled over the family would be steadier still, but leans on other studies having
 * measured the same thing, and makes a single row's effect depend on the rest of the file. Standardised scales allow
 * for the error of the spread in their own formulas, and scales of spread have no other part.
 *
 * @param people  of the smallest group
 * @param degreesOfFreedom  of the spread
 * @source Student (1908) Biometrika 6:1–25 (the distribution)
 */
export const fewPeopleFactor = (
  people: number,
  degreesOfFreedom: number,
  { fewPeople }: Pick<ResolvedEffectsOptions, "fewPeople">,
): number =>
  people < fewPeople
    ? (intervalQuantile(95, degreesOfFreedom) / intervalQuantile(95, Infinity)) ** 2
    : 1;

/**
 * What is said of a widened variance.
 *
 * @source none: wording of this project
 */
export const fewPeopleNotes = (row: OutcomeRow, people: number, factor: number): readonly Note[] =>
  factor === 1
    ? []
    : [
        rowNote(
          row,
          "few-people",
          `${people} people hardly tell their own spread, so the variance is made ${factor.toFixed(1)} times as large`,
        ),
      ];
