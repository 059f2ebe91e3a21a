/**
 * Kinds of evidence: base R, which integrates the same event another way (over the shared error inside, by its own
 * adaptive rule); identities with Student's t; and the published ratio of smallest real difference to error.
 */
import { describe, expect, test } from "vitest";
import { manyToOneProbability, manyToOneQuantile } from "../../src/numeric/many-to-one-t.js";
import { studentTProbability, studentTQuantile } from "../../src/numeric/student-t.js";
import { baseR } from "../base-r.js";

const { run, numbers } = baseR();

describe("the largest of several t variables with a shared baseline", () => {
  test.each([
    [2.6, [0.7, 0.7], 5],
    [3.1, [0.7, 0.6, 0.9, 0.5], 7.5],
    [2.4, [0.95, 0.9, 0.2], 30],
    [3.9, Array<number>(10).fill(Math.SQRT1_2), 3],
  ])("q %d: probability as base R integrates it", async (q, loadings, degrees) => {
    await run(`
      inside <- function(s) sapply(s, function(s) integrate(function(z) {
        p <- dnorm(z)
        for (l in c(${loadings.join(",")})) {
          own <- sqrt(1 - l^2)
          p <- p * (pnorm((${q}*s - l*z)/own) - pnorm((-${q}*s - l*z)/own))
        }
        p
      }, -9, 9, rel.tol = 1e-9)$value)`);
    const [found] = await numbers(
      `integrate(function(v) inside(sqrt(v/${degrees})) * dchisq(v, ${degrees}), 0, ${degrees} + 200, rel.tol = 1e-8)$value`,
    );
    expect(manyToOneProbability(q, loadings, degrees)).toBeCloseTo(found!, 4);
  });

  test("one variable is Student's t; loadings of nothing are as many known errors apart", () => {
    expect(manyToOneQuantile(0.95, [0.3], 9)).toBe(studentTQuantile(0.975, 9));
    expect(manyToOneProbability(2.1, [0.8], 9)).toBeCloseTo(2 * studentTProbability(2.1, 9) - 1, 6);
    expect(manyToOneProbability(2.1, [0, 0, 0], Infinity)).toBeCloseTo(
      (2 * studentTProbability(2.1, Infinity) - 1) ** 3,
      6,
    );
  });

  test("a quantile gives its probability back, and more dates never lower it", () => {
    let before = 0;
    for (const dates of [1, 2, 5, 10, 20]) {
      const loadings = Array<number>(dates).fill(Math.SQRT1_2);
      const q = manyToOneQuantile(0.95, loadings, 7);
      expect(manyToOneProbability(q, loadings, 7)).toBeCloseTo(0.95, 4);
      expect(q).toBeGreaterThan(before);
      before = q;
    }
  });
});
