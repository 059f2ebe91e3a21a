/** Kinds of evidence: identities of the curves. */
import { expect, test } from "vitest";
import { shareReached, timeCourseForms, timeCourseNames } from "../../src/dose/time-course.js";
import { numericalGradient } from "../../src/numeric/finite-difference.js";

test("the exponential approach: nothing at first, 1 − 1/e at the time constant, half at ln 2 of it", () => {
  expect(shareReached(0, 4)).toBe(0);
  expect(shareReached(4, 4)).toBeCloseTo(1 - Math.exp(-1), 14);
  expect(shareReached(4 * Math.LN2, 4)).toBeCloseTo(0.5, 14);
  expect(shareReached(1e4, 4)).toBe(1);
});

test("line and logarithm are one at the last week, and every course starts from nothing", () => {
  const forms = timeCourseForms(2, 12);
  for (const name of timeCourseNames) expect(forms[name].share(0, 5)).toBe(0);
  expect(forms["straight line"].share(12, 1)).toBe(1);
  expect(forms["straight line"].share(3, 1)).toBe(0.25);
  expect(forms.logarithm.share(12, 1)).toBe(1);
});

test("the slope by the constant's logarithm is the derivative", () => {
  const form = timeCourseForms(2, 12)["rising and flattening"];
  for (const weeks of [1, 4, 12]) {
    const [derivative] = numericalGradient(
      ([logarithm]) => form.share(weeks, Math.exp(logarithm!)),
      [Math.log(5)],
    );
    expect(form.slope!(weeks, 5)).toBeCloseTo(derivative!, 8);
  }
});
