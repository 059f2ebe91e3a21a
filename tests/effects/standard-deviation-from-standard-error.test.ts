import { expect, test } from "vitest";
import {
  standardDeviationFromHalfWidth,
  standardDeviationFromInterval,
  standardDeviationFromStandardError,
} from "../../src/effects/standard-deviation-from-standard-error.js";
import { expectPrinted, expectRelative } from "./agreement.js";

// Base R: sqrt(25) * (34.2 - 30) / (2 * qt(0.975, 24))
test("independent: 25 people with a 95% interval from 30.0 to 34.2, in base R", () => {
  const given = { low: 30, high: 34.2, participants: 25 };
  expectPrinted(standardDeviationFromInterval(given), "5.087459");
});

test("identity: standard error, half-width and interval of one mean lead to one deviation", () => {
  const deviation = standardDeviationFromStandardError({ standardError: 2, participants: 16 });
  expect(deviation).toBe(8);
  // Student's t for 15 degrees of freedom, upper 2.5%, by base R's qt(0.975, 15).
  const halfWidth = 2 * 2.131449546;
  expectRelative(standardDeviationFromHalfWidth({ halfWidth, participants: 16 }), 8, 1e-9);
  const wide = { low: 5 - halfWidth, high: 5 + halfWidth, participants: 16 };
  expectRelative(standardDeviationFromInterval(wide), 8, 1e-9);
});

test("a wider coverage of the same limits means a smaller deviation", () => {
  const at = (percent: number) =>
    standardDeviationFromInterval({ low: 1, high: 3, participants: 10, percent });
  expect(at(99)).toBeLessThan(at(95));
  expect(at(95)).toBeLessThan(at(90));
});

test("refuses a negative standard error, one person, and a coverage of 100%", () => {
  expect(() => standardDeviationFromStandardError({ standardError: -1, participants: 9 })).toThrow(
    /got -1/,
  );
  expect(() => standardDeviationFromHalfWidth({ halfWidth: 1, participants: 1 })).toThrow(
    /at least 2 participants, got 1/,
  );
  expect(() =>
    standardDeviationFromHalfWidth({ halfWidth: 1, participants: 9, percent: 100 }),
  ).toThrow(/got 100/);
});
