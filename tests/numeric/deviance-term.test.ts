import { expect, test } from "vitest";
import { devianceTerm } from "../../src/numeric/log-gamma.js";
import { relativeError } from "./relative-error.js";

// independent: the leading terms of the series in d = observed − expected, d²/2e − d³/6e² + d⁴/12e³
test("devianceTerm keeps its digits when the two numbers are large and close", () => {
  const expected = 1e8;
  for (const d of [1, -3, 20]) {
    const series =
      d ** 2 / (2 * expected) - d ** 3 / (6 * expected ** 2) + d ** 4 / (12 * expected ** 3);
    expect(relativeError(devianceTerm(expected + d, expected), series)).toBeLessThan(1e-15);
  }
});

// identity: the definition, where it does not cancel; zero observed leaves the expected
test("devianceTerm follows its definition elsewhere", () => {
  for (const [o, e] of [
    [1, 5],
    [7, 2],
    [0.3, 0.9],
    [40, 1],
    [1e-300, 3],
  ] as const) {
    expect(relativeError(devianceTerm(o, e), o * Math.log(o / e) + e - o)).toBeLessThan(2e-15);
  }
  expect(devianceTerm(0, 3)).toBe(3);
  expect(devianceTerm(3, 3)).toBe(0);
});
