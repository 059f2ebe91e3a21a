/** Kind of evidence: a published table, read second-hand; the closed form turned round. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import { enduranceTime } from "../../src/endurance/endurance-time.js";
import {
  checkFatigueParameters,
  fatigueParameters,
} from "../../src/endurance/fatigue-parameters.js";
import { enduranceRegions } from "../../src/endurance/regions.js";
import type { EnduranceRegion } from "../../src/endurance/regions.js";
import {
  holdForEverShare,
  sustainedHoldSeconds,
  withSustainedHold,
} from "../../src/endurance/assessment-cases.js";

/**
 * Time one hold lasts in the model, s, at 10, 20 … 90% of MVC, with the rates of Frey-Law LA, Looft JM
 * & Heitsman J (2012) J Biomech 45:1803–1808, as printed in a public transcription.
 */
const printed: Readonly<Record<EnduranceRegion, string>> = {
  ankle: "3747.8 863.3 450.1 275.6 178.7 117.1 74.3 43.0 19.0",
  knee: "1506.3 339.9 177.0 108.3 70.2 46.0 29.2 16.9 7.4",
  trunk: "2992.9 675.2 351.6 215.1 139.5 91.4 58.0 33.5 14.8",
  shoulder: "1057.4 274.3 144.4 88.7 57.6 37.8 24.0 13.9 6.1",
  elbow: "2793.6 565.4 292.7 178.7 115.7 75.7 48.1 27.8 12.3",
  hand: "1384.6 473.1 258.3 161.1 105.5 69.6 44.4 25.7 11.4",
  general: "2044.0 516.9 271.5 166.7 108.3 71.0 45.1 26.1 11.5",
};

test.each(enduranceRegions)("published table, %s, to the printed digit", (region) => {
  const times = printed[region].split(" ");
  expect(times).toHaveLength(9);
  times.forEach((time, index) => {
    const seconds = sustainedHoldSeconds((index + 1) / 10, fatigueParameters[region]);
    expect(seconds.toFixed(1), `${region} at ${10 * (index + 1)}%`).toBe(time);
  });
});

test("loads that can be held for ever, to the printed digit", () => {
  const shares = {
    ankle: "9.0",
    knee: "9.0",
    trunk: "9.0",
    shoulder: "8.5",
    elbow: "9.3",
    hand: "6.1",
    general: "8.6",
  };
  for (const region of enduranceRegions)
    expect((100 * holdForEverShare(fatigueParameters[region])).toFixed(1)).toBe(shares[region]);
});

test("at or below the load held for ever nothing fails; at MVC a hold has no length", () => {
  for (const region of enduranceRegions) {
    const parameters = fatigueParameters[region];
    const edge = holdForEverShare(parameters);
    expect(sustainedHoldSeconds(edge, parameters)).toBe(Infinity);
    expect(sustainedHoldSeconds(edge * 0.5, parameters)).toBe(Infinity);
    expect(sustainedHoldSeconds(edge * 1.001, parameters)).toBeGreaterThan(1000);
    expect(sustainedHoldSeconds(1, parameters)).toBe(0);
  }
});

test("model over curve: 0.54 to 1.39 times at 20–80%, 46 to 71% short at 90%, as reported second-hand", () => {
  const ratios = (percent: number): readonly number[] =>
    enduranceRegions.map(
      (region) =>
        sustainedHoldSeconds(percent / 100, fatigueParameters[region]) /
        enduranceTime(percent, region).centralSeconds,
    );
  const middle = [20, 30, 40, 50, 60, 70, 80].flatMap(ratios);
  expect(Math.min(...middle).toFixed(2)).toBe("0.54");
  expect(Math.max(...middle).toFixed(2)).toBe("1.39");
  const top = ratios(90).map((ratio) => 100 * (1 - ratio));
  expect(Math.min(...top).toFixed(0)).toBe("46");
  expect(Math.max(...top).toFixed(0)).toBe("71");
});

test("the fatigue rate for a given time gives that time back", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.05, max: 0.99, noNaN: true }),
      fc.double({ min: 1, max: 3000, noNaN: true }),
      (demand, seconds) => {
        const parameters = withSustainedHold(demand, seconds, fatigueParameters.knee);
        expect(sustainedHoldSeconds(demand, parameters) / seconds).toBeCloseTo(1, 8);
      },
    ),
    { seed: 12, numRuns: 500 },
  );
});

describe("refuses", () => {
  test("the crossed labels of the 2012 abstract: ankle with recovery 0.0182, shoulder with fatigue 0.00058", () => {
    for (const crossed of [
      { fatiguePerSecond: 0.00589, recoveryPerSecond: 0.0182, restMultiplier: 15 },
      { fatiguePerSecond: 0.00058, recoveryPerSecond: 0.00168, restMultiplier: 15 },
    ]) {
      const check = (): unknown => checkFatigueParameters(crossed);
      expect(check).toThrow(CallError);
      expect(check).toThrow(/crossed/u);
    }
    for (const region of enduranceRegions)
      expect(checkFatigueParameters(fatigueParameters[region])).toBe(fatigueParameters[region]);
  });
  test("rates that are per minute", () => {
    expect(() =>
      checkFatigueParameters({
        fatiguePerSecond: 0.9,
        recoveryPerSecond: 0.09,
        restMultiplier: 15,
      }),
    ).toThrow(/per second, not per minute/u);
  });
});
