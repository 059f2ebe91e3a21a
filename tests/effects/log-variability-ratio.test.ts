import { expect, test } from "vitest";
import {
  logVariabilityRatio,
  logVariabilityRatioPaired,
} from "../../src/effects/log-variability-ratio.js";
import { expectRelative } from "./agreement.js";

const first = { mean: 10, deviation: 3, participants: 12 };
const second = { mean: 11, deviation: 2, participants: 20 };

test("independent: estimate and both variances, written out (Nakagawa 2015; Senior 2020)", () => {
  const plain = logVariabilityRatio(first, second);
  expectRelative(plain.estimate, Math.log(1.5) + 1 / 22 - 1 / 38, 1e-12);
  expectRelative(plain.variance, 1 / 22 + 1 / 38, 1e-12);
  const further = logVariabilityRatio(first, second, { order: "second-order" });
  expectRelative(further.variance, 12 / (2 * 11 ** 2) + 20 / (2 * 19 ** 2), 1e-12);
});

test("identity: a pair without correlation is two groups of the same size", () => {
  const before = { mean: 10, deviation: 2 };
  const after = { mean: 12, deviation: 3 };
  const pair = logVariabilityRatioPaired({ before, after, correlation: 0, participants: 15 });
  const groups = logVariabilityRatio(
    { ...after, participants: 15 },
    { ...before, participants: 15 },
  );
  expectRelative(pair.estimate, groups.estimate, 1e-12);
  expectRelative(pair.variance, groups.variance, 1e-12);
});

test("refuses a deviation of 0", () => {
  expect(() => logVariabilityRatio({ ...first, deviation: 0 }, second)).toThrow(/above 0, got 0/);
});
