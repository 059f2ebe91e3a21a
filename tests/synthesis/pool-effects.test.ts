import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import { poolEffects, type PoolOptions } from "../../src/synthesis/pool-effects.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";
import { bcg1994 } from "../published/bcg-1994.js";
import { diong2022Effects } from "../published/diong-2022-effects.js";
import { expectPrinted, expectRelative } from "../effects/agreement.js";
import { effectsThatWeeksExplain } from "./effects-that-weeks-explain.js";

const effectsOf = (
  pairs: readonly (readonly [estimate: number, variance: number])[],
): readonly SynthesisEffect[] =>
  pairs.map(([estimate, variance], index) => ({
    effectId: `e${index}`,
    study: `s${index}`,
    estimate,
    variance,
  }));

const codesOf = (effects: readonly SynthesisEffect[], options: PoolOptions = {}) =>
  poolEffects(effects, options).story.notes.map((note) => note.code);

test("by hand: three levels of two effects each, tested together on two degrees of freedom", () => {
  // Means 0, 1 and 3 of variance 1/2 around 4/3: χ² = 2·(16/9 + 1/9 + 25/9) = 28/3, and p = exp(−χ²/2) on two.
  const effects = effectsOf([0, 0, 1, 1, 3, 3].map((estimate) => [estimate, 1] as const));
  const levels = effects.map((effect, place) => ({
    ...effect,
    moderators: { level: "aabbcc".charAt(place) },
  }));
  const { omnibus, termTests } = poolEffects(levels, {
    model: "common-effect",
    interval: "normal",
    moderators: ["level"],
  });
  for (const test of [omnibus!, ...termTests]) {
    expectRelative(test.statistic, 28 / 3, 1e-12);
    expect([test.kind, test.numeratorDegreesOfFreedom]).toEqual(["chi-squared", 2]);
    expectRelative(test.p, Math.exp(-14 / 3), 1e-10);
  }
  expect(termTests).toHaveLength(1);
});

describe(`published: ${diong2022Effects.cite}`, () => {
  const { effects, results } = diong2022Effects;
  const moment = { heterogeneity: "dersimonian-laird", interval: "normal" } as const;

  test("thirty-five effects pooled", () => {
    const printed = results.pooled;
    const result = poolEffects(effects, moment);
    expect(result.effects).toBe(35);
    expectPrinted(result.estimate, printed.estimate);
    expectPrinted(result.interval.low, printed.interval[0]);
    expectPrinted(result.interval.high, printed.interval[1]);
    expectPrinted(result.estimate / result.standardError, printed.z);
    expectPrinted(result.heterogeneity.q!, printed.q);
    expect(result.heterogeneity.qDegreesOfFreedom).toBe(printed.degreesOfFreedom);
    expectPrinted(result.heterogeneity.iSquaredPercent!, printed.iSquaredPercent);
    expectPrinted(result.heterogeneity.betweenVariance!, printed.betweenVariance);
  });

  test("without one outlying study", () => {
    const printed = results.withoutTimmins2015;
    const rest = effects.filter((effect) => effect.study !== "Timmins 2015");
    const result = poolEffects(rest, moment);
    expectPrinted(result.estimate, printed.estimate);
    expectPrinted(result.interval.low, printed.interval[0]);
    expectPrinted(result.interval.high, printed.interval[1]);
    expectPrinted(result.heterogeneity.q!, printed.q);
    expect(result.heterogeneity.qDegreesOfFreedom).toBe(printed.degreesOfFreedom);
    expectPrinted(result.heterogeneity.iSquaredPercent!, printed.iSquaredPercent);
    expectPrinted(result.heterogeneity.betweenVariance!, printed.betweenVariance);
  });

  test("regression on limb", () => {
    const printed = results.limb;
    const result = poolEffects(effects, {
      moderators: ["limb"],
      interval: "hartung-knapp-unguarded",
    });
    const [intercept, slope] = result.coefficients;
    expect(slope!.term).toBe("limb: ul");
    expectPrinted(slope!.estimate, printed.slope);
    expectPrinted(slope!.standardError, printed.slopeStandardError);
    expectPrinted(slope!.interval.low, printed.slopeInterval[0]);
    expectPrinted(slope!.interval.high, printed.slopeInterval[1]);
    expectPrinted(intercept!.estimate, printed.intercept);
    expectPrinted(intercept!.interval.low, printed.interceptInterval[0]);
    expectPrinted(intercept!.interval.high, printed.interceptInterval[1]);
    expectPrinted(result.heterogeneity.betweenVariance!, printed.betweenVariance);
    expect(slope!.degreesOfFreedom).toBe(33);
  });
});

