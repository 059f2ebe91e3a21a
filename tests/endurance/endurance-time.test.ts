/** Kind of evidence: published tables, read second-hand. */
import { describe, expect, test } from "vitest";
import { enduranceCurves, enduranceTime } from "../../src/endurance/endurance-time.js";
import { enduranceRegions } from "../../src/endurance/regions.js";
import type { EnduranceRegion } from "../../src/endurance/regions.js";

/**
 * Endurance times in seconds at 10, 20 … 90% of MVC, from the curves of Frey Law LA & Avin KG (2010)
 * Ergonomics 53:109–129, as tabulated in a public transcription.
 */
const printed: Readonly<Record<EnduranceRegion, string>> = {
  general: "2093.3 530.6 237.8 134.5 86.5 60.3 44.4 34.1 27.0",
  ankle: "3985.2 955.7 414.6 229.2 144.7 99.4 72.4 55.0 43.1",
  trunk: "4225.1 876.0 349.0 181.6 109.4 72.3 51.0 37.7 28.8",
  elbow: "2916.0 630.3 257.2 136.2 83.2 55.6 39.5 29.4 22.7",
  hand: "1366.8 447.7 233.1 146.7 102.4 76.4 59.6 48.1 39.8",
  knee: "1470.1 399.4 186.4 108.5 71.3 50.6 37.9 29.5 23.6",
  shoulder: "1004.7 282.6 134.6 79.5 52.8 37.8 28.5 22.4 18.0",
};

test.each(enduranceRegions)("published table, %s, to the printed digit", (region) => {
  const times = printed[region].split(" ");
  expect(times).toHaveLength(9);
  times.forEach((time, index) => {
    const seconds = enduranceTime(10 * (index + 1), region).centralSeconds;
    expect(seconds.toFixed(1), `${region} at ${10 * (index + 1)}%`).toBe(time);
  });
});

test("fatigue resistance at half of MVC, ankle most and shoulder least, as the authors order the ends", () => {
  const at = (region: EnduranceRegion): number => enduranceTime(50, region).centralSeconds;
  for (const region of enduranceRegions) {
    expect(at(region)).toBeLessThanOrEqual(at("ankle"));
    expect(at(region)).toBeGreaterThanOrEqual(at("shoulder"));
  }
});

test("the band lies the published 29–47% from the curve, wide end unless asked", () => {
  const wide = enduranceTime(50, "knee");
  expect(wide.lowSeconds / wide.centralSeconds).toBeCloseTo(1 - 0.47, 14);
  expect(wide.highSeconds / wide.centralSeconds).toBeCloseTo(1 + 0.47, 14);
  const narrow = enduranceTime(50, "knee", { spread: 0.29 });
  expect(narrow.lowSeconds).toBeGreaterThan(wide.lowSeconds);
});

test("every curve falls as effort rises", () => {
  for (const region of enduranceRegions)
    for (let percent = 2; percent <= 100; percent += 1)
      expect(enduranceTime(percent, region).centralSeconds).toBeLessThan(
        enduranceTime(percent - 1, region).centralSeconds,
      );
});

test("below 10% the answer says that it lies outside the fitted range", () => {
  expect(enduranceTime(9.9, "general").inFittedRange).toBe(false);
  expect(enduranceTime(10, "general").inFittedRange).toBe(true);
});

test("the share of variance each curve explains is a share", () => {
  for (const region of enduranceRegions) {
    expect(enduranceCurves[region].rSquared).toBeGreaterThan(0.7);
    expect(enduranceCurves[region].rSquared).toBeLessThan(1);
  }
});

describe("refuses", () => {
  test.each([0, -5, 100.1, NaN])("an effort of %s %%", (percent) => {
    expect(() => enduranceTime(percent, "knee")).toThrow(/requires an intensity above 0/u);
  });
  test("a spread that is not a share", () => {
    expect(() => enduranceTime(50, "knee", { spread: 47 })).toThrow(/requires a spread/u);
  });
});
