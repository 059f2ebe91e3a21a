import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import type { MultilevelOptions } from "../../src/synthesis/multilevel-options.js";
import { poolEffects } from "../../src/synthesis/pool-effects.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";
import { bcg1994 } from "../published/bcg-1994.js";
import { expectPrinted, expectRelative } from "../effects/agreement.js";
import { effectsThatWeeksExplain } from "./effects-that-weeks-explain.js";
import { nestedEffects } from "./nested-effects.js";
import { randomEffects } from "./random-effects.js";
import { twoTops } from "./two-tops.js";

const codesOf = (effects: readonly SynthesisEffect[], options: MultilevelOptions = {}) =>
  fitMultilevel(effects, options).story.notes.map((note) => note.code);

describe("independent: base R on thirty-three effects in nine studies", () => {
  const { effects, inBaseR } = nestedEffects;

  test("three levels, restricted maximum likelihood", () => {
    const result = fitMultilevel(effects);
    const printed = inBaseR.restricted;
    expectPrinted(result.estimate, printed.estimate);
    expectPrinted(result.standardError, printed.standardError);
    expectPrinted(result.varianceByLevel.study!, printed.betweenStudies);
    expectPrinted(result.varianceByLevel.effect_id!, printed.withinStudies);
    expectPrinted(result.logLikelihood, printed.logLikelihood);
    expectPrinted(result.heterogeneity.q!, inBaseR.q);
  });

  test("three levels, maximum likelihood", () => {
    const result = fitMultilevel(effects, { heterogeneity: "maximum-likelihood" });
    const printed = inBaseR.full;
    expectPrinted(result.estimate, printed.estimate);
    expectPrinted(result.standardError, printed.standardError);
    expectPrinted(result.varianceByLevel.study!, printed.betweenStudies);
    expectPrinted(result.varianceByLevel.effect_id!, printed.withinStudies);
  });

  test("two levels", () => {
    const result = poolEffects(effects, { interval: "normal" });
    expectPrinted(result.heterogeneity.betweenVariance!, inBaseR.twoLevel.betweenVariance);
    expectPrinted(result.estimate, inBaseR.twoLevel.estimate);
    expectPrinted(result.standardError, inBaseR.twoLevel.standardError);
  });

  test("the parts of I² and the prediction interval hang together", () => {
    const result = fitMultilevel(effects, { interval: "normal" });
    const { study, effect_id: effect } = result.iSquaredPercentByLevel;
    expectRelative(study! + effect!, result.heterogeneity.iSquaredPercent!, 1e-12);
    expectRelative(
      study! / effect!,
      result.varianceByLevel.study! / result.varianceByLevel.effect_id!,
      1e-12,
    );
    const total = result.varianceByLevel.study! + result.varianceByLevel.effect_id!;
    expectRelative(
      result.predictionInterval!.high,
      result.estimate + 1.959963985 * Math.sqrt(total + result.standardError ** 2),
      1e-9,
    );
  });

  test("profile-likelihood intervals hold the estimates and end where the likelihood says", () => {
    const result = fitMultilevel(effects, { profileIntervals: true });
    for (const level of ["study", "effect_id"]) {
      const { low, high } = result.varianceIntervals![level]!;
      expect(low).toBeLessThan(result.varianceByLevel[level]!);
      expect(high).toBeGreaterThan(result.varianceByLevel[level]!);
      expect(low).toBeGreaterThan(0);
    }
  });
});