describe("independent: base R on the thirteen BCG trials", () => {
  const { results } = bcg1994;

  test("average, Q, interval of the between variance", () => {
    const result = poolEffects(bcg1994.logRiskRatios, { interval: "normal" });
    expectPrinted(result.estimate, results.estimate);
    expectPrinted(result.standardError, results.standardError);
    expectPrinted(result.heterogeneity.q!, results.q);
    const interval = result.heterogeneity.betweenVarianceInterval!;
    expectPrinted(interval.low, results.betweenVarianceInterval[0]);
    expectPrinted(interval.high, results.betweenVarianceInterval[1]);
    const common = poolEffects(bcg1994.logRiskRatios, { model: "common-effect" });
    expectPrinted(common.estimate, results.common.estimate);
    expectPrinted(common.standardError, results.common.standardError);
    const moment = poolEffects(bcg1994.logRiskRatios, { heterogeneity: "dersimonian-laird" });
    expectPrinted(moment.heterogeneity.iSquaredPercent!, results.iSquaredDerSimonianLaird);
  });

  test("regression on latitude", () => {
    const result = poolEffects(bcg1994.logRiskRatios, {
      moderators: ["latitude"],
      interval: "normal",
    });
    expectPrinted(result.coefficients[1]!.estimate, results.latitude.slope);
    expectPrinted(result.coefficients[1]!.standardError, results.latitude.standardError);
    expectPrinted(result.omnibus!.statistic, results.latitude.chiSquared);
    expectPrinted(result.explainedPercent!, results.latitude.explainedPercent);
    expectPrinted(result.heterogeneity.q!, results.latitude.residualQ);
  });

  test("odds ratios by maximum likelihood, with and without latitude", () => {
    const printed = results.logOddsRatio;
    const options = { heterogeneity: "maximum-likelihood", interval: "normal" } as const;
    const average = poolEffects(bcg1994.logOddsRatios, options);
    expectPrinted(average.estimate, printed.estimate);
    expectPrinted(average.standardError, printed.standardError);
    expectPrinted(average.heterogeneity.betweenVariance!, printed.betweenVariance);
    const regression = poolEffects(bcg1994.logOddsRatios, { ...options, moderators: ["latitude"] });
    expectPrinted(regression.coefficients[0]!.estimate, printed.withLatitude.intercept);
    expectPrinted(regression.coefficients[1]!.estimate, printed.withLatitude.slope);
    expectPrinted(
      regression.coefficients[1]!.standardError,
      printed.withLatitude.slopeStandardError,
    );
    expectPrinted(regression.heterogeneity.betweenVariance!, printed.withLatitude.betweenVariance);
  });

  test("odds ratio as a textbook prints it", () => {
    const printed = results.oddsRatio;
    const result = poolEffects(bcg1994.logOddsRatios, {
      heterogeneity: "dersimonian-laird",
      interval: "normal",
    });
    expectPrinted(Math.exp(result.estimate), printed.estimate);
    expectPrinted(Math.exp(result.interval.low), printed.interval[0]);
    expectPrinted(Math.exp(result.interval.high), printed.interval[1]);
    expectPrinted(result.heterogeneity.betweenVariance!, printed.betweenVariance);
  });
});

describe("independent: base R on nineteen effects that their weeks explain", () => {
  test("average, and weeks with the between variance at zero", () => {
    const { effects, inBaseR: results } = effectsThatWeeksExplain;
    const average = poolEffects(effects, { interval: "normal" });
    expectPrinted(average.heterogeneity.q!, results.q);
    expectPrinted(average.heterogeneity.betweenVariance!, results.betweenVariance);
    expectPrinted(average.estimate, results.estimate);
    expectPrinted(average.standardError, results.standardError);
    const weeks = poolEffects(effects, { moderators: ["weeks"], interval: "normal" });
    expectPrinted(weeks.coefficients[0]!.estimate, results.weeks.intercept);
    expectPrinted(weeks.coefficients[0]!.standardError, results.weeks.interceptStandardError);
    expectPrinted(weeks.coefficients[1]!.estimate, results.weeks.slope);
    expectPrinted(weeks.coefficients[1]!.standardError, results.weeks.slopeStandardError);
    expectPrinted(weeks.heterogeneity.q!, results.weeks.residualQ);
    expect(weeks.heterogeneity.betweenVariance).toBe(0);
    const residualScale = poolEffects(effects, { moderators: ["weeks"] });
    expect(residualScale.coefficients[1]!.p).toBeLessThan(0.01);
  });
});

