/** Identities that must hold whatever the data, on generated effects. */
import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import { heterogeneityEstimators } from "../../src/synthesis/heterogeneity/estimators.js";
import {
  poolEffects,
  pooledIntervals,
  type PoolOptions,
} from "../../src/synthesis/pool-effects.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";
import { expectRelative } from "../effects/agreement.js";
import { randomEffects } from "./random-effects.js";

const anyEffects = fc
  .array(
    fc.record({
      estimate: fc.double({ min: -3, max: 3, noNaN: true }),
      variance: fc.double({ min: 1e-4, max: 4, noNaN: true }),
    }),
    { minLength: 2, maxLength: 9 },
  )
  .map((rows): readonly SynthesisEffect[] =>
    rows.map((row, i) => ({ effectId: `e${i}`, study: `s${i}`, ...row })),
  );

const estimators = Object.keys(
  heterogeneityEstimators,
) as readonly (keyof typeof heterogeneityEstimators)[];

const anyOptions: fc.Arbitrary<PoolOptions> = fc.record({
  model: fc.constantFrom("random-effects", "common-effect"),
  heterogeneity: fc.constantFrom(...estimators),
  interval: fc.constantFrom(...pooledIntervals),
});

const noNaN = (value: unknown): boolean =>
  typeof value === "number"
    ? !Number.isNaN(value)
    : typeof value !== "object" || value === null || Object.values(value).every(noNaN);

const runs = { numRuns: 60, seed: 20 };

/** Equal but for rounding, relative to the largest number in play. */
const same = (a: number, b: number, scale: number): void =>
  expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-8 * Math.max(scale, 1e-6));

const reach = (effects: readonly SynthesisEffect[]): number =>
  Math.max(...effects.map((effect) => Math.abs(effect.estimate) + Math.sqrt(effect.variance)));

describe("poolEffects", () => {
  test("the order of the rows changes nothing", () => {
    fc.assert(
      fc.property(anyEffects, anyOptions, (effects, options) => {
        const turned = [...effects].reverse();
        const a = poolEffects(effects, options);
        const b = poolEffects(turned, options);
        expect([b.estimate, b.standardError, b.heterogeneity]).toEqual([
          a.estimate,
          a.standardError,
          a.heterogeneity,
        ]);
        expect([...b.weightsPercent].reverse()).toEqual(a.weightsPercent);
      }),
      runs,
    );
  });

  test("a change of unit and a shift pass straight through", () => {
    fc.assert(
      fc.property(
        anyEffects,
        anyOptions,
        fc.constantFrom(1e-3, 0.5, 7, 1e4),
        fc.double({ min: -5, max: 5, noNaN: true }),
        (effects, options, unit, shift) => {
          const a = poolEffects(effects, options);
          const b = poolEffects(
            effects.map((effect) => ({
              ...effect,
              estimate: unit * (effect.estimate + shift),
              variance: unit ** 2 * effect.variance,
            })),
            options,
          );
          const scale = reach(effects) + Math.abs(shift);
          same(b.estimate / unit, a.estimate + shift, scale);
          same(b.standardError / unit, a.standardError, scale);
          same(
            Math.sqrt(b.heterogeneity.betweenVariance!) / unit,
            Math.sqrt(a.heterogeneity.betweenVariance!),
            scale * 1e3,
          );
          same(b.heterogeneity.iSquaredPercent!, a.heterogeneity.iSquaredPercent!, 1e5);
        },
      ),
      runs,
    );
  });

  test("no number is NaN, intervals hold the estimate and widen with confidence", () => {
    fc.assert(
      fc.property(anyEffects, anyOptions, (effects, options) => {
        const a = poolEffects(effects, { ...options, confidence: 0.8 });
        const b = poolEffects(effects, { ...options, confidence: 0.99 });
        expect(noNaN(a) && noNaN(b)).toBe(true);
        expect(a.interval.low).toBeLessThanOrEqual(a.estimate);
        expect(a.interval.high).toBeGreaterThanOrEqual(a.estimate);
        expect(b.interval.low).toBeLessThanOrEqual(a.interval.low);
        expect(b.interval.high).toBeGreaterThanOrEqual(a.interval.high);
        const [narrow, wide] = [a, b].map((one) => one.heterogeneity.betweenVarianceInterval!);
        expect(wide!.low).toBeLessThanOrEqual(narrow!.low);
        expect(wide!.high).toBeGreaterThanOrEqual(narrow!.high);
        if (a.predictionInterval !== null) {
          expect(a.predictionInterval.low).toBeLessThanOrEqual(a.interval.low);
          expect(b.predictionInterval!.high).toBeGreaterThanOrEqual(a.predictionInterval.high);
        }
        expect(Math.abs(a.weightsPercent.reduce((x, y) => x + y, 0) - 100)).toBeLessThan(1e-9);
      }),
      runs,
    );
  });

  test.each([
    ["all equal", [0.3, 0.3, 0.3, 0.3], [0.1, 0.1, 0.1, 0.1]],
    ["all zero", [0, 0, 0], [0.1, 0.2, 0.1]],
    ["one huge variance", [0.3, 0.1, 5, 0.2], [0.1, 0.1, 1e12, 0.2]],
    ["variances from 1e-12 to 1e6", [0.3, 0.1, 0.5, 0.2], [1e-12, 1e-6, 1, 1e6]],
    ["equal effects of very different precision", [0.3, 0.3, 0.3], [1e-12, 1, 1e6]],
    ["tiny unit", [3e-9, 1e-9, 2e-9], [1e-18, 2e-18, 3e-18]],
  ])("%s: numbers, for every estimator and interval", (_name, estimates, variances) => {
    const effects = estimates.map((estimate, i) => ({
      effectId: `e${i}`,
      study: `s${i}`,
      estimate,
      variance: variances[i]!,
      moderators: { dose: i * i },
    }));
    for (const heterogeneity of estimators) {
      for (const interval of pooledIntervals) {
        for (const moderators of [[], ["dose"]]) {
          const result = poolEffects(effects, { heterogeneity, interval, moderators });
          expect(noNaN(result)).toBe(true);
          expect(result.heterogeneity.betweenVariance).toBeGreaterThanOrEqual(0);
          expect(result.interval.low).toBeLessThanOrEqual(result.interval.high);
        }
      }
    }
  });
});

