import { expect, test } from "vitest";
import {
  changeDeviationFromT,
  tFromF,
  tFromP,
} from "../../src/effects/standard-deviation-from-test.js";
import { expectPrinted, expectRelative } from "./agreement.js";

test("published: p = 0.008 on 45 degrees of freedom is t 2.78; a difference of 3.8 then has standard error 1.37 (Cochrane Handbook, chapter 6)", () => {
  const t = tFromP({ p: 0.008, degreesOfFreedom: 45 });
  expectPrinted(t, "2.78");
  expectPrinted(3.8 / t, "1.37");
});

test("identity: F on one degree of freedom is t squared", () => {
  expectRelative(tFromF(3.2 ** 2), 3.2, 1e-12);
});

test("identity: a t made from a known deviation gives the deviation back, whatever the signs", () => {
  const t = 4 / (10 / Math.sqrt(16));
  for (const sign of [1, -1]) {
    const back = changeDeviationFromT({ meanChange: sign * 4, t: -t, participants: 16 });
    expectRelative(back, 10, 1e-12);
  }
});

test("refuses p of 0, a negative F, and a t of 0", () => {
  expect(() => tFromP({ p: 0, degreesOfFreedom: 9 })).toThrow(/p value above 0.* got 0/);
  expect(() => tFromF(-1)).toThrow(/got -1/);
  expect(() => changeDeviationFromT({ meanChange: 3, t: 0, participants: 9 })).toThrow(
    /other than 0, got 0/,
  );
});
