import { describe, expect, test } from "vitest";
import { influence } from "../../src/certainty/influence.js";
import { fitMultilevel } from "../../src/synthesis/fit-multilevel.js";
import { poolEffects } from "../../src/synthesis/pool-effects.js";
import { bcg1994 } from "../published/bcg-1994.js";
import { diong2022Effects } from "../published/diong-2022-effects.js";
import { randomEffects } from "../synthesis/random-effects.js";
import { expectPrinted, expectRelative } from "../effects/agreement.js";

test(`published: ${diong2022Effects.cite}, without one study`, () => {
  const { leftOut } = influence(diong2022Effects.effects, {
    model: { kind: "pooled", options: { heterogeneity: "dersimonian-laird", interval: "normal" } },
  });
  const printed = diong2022Effects.results.withoutTimmins2015;
  const one = leftOut.find(({ name }) => name === "Timmins 2015")!;
  expectPrinted(one.estimate, printed.estimate);
  expectPrinted(one.interval.low, printed.interval[0]);
  expectPrinted(one.interval.high, printed.interval[1]);
  // heterogeneity is refitted: the printed value without the study, not the one with it
  expectPrinted(one.betweenVariance!, printed.betweenVariance);
  expect(one.changesConclusion).toBe(false);
});

describe("identities", () => {
  const effects = bcg1994.logRiskRatios;
  const { leftOut, range } = influence(effects, { leaveOut: "effect" });

  test("each line is the pooled result of the rest", () => {
    leftOut.forEach((one, i) => {
      const rest = poolEffects(effects.filter((_, j) => j !== i));
      expect(one.name).toBe(effects[i]!.effectId);
      expect(one.estimate).toBe(rest.estimate);
      expect(one.interval).toEqual(rest.interval);
      expect(one.betweenVariance).toBe(rest.heterogeneity.betweenVariance);
    });
    expect(range.low).toBe(Math.min(...leftOut.map(({ estimate }) => estimate)));
  });

  test("diagnostics follow their definitions", () => {
    const whole = poolEffects(effects, { interval: "normal" });
    leftOut.forEach(({ diagnostics }, i) => {
      const rest = poolEffects(
        effects.filter((_, j) => j !== i),
        { interval: "normal" },
      );
      const { estimate, variance } = effects[i]!;
      const between = rest.heterogeneity.betweenVariance!;
      expectRelative(
        diagnostics!.studentisedResidual,
        (estimate - rest.estimate) / Math.sqrt(variance + between + rest.standardError ** 2),
        1e-12,
      );
      expectRelative(
        diagnostics!.cooksDistance,
        ((whole.estimate - rest.estimate) / whole.standardError) ** 2,
        1e-12,
      );
      expectRelative(diagnostics!.leverage, whole.weightsPercent[i]! / 100, 1e-12);
      expect(diagnostics!.flags.includes("outlying")).toBe(
        Math.abs(diagnostics!.studentisedResidual) > 1.96,
      );
    });
  });

  test("a wild effect is flagged and its loss turns the conclusion", () => {
    const wild = [
      ...[0.02, -0.03, 0.01, 0.0, 0.03, -0.02].map((estimate, i) => ({
        effectId: `e${i}`,
        study: `s${i}`,
        estimate,
        variance: 0.01,
      })),
      { effectId: "wild", study: "wild", estimate: 3, variance: 0.0004 },
    ];
    const answer = influence(wild, {
      leaveOut: "effect",
      model: { kind: "pooled", options: { model: "common-effect" } },
    });
    const last = answer.leftOut.at(-1)!;
    expect(last.diagnostics!.flags).toEqual([
      "outlying",
      "high leverage",
      "shifts the estimate",
      "far from the rest",
    ]);
    expect(last.changesConclusion).toBe(true);
  });
});

test("whole studies are left out of a multilevel model, with their covariances", () => {
  const { effects, known } = randomEffects(6, { studies: 6, perStudy: 3 });
  const { leftOut } = influence(effects, {
    model: { kind: "multilevel", options: { knownCovariances: known } },
  });
  expect(leftOut.map(({ name }) => name)).toEqual(["s0", "s1", "s2", "s3", "s4", "s5"]);
  const count = effects.filter((effect) => effect.study !== "s5").length;
  const rest = fitMultilevel(effects.slice(0, count), {
    knownCovariances: known.filter((block) => block.indices[0]! < count),
  });
  expectRelative(leftOut[5]!.estimate, rest.estimate, 1e-9);
  expect(leftOut[5]!.effects).toBe(count);
});

test("refuses a single study", () => {
  expect(() => influence([{ effectId: "a", study: "s", estimate: 1, variance: 1 }])).toThrow(
    /at least two studies/,
  );
});
