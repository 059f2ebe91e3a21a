import { expect, test } from "vitest";
import { ConvergenceError } from "../../src/errors.js";
import { tridiagonalEigen } from "../../src/numeric/tridiagonal-eigen.js";

// identity: trace and sum of squares survive a rotation; the two by two case by hand
test("tridiagonalEigen keeps trace and length and solves the smallest case", () => {
  const main = Float64Array.of(1, 3);
  tridiagonalEigen(main, Float64Array.of(1, 0), new Float64Array(0), 0);
  main.sort();
  expect(Math.abs((main[0] ?? NaN) - (2 - Math.SQRT2))).toBeLessThan(1e-15);
  expect(Math.abs((main[1] ?? NaN) - (2 + Math.SQRT2))).toBeLessThan(1e-15);

  const n = 30;
  const entries = Float64Array.from({ length: n }, (_, i) => Math.sin(i));
  const joins = Float64Array.from({ length: n }, (_, i) => (i < n - 1 ? Math.cos(3 * i) : 0));
  const trace = entries.reduce((total, value) => total + value, 0);
  const squares =
    entries.reduce((total, value) => total + value * value, 0) +
    2 * joins.reduce((total, value) => total + value * value, 0);
  tridiagonalEigen(entries, joins, new Float64Array(0), 0);
  expect(Math.abs(entries.reduce((total, value) => total + value, 0) - trace)).toBeLessThan(1e-13);
  expect(
    Math.abs(entries.reduce((total, value) => total + value * value, 0) - squares),
  ).toBeLessThan(1e-12);
});

test("tridiagonalEigen gives up on numbers that are not finite", () => {
  expect(() =>
    tridiagonalEigen(Float64Array.of(1, NaN), Float64Array.of(1, 0), new Float64Array(0), 0),
  ).toThrow(ConvergenceError);
});