describe("identities", () => {
  test("equal variances: the plain mean and its ordinary t interval", () => {
    const values = [0.1, 0.9, 0.4, 0.65, -0.2];
    const mean = values.reduce((a, b) => a + b, 0) / 5;
    const error = Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / 4 / 5);
    const result = poolEffects(effectsOf(values.map((value) => [value, 0.01])), {
      interval: "hartung-knapp-unguarded",
    });
    expectRelative(result.estimate, mean, 1e-12);
    expectRelative(result.standardError, error, 1e-12);
    // base R: qt(0.975, 4)
    expectRelative((result.interval.high - result.interval.low) / 2 / error, 2.776445, 1e-6);
    expect(result.weightsPercent.every((weight) => Math.abs(weight - 20) < 1e-9)).toBe(true);
  });

  test("a two-level categorical moderator without between variance is two separate averages", () => {
    const effects = effectsOf([
      [0.5, 0.04],
      [0.45, 0.02],
      [0.55, 0.05],
      [0.1, 0.03],
      [0.12, 0.06],
    ]).map((effect, i) => ({ ...effect, moderators: { measure: i < 3 ? "size" : "strength" } }));
    const both = poolEffects(effects, { moderators: ["measure"], model: "common-effect" });
    const first = poolEffects(effects.slice(0, 3), { model: "common-effect" });
    const second = poolEffects(effects.slice(3), { model: "common-effect" });
    expectRelative(both.coefficients[0]!.estimate, first.estimate, 1e-12);
    expectRelative(both.coefficients[1]!.estimate, second.estimate - first.estimate, 1e-12);
    expectRelative(
      both.coefficients[1]!.standardError,
      Math.hypot(first.standardError, second.standardError),
      1e-12,
    );
    expectRelative(both.heterogeneity.q!, first.heterogeneity.q! + second.heterogeneity.q!, 1e-10);
  });

  test("the joint test of one column is its squared t", () => {
    const result = poolEffects(effectsThatWeeksExplain.effects, { moderators: ["weeks"] });
    const slope = result.coefficients[1]!;
    expectRelative(result.omnibus!.statistic, (slope.estimate / slope.standardError) ** 2, 1e-10);
    expectRelative(result.omnibus!.p, slope.p, 1e-9);
    expect(result.termTests[0]!.term).toBe("weeks");
  });

  test("year against year since 2000 changes the intercept only", () => {
    const withYears = (shift: number) =>
      effectsThatWeeksExplain.effects.map((effect, i) => ({
        ...effect,
        moderators: { year: 1970 + ((i * 7) % 23) - shift },
      }));
    const far = poolEffects(withYears(0), { moderators: ["year"] });
    const near = poolEffects(withYears(1980), { moderators: ["year"] });
    expectRelative(far.coefficients[1]!.estimate, near.coefficients[1]!.estimate, 1e-9);
    expectRelative(far.coefficients[1]!.standardError, near.coefficients[1]!.standardError, 1e-9);
    expectRelative(far.heterogeneity.betweenVariance!, near.heterogeneity.betweenVariance!, 1e-9);
    expectRelative(far.estimate, near.estimate, 1e-9);
  });

  test("the prediction interval is estimate ± t √(τ² + SE²), with k − p − 1 on demand", () => {
    const usual = poolEffects(bcg1994.logRiskRatios);
    const wider = poolEffects(bcg1994.logRiskRatios, { predictionDegreesOfFreedom: "one-fewer" });
    const spread = Math.sqrt(usual.heterogeneity.betweenVariance! + usual.standardError ** 2);
    // base R: qt(0.975, c(12, 11))
    expectRelative((usual.predictionInterval!.high - usual.estimate) / spread, 2.178813, 1e-6);
    expectRelative((wider.predictionInterval!.high - wider.estimate) / spread, 2.200985, 1e-6);
  });
});

