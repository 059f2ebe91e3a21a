import { expect, test } from "vitest";
import { studentTQuantile } from "../../src/numeric/student-t.js";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import { headlineAnswer } from "../../src/synthesis/headline-answer.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";

const effects: readonly SynthesisEffect[] = [
  ["a", 0.1, 0.01],
  ["a", 0.3, 0.02],
  ["b", 0.5, 0.01],
  ["c", 0.2, 0.03],
  ["c", 0.4, 0.02],
  ["d", 0.05, 0.01],
].map(([study, estimate, variance], place) => ({
  effectId: String(place),
  study: String(study),
  estimate: Number(estimate),
  variance: Number(variance),
  moderators: { weeks: place },
}));

test("headlineAnswer: the robust interval, and a prediction interval widened to match", () => {
  const model = fitMultilevel(effects);
  const shown = headlineAnswer(model);
  const robust = model.robust?.coefficients[0];
  expect(shown.estimate).toBe(model.estimate);
  expect(shown.interval).toEqual(robust?.interval);
  expect(shown.degreesOfFreedom).toBe(robust?.degreesOfFreedom);
  // identity: estimate ± t √(SE² + Σθ), with the robust error and its degrees of freedom
  const spread = Object.values(model.varianceByLevel).reduce((sum, part) => sum + part, 0);
  const reach =
    studentTQuantile(0.975, robust?.degreesOfFreedom ?? 0) *
    Math.sqrt((robust?.standardError ?? 0) ** 2 + spread);
  expect(shown.predictionInterval?.high).toBeCloseTo(model.estimate + reach, 12);
  expect(shown.predictionInterval?.low).toBeCloseTo(model.estimate - reach, 12);
  expect(shown.story.intervalMethod).toMatch(/cluster-robust/);
});

test("headlineAnswer: a model with moderators comes back unchanged", () => {
  const model = fitMultilevel(effects, { moderators: ["weeks"] });
  expect(headlineAnswer(model)).toBe(model);
});