describe("identities", () => {
  test("one effect per study: the two-level model, for both likelihoods and with a moderator", () => {
    for (const heterogeneity of ["restricted-maximum-likelihood", "maximum-likelihood"] as const) {
      for (const moderators of [[], ["latitude"]]) {
        const multilevel = fitMultilevel(bcg1994.logRiskRatios, {
          levels: ["study"],
          heterogeneity,
          moderators,
          interval: "normal",
        });
        const pooled = poolEffects(bcg1994.logRiskRatios, {
          heterogeneity,
          moderators,
          interval: "normal",
        });
        expectRelative(
          multilevel.varianceByLevel.study!,
          pooled.heterogeneity.betweenVariance!,
          1e-9,
        );
        expectRelative(multilevel.estimate, pooled.estimate, 1e-10);
        expectRelative(multilevel.standardError, pooled.standardError, 1e-10);
        expectRelative(
          multilevel.heterogeneity.iSquaredPercent!,
          pooled.heterogeneity.iSquaredPercent!,
          1e-9,
        );
        if (moderators.length > 0) {
          expectRelative(multilevel.explainedPercent!, pooled.explainedPercent!, 1e-8);
          expectRelative(multilevel.omnibus!.statistic, pooled.omnibus!.statistic, 1e-9);
        }
      }
    }
  });

  test("independent effects as a known diagonal covariance change nothing", () => {
    const { effects } = randomEffects(3, { studies: 12, perStudy: 3 });
    const known = effects.map((effect, i) => ({ indices: [i], values: [effect.variance] }));
    const a = fitMultilevel(effects);
    const b = fitMultilevel(effects, { knownCovariances: known });
    expectRelative(b.estimate, a.estimate, 1e-12);
    expectRelative(b.logLikelihood, a.logLikelihood, 1e-12);
  });

  test("perfectly repeated measurement adds almost nothing", () => {
    const once = bcg1994.logRiskRatios;
    const twice = once.flatMap((effect) => [
      effect,
      { ...effect, effectId: `${effect.effectId}b` },
    ]);
    const share = 1 - 1e-6;
    const known = once.map((effect, i) => ({
      indices: [2 * i, 2 * i + 1],
      values: [effect.variance, share * effect.variance, share * effect.variance, effect.variance],
    }));
    const a = fitMultilevel(once, { levels: ["study"] });
    const b = fitMultilevel(twice, { levels: ["study"], knownCovariances: known });
    expectRelative(b.estimate, a.estimate, 1e-6);
    expectRelative(b.standardError, a.standardError, 1e-6);
    expectRelative(b.varianceByLevel.study!, a.varianceByLevel.study!, 1e-6);
  });

  test("a study of hundreds of effects goes through shared intercepts and agrees with small blocks", () => {
    // the same model by compound symmetry: averages of n equal-variance effects are sufficient for the average
    const effects: SynthesisEffect[] = [];
    const means = [0.2, 0.5, 0.9, 0.1, 0.45];
    means.forEach((mean, s) => {
      for (let i = 0; i < 200; i++) {
        effects.push({
          effectId: `${s}-${i}`,
          study: `s${s}`,
          estimate: mean + (i % 2 === 0 ? 0.3 : -0.3),
          variance: 0.05,
        });
      }
    });
    const result = fitMultilevel(effects, { robust: "none" });
    const average = means.reduce((a, b) => a + b, 0) / 5;
    const between = means.reduce((total, mean) => total + (mean - average) ** 2, 0) / 4;
    const within = (0.3 ** 2 * 200) / 199;
    expectRelative(result.estimate, average, 1e-9);
    expectRelative(result.standardError, Math.sqrt(between / 5), 1e-8);
    expectRelative(result.varianceByLevel.effect_id!, within - 0.05, 1e-8);
    expectRelative(result.varianceByLevel.study!, between - within / 200, 1e-8);
  });
});

describe("ids as they stand", () => {
  test("an arm id used in two studies is one intercept across them, with a warning", () => {
    const effects = randomEffects(21, { studies: 14, perStudy: 4, sharedArms: true }).effects;
    const options = { levels: ["study", "arm", "effect_id"] } as const;
    const result = fitMultilevel(effects, options);
    const note = result.story.notes.find(({ code }) => code === "arm-shared-between-studies");
    expect(note!.message).toMatch(/arm 0, arm 1/);
    const apart = fitMultilevel(
      effects.map((effect) => ({ ...effect, arm: `${effect.study} ${effect.arm}` })),
      options,
    );
    expect(apart.story.notes.map(({ code }) => code)).not.toContain("arm-shared-between-studies");
    expect(Math.abs(result.logLikelihood - apart.logLikelihood)).toBeGreaterThan(1e-3);
  });

  test("a level with one group, and levels that coincide, are noted and held at zero", () => {
    const oneStudy = nestedEffects.effects.map((effect) => ({ ...effect, study: "only" }));
    const single = fitMultilevel(oneStudy);
    expect(single.varianceByLevel.study).toBe(0);
    expect(single.story.notes.map(({ code }) => code)).toEqual(
      expect.arrayContaining(["level-with-one-group", "robust-unavailable", "few-studies"]),
    );
    expect(single.predictionInterval).toBeNull();
    const alike = fitMultilevel(bcg1994.logRiskRatios);
    expect(alike.varianceByLevel.effect_id).toBe(0);
    expect(alike.story.notes.map(({ code }) => code)).toContain("levels-coincide");
  });

  test("effects that name no arm are their study's unnamed arm", () => {
    const effects = randomEffects(4, { studies: 10, perStudy: 3 }).effects.map((effect, i) => {
      const { arm: _arm, ...rest } = effect;
      return i % 5 === 0 ? rest : effect;
    });
    expect(codesOf(effects, { levels: ["study", "arm"] })).toContain("unnamed-arms");
  });
});

