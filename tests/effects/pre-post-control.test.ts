import { expect, test } from "vitest";
import { logRatioOfMeansPaired } from "../../src/effects/log-ratio-of-means.js";
import {
  logRatioPrePostControl,
  prePostControlByOwnBaseline,
  prePostControlByPooledBaseline,
  rawPrePostControl,
} from "../../src/effects/pre-post-control.js";
import { smallSampleFactor } from "../../src/effects/small-sample-factor.js";
import { morris2008 } from "../published/morris-2008.js";
import { expectPrinted, expectRelative } from "./agreement.js";

const arms = morris2008.studies.map(
  ([m1, s1, m2, s2, n, m3, s3, m4, s4, k, correlation, printed]) => ({
    treated: {
      before: { mean: m1, deviation: s1 },
      after: { mean: m2, deviation: s2 },
      correlation,
      participants: n,
    },
    control: {
      before: { mean: m3, deviation: s3 },
      after: { mean: m4, deviation: s4 },
      correlation,
      participants: k,
    },
    printed,
  }),
);

test(`published: ${morris2008.cite}`, () => {
  for (const { treated, control, printed } of arms) {
    expectPrinted(prePostControlByPooledBaseline(treated, control).estimate, printed);
  }
});

test("independent: the equal-deviations variance, written out from the formula, and five values computed by other code", () => {
  const recomputed = ["0.11577", "0.03538", "0.15909", "0.07622", "0.16746"];
  arms.forEach(({ treated, control }, index) => {
    const { estimate, variance } = prePostControlByPooledBaseline(treated, control, {
      scatter: "equal-deviations",
    });
    const people = treated.participants + control.participants;
    const q = 2 * (1 - treated.correlation) * (1 / treated.participants + 1 / control.participants);
    const squared = smallSampleFactor(people - 2) ** 2;
    const expected =
      squared * q * ((people - 2) / (people - 4)) * (1 + estimate ** 2 / q) - estimate ** 2;
    expectRelative(variance, expected, 1e-10);
    // The five were computed with the approximate factor, as the paper does.
    const printedWay = prePostControlByPooledBaseline(treated, control, {
      scatter: "equal-deviations",
      smallSample: "approximate",
    });
    expectPrinted(printedWay.variance, recomputed[index] ?? "");
  });
});

test("identity: with one deviation everywhere both ways to take the scatter agree", () => {
  const even = (mean: number, participants: number) => ({
    before: { mean: 100, deviation: 15 },
    after: { mean, deviation: 15 },
    correlation: 0.7,
    participants,
  });
  const own = prePostControlByPooledBaseline(even(115, 12), even(103, 14));
  const equal = prePostControlByPooledBaseline(even(115, 12), even(103, 14), {
    scatter: "equal-deviations",
  });
  expectRelative(own.variance, equal.variance, 1e-12);
});

test("identity: a control that does not change and has a thousandfold the people leaves the arm's own change", () => {
  const treated = {
    before: { mean: 100, deviation: 15 },
    after: { mean: 112, deviation: 16 },
    correlation: 0.8,
    participants: 14,
  };
  const still = {
    before: { mean: 100, deviation: 15 },
    after: { mean: 100, deviation: 15 },
    correlation: 0.8,
    participants: 1_000_000,
  };
  const alone = logRatioOfMeansPaired(treated);
  const against = logRatioPrePostControl(treated, still);
  expectRelative(against.estimate, alone.estimate, 1e-6);
  expectRelative(against.variance, alone.variance, 1e-4);
});

test("identity: swapping the arms changes the sign only, for every form", () => {
  const { treated, control } = arms[1] ?? arms[0]!;
  for (const form of [
    prePostControlByPooledBaseline,
    prePostControlByOwnBaseline,
    logRatioPrePostControl,
    rawPrePostControl,
  ]) {
    const one = form(treated, control);
    const other = form(control, treated);
    expectRelative(other.estimate, -one.estimate, 1e-12);
    expectRelative(other.variance, one.variance, 1e-12);
  }
});

test("refuses four people in all", () => {
  const small = { ...arms[0]!.treated, participants: 2 };
  expect(() => prePostControlByPooledBaseline(small, small)).toThrow(/at least 5 participants/);
});
