import { describe, expect, it } from "vitest";
import {
  demoReferenceDose,
  trueChangeWithinArm,
  trueTrainingGain,
} from "../../src/demo/true-change.js";
import { demoTruthDefaults as truth } from "../../src/demo/demo-truth.js";
import { simulateEffects } from "./simulate-effects.js";
import { CallError } from "../../src/errors.js";
import { mean, sampleVariance } from "simple-statistics";
import { randomStream } from "../../src/numeric/random-stream.js";

const many = (options: Parameters<typeof simulateEffects>[0], seed: number, times = 400) => {
  const stream = randomStream(seed);
  return Array.from({ length: times }, () => simulateEffects(options, stream));
};

// Monte Carlo against the stated truth.
describe("simulated effects", () => {
  it("estimates centre on the curve and scatter by levels and sampling", () => {
    const runs = many({ studies: 1, arms: [1, 1], people: [12, 12] }, 11, 4000);
    const effects = runs.flatMap((run) => run.effects);
    const errors = effects.map((effect) => effect.estimate - effect.curveGain);
    const levels = runs[0]?.varianceByLevel ?? { study: 0, arm: 0, effectId: 0 };
    const expected = levels.study + levels.arm + levels.effectId + (effects[0]?.variance ?? 0);
    expect(Math.abs(mean(errors))).toBeLessThan(3.5 * Math.sqrt(expected / errors.length));
    // variance of a sample variance of n normals is 2σ⁴/(n − 1)
    expect(Math.abs(sampleVariance(errors) / expected - 1)).toBeLessThan(
      3.5 * Math.sqrt(2 / errors.length),
    );
  });

  it("sampling errors have the covariances it states, control and people shared", () => {
    const runs = many(
      { studies: 1, arms: [2, 2], effects: [2, 2], people: [10, 10], contrast: "against-control" },
      12,
      4000,
    );
    const stated = runs[0]?.covariances[0]?.values ?? [];
    expect(stated.length).toBe(16);
    for (let one = 0; one < 4; one += 1)
      for (let other = 0; other < 4; other += 1) {
        const products = runs.map((run) => {
          const error = (index: number) =>
            (run.effects[index]?.estimate ?? 0) - (run.effects[index]?.trueEffect ?? 0);
          return error(one) * error(other);
        });
        const monteCarlo = Math.sqrt(sampleVariance(products) / products.length);
        expect(Math.abs(mean(products) - (stated[4 * one + other] ?? 0))).toBeLessThan(
          4 * monteCarlo,
        );
      }
    const first = runs[0];
    expect(stated[0]).toBeCloseTo(first?.effects[0]?.variance ?? 0, 14);
  });

  it("estimated variances are right on average", () => {
    const runs = many({ studies: 4, arms: [1, 1], people: [8, 8], variances: "estimated" }, 13);
    const known = simulateEffects({ studies: 1, people: [8, 8] }, randomStream(1)).effects[0];
    const ratios = runs.flatMap((run) =>
      run.effects.map((effect) => effect.variance / (known?.variance ?? 1)),
    );
    // relative variance of an estimated variance with 7 degrees of freedom: 2/7
    expect(Math.abs(mean(ratios) - 1)).toBeLessThan(3.5 * Math.sqrt(2 / 7 / ratios.length));
  });

  it("all arms share the curve at the reference dose, and differ when doses vary", () => {
    const within = simulateEffects({ studies: 3 }, randomStream(2));
    const curve = trueChangeWithinArm(truth, "strength", demoReferenceDose, { weeks: 8 });
    for (const effect of within.effects) expect(effect.curveGain).toBeCloseTo(curve, 14);
    const against = simulateEffects({ studies: 3, contrast: "against-control" }, randomStream(2));
    const gain = trueTrainingGain(truth, "strength", demoReferenceDose, { weeks: 8 });
    for (const effect of against.effects) expect(effect.curveGain).toBeCloseTo(gain, 14);
    const varied = simulateEffects({ studies: 5, doses: "varied" }, randomStream(2)).effects;
    expect(new Set(varied.map((effect) => effect.curveGain)).size).toBeGreaterThan(4);
  });

  it("lays the two slopes of a line where they belong", () => {
    const run = simulateEffects(
      { studies: 30, arms: [3, 3], line: { within: 0.02, between: -0.01 } },
      randomStream(3),
    );
    const curve = trueChangeWithinArm(truth, "strength", demoReferenceDose, { weeks: 8 });
    for (const { curveGain, moderators } of run.effects) {
      const { doseStudyMean, doseWithin, dose } = moderators;
      expect(Number(doseStudyMean) + Number(doseWithin)).toBeCloseTo(Number(dose), 12);
      expect(curveGain).toBeCloseTo(
        curve - 0.01 * Number(doseStudyMean) + 0.02 * Number(doseWithin),
        12,
      );
    }
  });

  it("repeats itself for a seed, and refuses impossible sizes", () => {
    const options = { studies: 2, doses: "varied" } as const;
    expect(simulateEffects(options, randomStream(4))).toEqual(
      simulateEffects(options, randomStream(4)),
    );
    expect(() => simulateEffects({ studies: 0 }, randomStream(1))).toThrow(CallError);
    expect(() => simulateEffects({ people: [2, 5] }, randomStream(1))).toThrow(CallError);
  });
});
