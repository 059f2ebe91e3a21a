import { describe, expect, test } from "vitest";
import { leaveEachOut, type RepeatedAnswer } from "../../src/certainty/leave-each-out.js";
import type { Refusal } from "../../src/errors.js";
import { inputSubset, studyAverage } from "../../src/synthesis/effect-inputs.js";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import { headlineAnswer } from "../../src/synthesis/headline-answer.js";
import { poolEffects, type PoolOptions } from "../../src/synthesis/pool-effects.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";
import { bcg1994 } from "../published/bcg-1994.js";
import { diong2022Effects } from "../published/diong-2022-effects.js";
import { randomEffects } from "../synthesis/random-effects.js";
import { expectPrinted, expectRelative } from "../effects/agreement.js";

const studiesOf = (effects: readonly SynthesisEffect[]) => [
  ...new Set(effects.map(({ study }) => study)),
];

/** Pooling of independent rows, repeated. */
const eachOut = (effects: readonly SynthesisEffect[], options: PoolOptions = {}) =>
  leaveEachOut(studiesOf(effects), poolEffects(effects, options), (name) => {
    const rest = poolEffects(
      effects.filter(({ study }) => study !== name),
      options,
    );
    const own = effects.filter(({ study }) => study === name);
    const study = rest.heterogeneity.betweenVariance!;
    return { ...rest, own: studyAverage({ effects: own, covariances: [] }, { study }) };
  });

test(`published: ${diong2022Effects.cite}, without one study`, () => {
  const { leftOut } = eachOut(diong2022Effects.effects, {
    heterogeneity: "dersimonian-laird",
    interval: "normal",
  });
  const printed = diong2022Effects.results.withoutTimmins2015;
  const one = leftOut.find(({ name }) => name === "Timmins 2015")!;
  expectPrinted(one.answer!.estimate, printed.estimate);
  expectPrinted(one.answer!.interval.low, printed.interval[0]);
  expectPrinted(one.answer!.interval.high, printed.interval[1]);
  expect(one.changesConclusion).toBe(false);
});

test("definitions: shift, Cook's distance and deleted residual of one effect per study", () => {
  const effects = bcg1994.logRiskRatios;
  const whole = poolEffects(effects, { interval: "normal" });
  const { leftOut, range, movesMost } = eachOut(effects, { interval: "normal" });
  expect(leftOut.map(({ name }) => name)).toEqual(studiesOf(effects));
  const estimates = leftOut.map((one, i) => {
    const rest = poolEffects(
      effects.filter((_, j) => j !== i),
      { interval: "normal" },
    );
    const { estimate, variance } = effects[i]!;
    const spread = variance + rest.heterogeneity.betweenVariance! + rest.standardError ** 2;
    expect(one.answer!.estimate).toBe(rest.estimate);
    expect(one.answer!.interval).toEqual(rest.interval);
    expect(one.shift).toBe(rest.estimate - whole.estimate);
    expectRelative(one.cooksDistance!, (one.shift! / whole.standardError) ** 2, 1e-12);
    expectRelative(one.deletedResidual!, (estimate - rest.estimate) / Math.sqrt(spread), 1e-12);
    return rest.estimate;
  });
  expect(range).toEqual({ low: Math.min(...estimates), high: Math.max(...estimates) });
  const shifts = estimates.map((estimate) => Math.abs(estimate - whole.estimate));
  expect(movesMost).toBe(leftOut[shifts.indexOf(Math.max(...shifts))]!.name);
});

test("a wild study is named: without it the conclusion is another", () => {
  const wild = [
    ...[0.02, -0.03, 0.01, 0.005, 0.03, -0.02].map((estimate, i) => ({
      ...{ effectId: `e${i}`, study: `s${i}`, estimate, variance: 0.01 },
    })),
    { effectId: "wild", study: "wild", estimate: 3, variance: 0.0004 },
  ];
  const answer = eachOut(wild, { model: "common-effect" });
  expect(answer.restsOn).toEqual(["wild"]);
  expect(answer.movesMost).toBe("wild");
  expect(answer.leftOut.at(-1)!.deletedResidual).toBeGreaterThan(10);
});

