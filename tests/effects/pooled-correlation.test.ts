import { expect, test } from "vitest";
import { pooledCorrelation } from "../../src/effects/pooled-correlation.js";
import { expectRelative } from "./agreement.js";

const study = (name: string, value: number, participants: number) => ({
  study: name,
  correlations: [{ arm: "a", value, participants }],
});

test("independent: two studies averaged on Fisher's z scale by people less three", () => {
  const pooled = pooledCorrelation([study("one", 0.9, 13), study("two", 0.6, 33)]);
  const z = (10 * Math.atanh(0.9) + 30 * Math.atanh(0.6)) / 40;
  expectRelative(pooled?.correlation ?? 0, Math.tanh(z), 1e-12);
  expect(pooled?.studies).toBe(2);
});

test("a study that prints many outcomes of the same people weighs no more for it", () => {
  const many = {
    study: "one",
    correlations: Array.from({ length: 9 }, () => ({ arm: "a", value: 0.9, participants: 13 })),
  };
  const plain = pooledCorrelation([study("one", 0.9, 13), study("two", 0.6, 33)]);
  const repeated = pooledCorrelation([many, study("two", 0.6, 33)]);
  expectRelative(repeated?.correlation ?? 0, plain?.correlation ?? 1, 1e-12);
});

test("three people or a correlation of 1 have no say; nobody left is undefined", () => {
  expect(pooledCorrelation([study("one", 0.9, 3), study("two", 1, 30)])).toBeUndefined();
});
