import { describe, expect, it } from "vitest";
import { simulateEffects } from "./simulate-effects.js";
import type { SimulateEffectsOptions } from "./simulate-effects.js";
import { mean, sampleVariance } from "simple-statistics";
import { randomStream } from "../../src/numeric/random-stream.js";
import { poolEffects } from "../../src/synthesis/pool-effects.js";
import type { PoolOptions } from "../../src/synthesis/pool-effects.js";

// Against the known truth over many simulated registers. The bounds are Monte Carlo error alone.
const registers = 400;
const promised = 0.95;
const monteCarlo = Math.sqrt((promised * (1 - promised)) / registers);
const covers = (interval: { low: number; high: number }, truth: number) =>
  interval.low <= truth && truth <= interval.high ? 1 : 0;

const independent: SimulateEffectsOptions = { arms: [1, 1], effects: [1, 1], people: [8, 18] };

const pooled = (simulate: SimulateEffectsOptions, seed: number, options: PoolOptions = {}) => {
  const stream = randomStream(seed);
  return Array.from({ length: registers }, () => {
    const run = simulateEffects({ ...independent, ...simulate }, stream);
    // one more study from the same truth, to be predicted
    const next = simulateEffects({ ...independent, ...simulate, studies: 1 }, stream);
    const truth = run.effects[0]?.curveGain ?? Number.NaN;
    const result = poolEffects(run.effects, options);
    return {
      error: result.estimate - truth,
      covered: covers(result.interval, truth),
      predicted:
        result.predictionInterval === null
          ? Number.NaN
          : covers(result.predictionInterval, next.effects[0]?.trueEffect ?? Number.NaN),
      betweenVariance: result.heterogeneity.betweenVariance ?? Number.NaN,
      levels: run.varianceByLevel,
    };
  });
};

describe("intervals of pooled averages cover what they promise", () => {
  it.each([
    ["twenty studies", { studies: 20 }],
    ["six studies", { studies: 6 }],
    ["against control", { studies: 15, contrast: "against-control" }],
    ["size, small heterogeneity", { studies: 12, family: "size" }],
    ["pain, which should fall", { studies: 12, family: "symptoms" }],
  ] as const)("%s", (name, simulate) => {
    const runs = pooled(simulate, 71);
    const coverage = mean(runs.map((run) => run.covered));
    const said = `${name}: coverage ${(100 * coverage).toFixed(1)}% of ${registers} registers`;
    expect(coverage, said).toBeGreaterThan(promised - 3 * monteCarlo);
    // the floor of the Hartung–Knapp scale may only widen the interval
    expect(coverage, said).toBeLessThan(Math.min(1, promised + 4 * monteCarlo));
    const errors = runs.map((run) => run.error);
    const bias = mean(errors);
    expect(Math.abs(bias), `${name}: bias ${bias}`).toBeLessThan(
      3.5 * Math.sqrt(sampleVariance(errors) / registers),
    );
  });

  it("estimated variances, as papers have them, cost little with eight to eighteen people", () => {
    const runs = pooled({ studies: 20, variances: "estimated" }, 72);
    const coverage = mean(runs.map((run) => run.covered));
    const said = `coverage ${(100 * coverage).toFixed(1)}% of ${registers} registers`;
    expect(coverage, said).toBeGreaterThan(0.93 - 3 * monteCarlo);
    expect(coverage, said).toBeLessThan(promised + 3 * monteCarlo);
  });

  it("prediction intervals hold the next study's true effect", () => {
    const runs = pooled({ studies: 20 }, 73);
    const coverage = mean(runs.map((run) => run.predicted));
    const said = `coverage ${(100 * coverage).toFixed(1)}% of ${registers} registers`;
    expect(coverage, said).toBeGreaterThan(promised - 4 * monteCarlo);
    expect(coverage, said).toBeLessThan(promised + 4 * monteCarlo);
  });

  it("the variance between studies is centred on the truth", () => {
    const runs = pooled({ studies: 20 }, 74);
    const estimates = runs.map((run) => run.betweenVariance);
    const levels = runs[0]?.levels ?? { study: 0, arm: 0, effectId: 0 };
    const truth = levels.study + levels.arm + levels.effectId;
    expect(
      Math.abs(mean(estimates) - truth),
      `mean ${mean(estimates)}, true ${truth}`,
    ).toBeLessThan(3.5 * Math.sqrt(sampleVariance(estimates) / registers));
  });

  it("slopes of a moderator cover their truth", () => {
    const stream = randomStream(75);
    const hits = Array.from({ length: registers }, () => {
      const { effects } = simulateEffects(
        { ...independent, studies: 20, line: { within: 0.02, between: 0.02 } },
        stream,
      );
      const fit = poolEffects(effects, { moderators: ["dose"] });
      const slope = fit.coefficients.find((coefficient) => coefficient.term === "dose");
      return covers(slope?.interval ?? { low: Number.NaN, high: Number.NaN }, 0.02);
    });
    const coverage = mean(hits);
    const said = `coverage ${(100 * coverage).toFixed(1)}% of ${registers} registers`;
    expect(coverage, said).toBeGreaterThan(promised - 3 * monteCarlo);
    expect(coverage, said).toBeLessThan(promised + 3 * monteCarlo);
  });

  it("and the check can fail: a common-effect interval on these effects covers far less", () => {
    const coverage = mean(
      pooled({ studies: 20 }, 76, { model: "common-effect" }).map((run) => run.covered),
    );
    expect(coverage, `coverage ${(100 * coverage).toFixed(1)}%`).toBeLessThan(0.8);
  });
});
