import { expect, test } from "vitest";
import { withinPersonDifference } from "../../src/effects/arm-contrast.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { smallSampleFactor } from "../../src/effects/small-sample-factor.js";
import { expectRelative } from "./agreement.js";
import { bothTimes, rowOf } from "./outcome-row.js";

const limbs = (people: number) => {
  const limb = (line: number, arm: string, change: number) =>
    rowOf({
      line,
      arm,
      armKind: arm === "other" ? "no exercise" : "isometric",
      design: "within-person limbs",
      ...bothTimes([100, 20], [100 + change, 22], people),
      prePostCorrelation: 0.85,
    });
  return effectsFromRows([limb(2, "trained", 18), limb(3, "other", 5)], {
    contrast: "against-other-limb",
    scale: "standardised-mean-change-baseline-deviation",
    limbsCorrelation: 0.4,
    limbsBaselineCorrelation: 0.7,
  });
};

test("hand arithmetic: two limbs of the same thirteen people, over the deviation before training", () => {
  const [effect] = limbs(13).effects;
  const freedom = 24 / (1 + 0.49);
  const factor = smallSampleFactor(freedom);
  const g = (factor * 13) / 20;
  const ofChanges = 400 + 484 - 2 * 0.85 * 20 * 22;
  const scatter = (2 * ofChanges * (1 - 0.4)) / 400 / 13;
  expectRelative(effect!.estimate, g, 1e-12);
  const moments = factor ** 2 * (freedom / (freedom - 2)) * (scatter + g ** 2);
  expectRelative(effect!.variance, moments - g ** 2, 1e-10);
  expect(effect!.participants).toBe(13);
});

test("three people are too few, and the row says so", () => {
  const { effects, rowUses } = limbs(3);
  expect(effects).toEqual([]);
  expect(rowUses[0]?.reason).toMatch(/within people needs at least four people/);
});

test("identity: limbs that correlate more give a surer difference, and fully correlated equal ones a certain one", () => {
  const arm = { scale: "log-ratio-of-means", estimate: 0.2, variance: 0.01 } as const;
  const at = (correlation: number) => withinPersonDifference(arm, arm, correlation).variance;
  expectRelative(at(0), 0.02, 1e-12);
  expectRelative(at(0.5), 0.01, 1e-12);
  expect(at(1)).toBe(0);
  expect(() => withinPersonDifference(arm, arm, 1.1)).toThrow(/got 1.1/);
});
