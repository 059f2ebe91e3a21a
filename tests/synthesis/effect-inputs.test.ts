import { describe, expect, test } from "vitest";
import type { Effect, EffectSet } from "../../src/effects/effect.js";
import { effectInputs, inputSubset } from "../../src/synthesis/effect-inputs.js";
import { randomEffects } from "./random-effects.js";

const effect = (effectId: string, cohort: string, weeks?: number): Effect => ({
  effectId,
  study: `paper of ${cohort}`,
  cohort,
  arm: "1",
  scale: "log-ratio-of-means",
  contrast: "change-within-arm",
  estimate: 0.1,
  variance: 0.01,
  route: "stated",
  correlationSource: "not needed",
  participants: 10,
  row: {
    line: 2,
    notReported: [],
    study: "s",
    arm: "1",
    outcome: "o",
    ...(weeks === undefined ? {} : { weeks }),
  },
  notes: [],
});

const set: EffectSet = {
  scale: "log-ratio-of-means",
  contrast: "change-within-arm",
  effects: [effect("one", "first", 8), effect("two", "first"), effect("three", "second", 4)],
  blocks: [
    { cluster: "first", indices: [0, 1], values: [0.01, 0.004, 0.004, 0.01] },
    { cluster: "second", indices: [2], values: [0.01] },
  ],
  rowUses: [],
  assumptions: [],
  notes: [],
};

test("cohorts are the studies, and the same arm number in two cohorts is two arms", () => {
  const { effects } = effectInputs(set);
  expect(effects.map(({ study }) => study)).toEqual(["first", "first", "second"]);
  expect(effects[0]?.arm).toBe(effects[1]?.arm);
  expect(effects[0]?.arm).not.toBe(effects[2]?.arm);
});

test("only covariances of several effects are passed on, with their positions", () => {
  expect(effectInputs(set).covariances).toEqual([
    { indices: [0, 1], values: [0.01, 0.004, 0.004, 0.01] },
  ]);
});

test("a moderator that is blank for an effect is left out, not made up", () => {
  const { effects } = effectInputs(set, { moderators: { weeks: ({ row }) => row.weeks } });
  expect(effects.map(({ moderators }) => moderators)).toEqual([{ weeks: 8 }, {}, { weeks: 4 }]);
});

describe("inputSubset", () => {
  test("identity: leaving a study out equals never having read it", () => {
    const { effects, known } = randomEffects(17, { studies: 9, perStudy: 3 });
    const inputs = { effects, covariances: known, ready: true };
    const rest = inputSubset(inputs, ({ study }) => study !== "s3");
    const out = effects.flatMap((effect, i) => (effect.study === "s3" ? [i] : []));
    const kept = known.flatMap((block) => {
      if (out.includes(block.indices[0]!)) return [];
      const move = block.indices[0]! > out[0]! ? out.length : 0;
      return [{ ...block, indices: block.indices.map((index) => index - move) }];
    });
    expect(rest.covariances).toEqual(kept);
    expect(rest.effects).toEqual(effects.filter(({ study }) => study !== "s3"));
    expect(rest.ready).toBe(true);
  });

  test("part of a block keeps the covariances of what stays", () => {
    const effects = ["a", "b", "c", "d", "e"].map((effectId) => ({
      ...{ effectId, study: "s", estimate: 0, variance: 1 },
    }));
    const covariances = [{ indices: [1, 2, 4], values: [1, 0.1, 0.2, 0.1, 2, 0.3, 0.2, 0.3, 3] }];
    const without = (...ids: readonly string[]) =>
      inputSubset({ effects, covariances }, ({ effectId }) => !ids.includes(effectId)).covariances;
    expect(without("c", "a")).toEqual([{ indices: [0, 2], values: [1, 0.2, 0.2, 3] }]);
    expect(without("b", "c", "e")).toEqual([]);
  });
});
