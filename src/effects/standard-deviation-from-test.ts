import { studentTQuantile } from "../numeric/student-t.js";
import { demanded } from "./arm-summary.js";

/**
 * Size of the t value that a two-sided p value stands for.
 *
 * @param test  p above 0, at most 1, and the degrees of freedom
 * @returns t, 0 or more; its sign must come from the text
 * @source none: definition of the two-sided p value
 */
export const tFromP = (test: Readonly<{ p: number; degreesOfFreedom: number }>): number => {
  const where = "tFromP";
  demanded(test.p, {
    where,
    needs: "a p value above 0 and at most 1",
    holds: (p) => p > 0 && p <= 1,
  });
  demanded(test.degreesOfFreedom, {
    where,
    needs: "degrees of freedom above 0",
    holds: (v) => v > 0,
  });
  return studentTQuantile(test.p / 2, test.degreesOfFreedom, "upper");
};

/**
 * Size of the t value that an F value on one and m degrees of freedom stands for: |t| = √F.
 *
 * @source none: identity of F(1, m) and t(m) squared
 */
export const tFromF = (f: number): number =>
  Math.sqrt(
    demanded(f, {
      where: "tFromF",
      needs: "an F value of 0 or more",
      holds: (value) => value >= 0,
    }),
  );

/**
 * Standard deviation of the people's changes from a paired t value and the mean change.
 *
 *   s_c = |D|·√n/|t|
 *
 * @param test  mean change and t both not 0, participants
 * @returns deviation of the changes in the unit of the mean change
 * @throws {CallError} "out-of-range" when t or the change is 0: the two then say nothing about the spread
 * @source Cochrane Handbook for Systematic Reviews of Interventions, chapter 6 (deviations from t values)
 */
export const changeDeviationFromT = (
  test: Readonly<{ meanChange: number; t: number; participants: number }>,
): number => {
  const where = "changeDeviationFromT";
  const notZero = {
    where,
    needs: "a mean change and a t value other than 0",
    holds: (v: number) => v !== 0,
  };
  demanded(test.t, notZero);
  demanded(test.meanChange, notZero);
  return (Math.abs(test.meanChange) * Math.sqrt(test.participants)) / Math.abs(test.t);
};
