import { expect, test } from "vitest";
import type { Effect, EffectSet } from "../../src/effects/effect.js";
import { effectSubset } from "../../src/effects/effect-subset.js";

const effect = (effectId: string): Effect => ({
  effectId,
  study: "s",
  cohort: "s",
  arm: "a",
  scale: "log-ratio-of-means",
  contrast: "change-within-arm",
  estimate: 0.1,
  variance: 1,
  route: "stated",
  correlationSource: "not needed",
  participants: 10,
  row: { line: 2, notReported: [], study: "s", arm: "a", outcome: "o" },
  notes: [],
});

const set: EffectSet = {
  scale: "log-ratio-of-means",
  contrast: "change-within-arm",
  effects: ["one", "two", "three", "four"].map(effect),
  blocks: [
    // prettier-ignore
    { cluster: "first", indices: [0, 1, 2], values: [1, 0.1, 0.2, 0.1, 2, 0.3, 0.2, 0.3, 3] },
    { cluster: "second", indices: [3], values: [4] },
  ],
  rowUses: [],
  assumptions: [],
  notes: [],
};

test("a subset keeps the covariances among the effects that stay", () => {
  const subset = effectSubset(set, ({ effectId }) => effectId !== "two");
  expect(subset.effects.map(({ effectId }) => effectId)).toEqual(["one", "three", "four"]);
  expect(subset.blocks).toEqual([
    { cluster: "first", indices: [0, 1], values: [1, 0.2, 0.2, 3] },
    { cluster: "second", indices: [2], values: [4] },
  ]);
});

test("a block with nothing left goes, and keeping everything changes nothing", () => {
  expect(effectSubset(set, ({ effectId }) => effectId === "four").blocks).toEqual([
    { cluster: "second", indices: [0], values: [4] },
  ]);
  expect(effectSubset(set, () => true)).toEqual(set);
});
