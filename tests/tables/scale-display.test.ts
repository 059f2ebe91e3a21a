import { expect, test } from "vitest";
import { effectScales } from "../../src/effects/effect.js";
import { scaleDisplay, shownEstimate, shownInterval } from "../../src/tables/scale-display.js";

test("standardised scales name what they are divided by", () => {
  const units = effectScales
    .filter((scale) => scale.startsWith("standardised"))
    .map((scale) => scaleDisplay(scale).unit);
  expect(new Set(units).size).toBe(5);
  for (const unit of units) expect(unit).toContain("standard deviations");
});

test("a percentage has its logarithm's heading, another estimate has none", () => {
  for (const scale of effectScales) {
    const display = scaleDisplay(scale);
    expect(display.logHeading !== "").toBe(display.shownAsPercent);
    expect(display.unit === "%").toBe(display.shownAsPercent);
  }
});

// Hand arithmetic: a ratio of 1.1 is 10 per cent more, a ratio of 0.9 is 10 per cent less.
test("log ratios are shown as percent change, the rest as they stand", () => {
  expect(shownEstimate(Math.log(1.1), "log-ratio-of-means", 0.05)).toBe("10.0");
  expect(
    shownInterval({ low: Math.log(0.9), high: Math.log(1.1) }, "log-variability-ratio", 0.05),
  ).toBe("\u221210.0 to 10.0");
  expect(shownEstimate(0.456, "standardised-mean-difference", 0.2)).toBe("0.46");
});

test("a raw difference is shown to two digits of its standard error", () => {
  expect(shownEstimate(12.3456, "raw-mean-difference", 3.2)).toBe("12.3");
  expect(shownEstimate(0.0123456, "raw-mean-difference", 0.0032)).toBe("0.0123");
});

test("a ratio too large to mean anything is said to be so", () => {
  expect(shownEstimate(12, "log-ratio-of-means", 5)).toBe("over 999,999");
  expect(shownEstimate(1000, "log-ratio-of-means", 5)).toBe("over 999,999");
  expect(shownEstimate(-1000, "log-ratio-of-means", 5)).toBe("\u2212100.0");
});