describe("fitMultilevel", () => {
  const options = {
    levels: ["study", "arm", "effect_id"],
    moderators: ["weeks", "measure"],
  } as const;
  const seeds = [1, 2, 3, 4];

  test.each(seeds)("order, unit and shift, seed %i", (seed) => {
    const { effects, known } = randomEffects(seed, { studies: 10, perStudy: 3 });
    const a = fitMultilevel(effects, { ...options, knownCovariances: known });
    const last = effects.length - 1;
    const turned = fitMultilevel([...effects].reverse(), {
      ...options,
      knownCovariances: known.map((block) => ({
        indices: block.indices.map((index) => last - index),
        values: block.values,
      })),
    });
    const unit = 250;
    const scaled = fitMultilevel(
      effects.map((effect) => ({
        ...effect,
        estimate: unit * (effect.estimate + 3),
        variance: unit ** 2 * effect.variance,
      })),
      {
        ...options,
        knownCovariances: known.map((block) => ({
          ...block,
          values: block.values.map((value) => unit ** 2 * value),
        })),
      },
    );
    expectRelative(turned.logLikelihood, a.logLikelihood, 1e-10);
    a.coefficients.forEach((coefficient, j) => {
      const [back, far] = [turned.coefficients[j]!, scaled.coefficients[j]!];
      expectRelative(back.estimate, coefficient.estimate, 1e-7);
      expectRelative(back.standardError, coefficient.standardError, 1e-7);
      expectRelative(far.estimate / unit - (j === 0 ? 3 : 0), coefficient.estimate, 1e-6);
      expectRelative(far.standardError / unit, coefficient.standardError, 1e-6);
      expectRelative(
        turned.robust!.coefficients[j]!.standardError,
        a.robust!.coefficients[j]!.standardError,
        1e-6,
      );
    });
    for (const [level, variance] of Object.entries(a.varianceByLevel)) {
      expect(Math.abs(turned.varianceByLevel[level]! - variance)).toBeLessThan(1e-7);
      expect(Math.abs(scaled.varianceByLevel[level]! / unit ** 2 - variance)).toBeLessThan(1e-7);
    }
    expect(noNaN(a)).toBe(true);
  });

  test("levels and moderators in any mixture give numbers", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.subarray(["study", "arm", "effect_id"] as const, { minLength: 1 }),
        fc.boolean(),
        fc.boolean(),
        fc.constantFrom([0, 0, 0], [0.5, 0, 0], [0, 0, 0.4], [1, 1, 1]),
        (seed, levels, sharedArms, moderated, deviations) => {
          const { effects } = randomEffects(seed, {
            studies: 6,
            perStudy: 3,
            sharedArms,
            deviations: deviations,
          });
          const result = fitMultilevel(effects, {
            levels,
            moderators: moderated ? ["weeks"] : [],
          });
          expect(noNaN(result)).toBe(true);
          expect(Object.values(result.varianceByLevel).every((value) => value >= 0)).toBe(true);
          const dense = fitMultilevel([...effects].reverse(), {
            levels,
            moderators: moderated ? ["weeks"] : [],
          });
          expect(Math.abs(dense.logLikelihood - result.logLikelihood)).toBeLessThan(1e-7);
        },
      ),
      { numRuns: 40, seed: 6 },
    );
  });
});

test("ten thousand effects in two thousand studies are an ordinary input", () => {
  const { effects } = randomEffects(2, { studies: 2000, perStudy: 5 });
  expect(effects.length).toBeGreaterThan(9500);
  const before = process.cpuUsage();
  const result = fitMultilevel(effects, { moderators: ["weeks", "measure"] });
  const used = process.cpuUsage(before);
  expect(result.effects).toBe(effects.length);
  // truth of the generator: study 0.3², arm 0.15² (here part of the effects'), effect 0.2²
  expect(Math.abs(result.varianceByLevel.study! - 0.09)).toBeLessThan(0.02);
  expect((used.user + used.system) / 1e6).toBeLessThan(15);
});