describe("few effects", () => {
  test("one: itself, a normal interval, no heterogeneity", () => {
    const result = poolEffects(effectsOf([[0.4, 0.04]]));
    expect(result.estimate).toBe(0.4);
    expectRelative(result.interval.high, 0.4 + 1.959963985 * 0.2, 1e-9);
    expect(result.heterogeneity.betweenVariance).toBeNull();
    expect(result.heterogeneity.q).toBeNull();
    expect(result.predictionInterval).toBeNull();
    expect(codesOf(effectsOf([[0.4, 0.04]]))).toContain("few-studies");
  });

  test("two almost equal effects: the unguarded interval is far too narrow, the guarded one is not", () => {
    const effects = effectsOf([
      [0.4, 0.03],
      [0.42, 0.04],
    ]);
    const result = poolEffects(effects);
    const width = (interval: { low: number; high: number }) => interval.high - interval.low;
    const normal = poolEffects(effects, { interval: "normal" });
    expect(result.hartungKnapp!.floored).toBe(true);
    expect(width(result.hartungKnapp!.unguardedInterval)).toBeLessThan(
      width(normal.interval) / 1.5,
    );
    expect(width(result.interval)).toBeGreaterThan(width(normal.interval));
    // floored at one: model standard error and t(0.975; 1) = 12.7062
    expectRelative(width(result.interval) / 2 / normal.standardError, 12.706205, 1e-7);
    expect(result.predictionInterval).toBeNull();
    expect(codesOf(effects)).toEqual(
      expect.arrayContaining(["few-studies", "two-effects", "hartung-knapp-floored"]),
    );
  });

  test("three and four: a prediction interval called indicative; below ten unstable; ten not", () => {
    const many = effectsOf(
      Array.from({ length: 10 }, (_, i) => [0.2 + 0.1 * (i % 4), 0.02 + 0.003 * i]),
    );
    expect(codesOf(many.slice(0, 3))).toContain("prediction-indicative");
    expect(codesOf(many.slice(0, 4))).toContain("prediction-indicative");
    expect(codesOf(many.slice(0, 9))).toContain("prediction-unstable");
    expect(codesOf(many)).not.toContain("prediction-unstable");
  });
});

describe("notes", () => {
  test("one study with most of the weight, several effects of one study, nothing between", () => {
    const heavy = effectsOf([
      [0.3, 0.001],
      [0.35, 0.1],
      [0.25, 0.1],
      [0.31, 0.2],
      [0.3, 0.3],
    ]);
    expect(codesOf(heavy)).toEqual(
      expect.arrayContaining(["one-study-dominates", "no-positive-variance-compatible"]),
    );
    const twice = heavy.map((effect, i) => ({ ...effect, study: `s${Math.floor(i / 2)}` }));
    expect(codesOf(twice)).toContain("several-effects-per-study");
  });

  test("rows without a moderator in use are set aside and named", () => {
    const effects = effectsThatWeeksExplain.effects.map((effect, i) =>
      i === 4 ? { ...effect, moderators: {} } : effect,
    );
    const result = poolEffects(effects, { moderators: ["weeks"] });
    expect(result.effects).toBe(18);
    expect(result.story.effectIds).not.toContain("5");
    expect(result.story.notes.find((note) => note.code === "moderator-missing")!.message).toMatch(
      /1 of 19 effects.*: 5$/,
    );
  });
});

describe("refuses", () => {
  const good = effectsOf([
    [0.1, 0.02],
    [0.3, 0.03],
    [0.2, 0.03],
  ]);
  const withMeasure = good.map((effect, i) => ({
    ...effect,
    moderators: { dose: i, twin: 2 * i },
  }));
  const cases: readonly (readonly [string, () => unknown])[] = [
    ["no-effects", () => poolEffects([])],
    ["not-finite", () => poolEffects(effectsOf([[NaN, 0.1]]))],
    ["not-positive", () => poolEffects(effectsOf([[0.1, 0]]))],
    ["not-positive", () => poolEffects(effectsOf([[0.1, -0.2]]))],
    ["not-a-confidence", () => poolEffects(good, { confidence: 95 })],
    ["unknown-choice", () => poolEffects(good, { heterogeneity: "guess" as "paule-mandel" })],
    ["unknown-moderator", () => poolEffects(good, { moderators: ["weeks"] })],
    ["repeated-moderator", () => poolEffects(withMeasure, { moderators: ["dose", "dose"] })],
    ["too-few-effects", () => poolEffects(withMeasure, { moderators: ["dose", "twin"] })],
    [
      "aliased-moderators",
      () => poolEffects([...withMeasure, ...withMeasure], { moderators: ["dose", "twin"] }),
    ],
  ];
  test.each(cases)("%s", (code, call) => {
    let thrown: unknown;
    try {
      call();
    } catch (error) {
      thrown = error;
    }
    expect(thrown).toBeInstanceOf(CallError);
    expect((thrown as CallError).code).toBe(code);
  });

  test("an aliased moderator is named, and a confidence in per cent guessed at", () => {
    expect(() =>
      poolEffects([...withMeasure, ...withMeasure], { moderators: ["dose", "twin"] }),
    ).toThrow(/twin/);
    expect(() => poolEffects(good, { confidence: 95 })).toThrow(/did you mean 0.95/);
  });
});
