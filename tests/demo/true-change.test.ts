import { describe, expect, it } from "vitest";
import {
  demoFamilies,
  demoReference,
  demoTruthDefaults as truth,
} from "../../src/demo/demo-truth.js";
import {
  carryOver,
  carryOverHalfWidth,
  demoReferenceDose,
  doseFactor,
  learningEffect,
  timeCourse,
  trueChangeWithinArm,
  trueTrainingGain,
} from "../../src/demo/true-change.js";
import { impliedSpread } from "./simulate-effects.js";

// Identities of the stated formulas, each worked out by hand beside the check.
describe("true curves of the invented register", () => {
  it.each(demoFamilies)("%s: every factor is one at the reference dose", (family) => {
    expect(doseFactor(truth, family, demoReferenceDose)).toBeCloseTo(1, 14);
    expect(trueTrainingGain(truth, family, demoReferenceDose, { weeks: 1e6 })).toBeCloseTo(
      truth.families[family].ceiling,
      12,
    );
  });

  it.each(demoFamilies)("%s: the time course starts at nothing and flattens", (family) => {
    const constant = truth.families[family].weeksConstant;
    expect(timeCourse(truth, family, 0)).toBe(0);
    expect(timeCourse(truth, family, constant)).toBeCloseTo(1 - 1 / Math.E, 14);
    const early = timeCourse(truth, family, 4) - timeCourse(truth, family, 0);
    const late = timeCourse(truth, family, 12) - timeCourse(truth, family, 8);
    expect(late).toBeGreaterThan(0);
    expect(late).toBeLessThan(early);
  });

  it("carry-over is one at the trained angle, a half at the half width, narrower at short length", () => {
    for (const length of ["short", "middle", "long"] as const) {
      expect(carryOver(truth, length, 0)).toBe(1);
      expect(carryOver(truth, length, carryOverHalfWidth(truth, length))).toBeCloseTo(0.5, 14);
      expect(carryOver(truth, length, -20)).toBe(carryOver(truth, length, 20));
    }
    expect(carryOverHalfWidth(truth, "short")).toBeLessThan(carryOverHalfWidth(truth, "long"));
  });

  it("equal tension with different holds differs by the power of the holds' ratio alone", () => {
    for (const family of demoFamilies) {
      const short = doseFactor(truth, family, { ...demoReferenceDose, holdSeconds: 3 });
      const long = doseFactor(truth, family, { ...demoReferenceDose, holdSeconds: 20 });
      expect(long / short).toBeCloseTo((20 / 3) ** truth.families[family].holdPower, 12);
    }
    expect(truth.families.strength.holdPower).toBe(0);
  });

  it("effort, tension and frequency follow their half-height curves", () => {
    // strength: effort half at 20 % with steepness 1, reference 75 %: (40/60)/(75/95)
    const effort = doseFactor(truth, "strength", { ...demoReferenceDose, effortPercent: 40 });
    expect(effort).toBeCloseTo(40 / 60 / (75 / 95), 12);
    // size: tension half at 80 s, reference 160 s: (80/160)/(160/240)
    const tension = doseFactor(truth, "size", { ...demoReferenceDose, tensionTimeSeconds: 80 });
    expect(tension).toBeCloseTo(0.75, 12);
    // strength: frequency half at 1 a week, reference 3: (1/2)/(3/4)
    const once = doseFactor(truth, "strength", { ...demoReferenceDose, sessionsPerWeek: 1 });
    expect(once).toBeCloseTo(2 / 3, 12);
    // tendon hardly answers to half of the reference effort
    const easy = doseFactor(truth, "tendon", { ...demoReferenceDose, effortPercent: 37.5 });
    expect(easy).toBeLessThan(0.03);
  });

  it("an untrained arm only learns; pain and size cannot be learnt the same way", () => {
    const idle = { ...demoReferenceDose, kind: "no exercise" } as const;
    for (const family of demoFamilies) {
      expect(trueTrainingGain(truth, family, idle, { weeks: 12 })).toBe(0);
      expect(trueChangeWithinArm(truth, family, idle, { weeks: 12 })).toBe(
        learningEffect(truth, family, 12),
      );
    }
    expect(learningEffect(truth, "size", 12)).toBe(0);
  });

  it("change within an arm is training plus learning", () => {
    const reading = { weeks: 6, distanceDegrees: 15 };
    expect(trueChangeWithinArm(truth, "strength", demoReferenceDose, reading)).toBeCloseTo(
      trueTrainingGain(truth, "strength", demoReferenceDose, reading) +
        learningEffect(truth, "strength", 6),
      14,
    );
  });

  it("implied deviations and correlation obey the law of differences", () => {
    for (const family of demoFamilies)
      for (const trained of [true, false]) {
        const { pre, post, change, correlation } = impliedSpread(truth, family, trained);
        expect(change ** 2).toBeCloseTo(pre ** 2 + post ** 2 - 2 * correlation * pre * post, 12);
        expect(correlation).toBeGreaterThan(0.5);
        expect(correlation).toBeLessThan(1);
      }
  });

  it("the reference dose is the one exported", () => {
    expect(demoReferenceDose).toMatchObject(demoReference);
  });
});
