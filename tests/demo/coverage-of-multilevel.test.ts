import { describe, expect, it } from "vitest";
import { simulateEffects } from "./simulate-effects.js";
import type { SimulateEffectsOptions } from "./simulate-effects.js";
import { mean, sampleVariance } from "simple-statistics";
import { randomStream } from "../../src/numeric/random-stream.js";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import type { MultilevelOptions } from "../../src/synthesis/multilevel-options.js";
import type { Interval, MultilevelResult } from "../../src/synthesis/synthesis-results.js";

// Against the known truth over many simulated registers of dependent effects. Bounds are Monte Carlo error.
const registers = 200;
const promised = 0.95;
const monteCarlo = Math.sqrt((promised * (1 - promised)) / registers);
const nested: SimulateEffectsOptions = {
  studies: 16,
  arms: [1, 3],
  effects: [1, 2],
  people: [8, 18],
};

const covers = (interval: Interval | undefined, truth: number) =>
  interval !== undefined && interval.low <= truth && truth <= interval.high ? 1 : 0;
const said = (name: string, coverage: number) =>
  `${name}: coverage ${(100 * coverage).toFixed(1)}% of ${registers} registers`;

type Run = Readonly<{
  result: MultilevelResult;
  truth: number;
  levels: Readonly<{ study: number; arm: number; effectId: number }>;
}>;

const runs = (
  simulate: SimulateEffectsOptions,
  options: MultilevelOptions,
  seed: number,
  times = registers,
): readonly Run[] => {
  const stream = randomStream(seed);
  return Array.from({ length: times }, () => {
    const run = simulateEffects({ ...nested, ...simulate }, stream);
    const result = fitMultilevel(run.effects, {
      levels: ["study", "arm", "effect_id"],
      knownCovariances: run.covariances,
      ...options,
    });
    return { result, truth: run.effects[0]?.curveGain ?? Number.NaN, levels: run.varianceByLevel };
  });
};

describe.each(["change-within-arm", "against-control"] as const)("average, %s", (contrast) => {
  const all = runs({ contrast }, {}, 81);

  it("the cluster-robust interval covers what it promises", () => {
    const coverage = mean(
      all.map(({ result, truth }) => covers(result.robust?.coefficients[0]?.interval, truth)),
    );
    expect(coverage, said("robust", coverage)).toBeGreaterThan(promised - 3 * monteCarlo);
    expect(coverage, said("robust", coverage)).toBeLessThan(promised + 3 * monteCarlo);
  });

  it("the model's own interval comes close, a little short for sixteen studies", () => {
    // its degrees of freedom count effects, not studies, so it may fall short by the difference between
    // t on about 45 and on about 12 degrees of freedom: 95 % becomes about 93 %
    const coverage = mean(all.map(({ result, truth }) => covers(result.interval, truth)));
    expect(coverage, said("model", coverage)).toBeGreaterThan(0.93 - 3 * monteCarlo);
    expect(coverage, said("model", coverage)).toBeLessThan(promised + 3 * monteCarlo);
  });

  it("estimates and variance parts are centred on the truth", () => {
    const errors = all.map(({ result, truth }) => result.estimate - truth);
    expect(Math.abs(mean(errors)), `bias ${mean(errors)}`).toBeLessThan(
      3.5 * Math.sqrt(sampleVariance(errors) / registers),
    );
    const parts = all.map(({ result, levels }) => {
      const found = Object.values(result.varianceByLevel).reduce((total, part) => total + part, 0);
      return found - (levels.study + levels.arm + levels.effectId);
    });
    // single parts near zero are cut off there; their sum is not
    expect(Math.abs(mean(parts)), `bias of the summed variance ${mean(parts)}`).toBeLessThan(
      3.5 * Math.sqrt(sampleVariance(parts) / registers),
    );
  });
});

describe("slopes within and between studies", () => {
  const stream = randomStream(82);
  const slopes = { within: 0.02, between: -0.01 };
  const fits = Array.from({ length: registers }, () => {
    const run = simulateEffects({ ...nested, arms: [2, 4], effects: [1, 1], line: slopes }, stream);
    return fitMultilevel(run.effects, {
      levels: ["study", "arm"],
      knownCovariances: run.covariances,
      moderators: ["doseWithin", "doseStudyMean"],
    });
  });

  it.each([
    ["doseWithin", slopes.within],
    ["doseStudyMean", slopes.between],
  ])("%s is told apart and covered", (term, truth) => {
    const found = fits.map(({ robust }) =>
      robust?.coefficients.find((coefficient) => coefficient.term === term),
    );
    const coverage = mean(found.map((coefficient) => covers(coefficient?.interval, truth)));
    expect(coverage, said(term, coverage)).toBeGreaterThan(promised - 3 * monteCarlo);
    expect(coverage, said(term, coverage)).toBeLessThan(promised + 3 * monteCarlo);
    const errors = found.map((coefficient) => (coefficient?.estimate ?? Number.NaN) - truth);
    expect(Math.abs(mean(errors)), `bias ${mean(errors)}`).toBeLessThan(
      3.5 * Math.sqrt(sampleVariance(errors) / registers),
    );
  });
});

describe("and the check can fail", () => {
  it("a model that takes dependent effects for independent covers less", () => {
    const all = runs(
      { arms: [3, 3], effects: [2, 2] },
      { levels: ["effect_id"], knownCovariances: [], robust: "none" },
      83,
      100,
    );
    const coverage = mean(all.map(({ result, truth }) => covers(result.interval, truth)));
    expect(coverage, `coverage ${(100 * coverage).toFixed(1)}% of 100`).toBeLessThan(0.87);
  });
});
