import { expect, test } from "vitest";
import {
  withinPersonDifference,
  withinPersonStandardisedChange,
} from "../../src/effects/within-person-contrast.js";
import { smallSampleFactor } from "../../src/effects/small-sample-factor.js";
import { expectRelative } from "./agreement.js";

const limb = (change: number) => ({
  before: { mean: 100, deviation: 20 },
  after: { mean: 100 + change, deviation: 22 },
  correlation: 0.85,
  participants: 13,
});

test("independent: estimate and variance, written out from the formula", () => {
  const { estimate, variance } = withinPersonStandardisedChange(limb(18), limb(5), {
    changes: 0.4,
    baselines: 0.7,
  });
  const freedom = 24 / (1 + 0.49);
  const factor = smallSampleFactor(freedom);
  const g = (factor * 13) / 20;
  const ofChanges = 400 + 484 - 2 * 0.85 * 20 * 22;
  const scatter = (2 * ofChanges * (1 - 0.4)) / 400 / 13;
  expectRelative(estimate, g, 1e-12);
  expectRelative(
    variance,
    factor ** 2 * (freedom / (freedom - 2)) * (scatter + g ** 2) - g ** 2,
    1e-10,
  );
});

test("identity: limbs that correlate more give a surer difference, and fully correlated equal ones a certain one", () => {
  const arm = { scale: "log-ratio-of-means", estimate: 0.2, variance: 0.01 } as const;
  const at = (correlation: number) => withinPersonDifference(arm, arm, correlation).variance;
  expectRelative(at(0), 0.02, 1e-12);
  expectRelative(at(0.5), 0.01, 1e-12);
  expect(at(1)).toBe(0);
});

test("refuses three people and a correlation beyond 1", () => {
  const small = { ...limb(3), participants: 3 };
  const correlations = { changes: 0.4, baselines: 0.7 };
  expect(() => withinPersonStandardisedChange(small, small, correlations)).toThrow(
    /at least 4 participants/,
  );
  const arm = { scale: "log-ratio-of-means", estimate: 0.2, variance: 0.01 } as const;
  expect(() => withinPersonDifference(arm, arm, 1.1)).toThrow(/got 1.1/);
});