describe("the boundary", () => {
  test("effects that hardly differ: every variance part is zero, and the fit stands", () => {
    const effects = randomEffects(5, {
      studies: 10,
      perStudy: 3,
      deviations: [0, 0, 0],
    }).effects.map((effect, i) => ({ ...effect, estimate: 0.4 + 0.001 * (i % 3) }));
    const result = fitMultilevel(effects, {
      levels: ["study", "arm", "effect_id"],
      profileIntervals: true,
    });
    expect(Object.values(result.varianceByLevel)).toEqual([0, 0, 0]);
    expect(result.varianceIntervals!.study!.low).toBe(0);
    expect(result.varianceIntervals!.study!.high).toBeGreaterThan(0);
    expect(result.story.notes.filter(({ code }) => code === "variance-at-zero").length).toBe(3);
    const common = poolEffects(effects, { model: "common-effect" });
    expectRelative(result.estimate, common.estimate, 1e-12);
    expectRelative(result.standardError, common.standardError, 1e-12);
  });

  test("weeks that leave nothing between studies", () => {
    const result = fitMultilevel(effectsThatWeeksExplain.effects, {
      levels: ["study"],
      moderators: ["weeks"],
    });
    expect(result.varianceByLevel.study).toBe(0);
    expect(result.explainedPercent).toBe(100);
  });

  test("the higher of two tops is found", () => {
    const effects = twoTops.estimates.map((estimate, i) => ({
      effectId: `e${i}`,
      study: `s${i}`,
      estimate,
      variance: twoTops.variances[i]!,
    }));
    const pooled = poolEffects(effects);
    const result = fitMultilevel(effects, { levels: ["study"] });
    expectRelative(result.varianceByLevel.study!, pooled.heterogeneity.betweenVariance!, 1e-8);
  });

  test("variances from 1e-12 to 1e6 and one huge variance give numbers", () => {
    const { effects } = randomEffects(6, { studies: 8, perStudy: 3 });
    const wild = effects.map((effect, i) => ({
      ...effect,
      variance: 10 ** (-12 + (18 * i) / (effects.length - 1)),
    }));
    const huge = effects.map((effect, i) => (i === 0 ? { ...effect, variance: 1e12 } : effect));
    for (const rows of [wild, huge]) {
      const result = fitMultilevel(rows);
      expect(Number.isFinite(result.estimate)).toBe(true);
      expect(result.standardError).toBeGreaterThan(0);
      expect(JSON.stringify(result)).not.toContain("null,null");
    }
  });
});

describe("refuses", () => {
  const { effects, known } = randomEffects(9, { studies: 6, perStudy: 3 });
  const broken = known.map((block) => ({ ...block, values: block.values.map(() => 1) }));
  const cases: readonly (readonly [string, () => unknown])[] = [
    ["no-effects", () => fitMultilevel([])],
    ["too-few-effects", () => fitMultilevel(effects.slice(0, 1))],
    ["bad-levels", () => fitMultilevel(effects, { levels: [] })],
    ["bad-levels", () => fitMultilevel(effects, { levels: ["arm", "study"] })],
    ["bad-covariance", () => fitMultilevel(effects, { knownCovariances: broken })],
    [
      "bad-covariance",
      () =>
        fitMultilevel(effects, { knownCovariances: [{ indices: [0, 999], values: [1, 0, 0, 1] }] }),
    ],
    ["arms-missing", () => fitMultilevel(bcg1994.logRiskRatios, { levels: ["study", "arm"] })],
    [
      "unknown-choice",
      () => fitMultilevel(effects, { heterogeneity: "paule-mandel" as "maximum-likelihood" }),
    ],
    ["unknown-moderator", () => fitMultilevel(effects, { moderators: ["dose"] })],
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
});