describe("studies of several effects that share people", () => {
  const { effects, known } = randomEffects(6, { studies: 6, perStudy: 3 });
  const inputs = { effects, covariances: known };
  const levels = ["study", "arm", "effect_id"] as const;
  const fitOf = ({ effects: rows, covariances }: typeof inputs) =>
    headlineAnswer(fitMultilevel(rows, { levels, knownCovariances: covariances }));

  test("the question that is shown is repeated, covariances and robust interval included", () => {
    const { leftOut } = leaveEachOut(studiesOf(effects), fitOf(inputs), (name) =>
      fitOf(inputSubset(inputs, ({ study }) => study !== name)),
    );
    const count = effects.filter((effect) => effect.study !== "s5").length;
    const rest = fitOf({
      effects: effects.slice(0, count),
      covariances: known.filter((block) => block.indices[0]! < count),
    });
    expectRelative(leftOut[5]!.answer!.estimate, rest.estimate, 1e-9);
    expectRelative(leftOut[5]!.answer!.interval.low, rest.interval.low, 1e-7);
    expect(rest.interval).not.toEqual(rest.modelBased.interval);
    expect(leftOut[5]!.deletedResidual).toBeNull();
  });

  test("hand arithmetic: a study's own average under the model's variances", () => {
    // M = [[1 + .5 + .25, .4 + .5], [.4 + .5, 2 + .5 + .25]] = [[1.75, .9], [.9, 2.75]], |M| = 4.0025
    // 1'M⁻¹ = [1.85, .85]/4.0025; average (1.85·.2 + .85·.6)/2.7; variance 4.0025/2.7
    const own = studyAverage(
      {
        effects: [
          { effectId: "a", study: "s", estimate: 0.2, variance: 9 },
          { effectId: "b", study: "s", estimate: 0.6, variance: 9 },
        ],
        covariances: [{ indices: [0, 1], values: [1, 0.4, 0.4, 2] }],
      },
      { study: 0.5, effect_id: 0.25 },
    );
    expectRelative(own.estimate, (1.85 * 0.2 + 0.85 * 0.6) / 2.7, 1e-12);
    expectRelative(own.variance, 4.0025 / 2.7, 1e-12);
    expect(() => studyAverage({ effects: [], covariances: [] }, {})).toThrow(/one study/);
  });
});

describe("what has no answer without a study", () => {
  const answer = (estimate: number): RepeatedAnswer => ({
    estimate,
    standardError: 0.1,
    interval: { low: estimate - 0.2, high: estimate + 0.2 },
  });
  const none: Refusal = { kind: "refusal", code: "one-study", reason: "one study is no average" };

  test("says why, and the conclusion rests on that study", () => {
    const { leftOut, range, movesMost, restsOn } = leaveEachOut(
      ["a", "b", "c"],
      answer(0.3),
      (name) => (name === "b" ? none : answer(name === "a" ? 0.25 : 0.31)),
    );
    expect(leftOut[1]).toMatchObject({ name: "b", answer: null, refusal: none, shift: null });
    expect(range).toEqual({ low: 0.25, high: 0.31 });
    expect([movesMost, restsOn]).toEqual(["a", ["b"]]);
  });

  test("an interval that takes zero in, or a sign that turns, is another conclusion", () => {
    const turned = leaveEachOut(["a", "b", "c"], answer(0.3), (name) =>
      answer(name === "a" ? 0.19 : name === "b" ? -0.3 : 0.21),
    );
    expect(turned.restsOn).toEqual(["a", "b"]);
    const sign = leaveEachOut(["a", "b"], answer(0.1), (name) =>
      answer(name === "a" ? 0.05 : -0.05),
    );
    expect(sign.restsOn).toEqual(["b"]);
  });

  test("refuses a single study, and stays empty where no answer is left", () => {
    expect(() => leaveEachOut(["a"], answer(1), answer.bind(null, 1))).toThrow(/at least two/);
    const { range, movesMost } = leaveEachOut(["a", "b"], answer(1), () => none);
    expect([range, movesMost]).toEqual([null, null]);
  });
});
