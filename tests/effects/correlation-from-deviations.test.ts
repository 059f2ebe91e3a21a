import { expect, test } from "vitest";
import { changeDeviation } from "../../src/effects/arm-summary.js";
import { correlationFromDeviations } from "../../src/effects/correlation-from-deviations.js";
import { expectPrinted } from "./agreement.js";

// Base R: (a^2 + b^2 - c^2) / (2 * a * b), and sqrt(4^2 + 4.4^2 - 2 * 0.8 * 4 * 4.4)
test("independent: two correlations from three deviations each, and a change deviation, in base R", () => {
  expectPrinted(correlationFromDeviations({ before: 6.4, after: 7.1, change: 4.5 }), "0.782570423");
  expectPrinted(correlationFromDeviations({ before: 7, after: 6.9, change: 4.2 }), "0.817494824");
  const given = {
    before: { mean: 0, deviation: 4 },
    after: { mean: 0, deviation: 4.4 },
    correlation: 0.8,
    participants: 30,
  };
  expectPrinted(changeDeviation(given), "2.683281573");
});

test("identity: it undoes the deviation of changes", () => {
  for (const correlation of [-0.5, 0, 0.4, 0.93]) {
    const change = changeDeviation({
      before: { mean: 0, deviation: 12 },
      after: { mean: 0, deviation: 15 },
      correlation,
      participants: 9,
    });
    const back = correlationFromDeviations({ before: 12, after: 15, change });
    expect(Math.abs(back - correlation)).toBeLessThan(1e-12);
  }
});

test("three deviations that cannot belong together give a value beyond 1, for the caller to report", () => {
  expect(correlationFromDeviations({ before: 10, after: 20, change: 3 })).toBeGreaterThan(1);
});

test("refuses a deviation of 0", () => {
  expect(() => correlationFromDeviations({ before: 0, after: 1, change: 1 })).toThrow(/got 0/);
});
