import { describe, expect, test } from "vitest";
import type { CallError } from "../../src/errors.js";
import { eggerRegression } from "../../src/certainty/egger-regression.js";
import { diong2022Effects } from "../published/diong-2022-effects.js";
import { bcg1994 } from "../published/bcg-1994.js";
import { expectPrinted, expectRelative } from "../effects/agreement.js";

describe(`published: ${diong2022Effects.cite}`, () => {
  const { effects, results } = diong2022Effects;
  const printed = results.egger;

  test("to every printed digit, with effects and errors in single precision as the author's software keeps them", () => {
    const { bias, informative } = eggerRegression(
      effects.map((effect) => ({ ...effect, estimate: Math.fround(effect.estimate) })),
      { smallness: effects.map((effect) => Math.fround(Math.sqrt(effect.variance))) },
    );
    expectPrinted(bias.estimate, printed.bias);
    expectPrinted(bias.standardError, printed.standardError);
    expect(bias.degreesOfFreedom).toBe(printed.degreesOfFreedom);
    expectPrinted(bias.p, printed.p);
    expect(informative).toBe(true);
  });

  test("in double precision the slope moves by one in the seventh decimal and nothing else", () => {
    const { bias } = eggerRegression(effects);
    expect(Math.abs(bias.estimate - Number(printed.bias))).toBeLessThan(1e-7);
    expectPrinted(bias.standardError, printed.standardError);
    expectPrinted(bias.p, printed.p);
  });
});

test("independent: the intercept of y/SE on 1/SE by ordinary least squares, written out here", () => {
  const effects = bcg1994.logRiskRatios;
  const y = effects.map((effect) => effect.estimate / Math.sqrt(effect.variance));
  const x = effects.map((effect) => 1 / Math.sqrt(effect.variance));
  const n = y.length;
  const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / n;
  const [mx, my] = [mean(x), mean(y)];
  const sxx = x.reduce((total, value) => total + (value - mx) ** 2, 0);
  const slope = x.reduce((total, value, i) => total + (value - mx) * (y[i]! - my), 0) / sxx;
  const intercept = my - slope * mx;
  const squares = y.reduce(
    (total, value, i) => total + (value - intercept - slope * x[i]!) ** 2,
    0,
  );
  const error = Math.sqrt((squares / (n - 2)) * (1 / n + mx ** 2 / sxx));
  const { bias, atZeroError, dispersion } = eggerRegression(effects);
  expectRelative(bias.estimate, intercept, 1e-10);
  expectRelative(bias.standardError, error, 1e-10);
  expectRelative(atZeroError.estimate, slope, 1e-10);
  expectRelative(dispersion, squares / (n - 2), 1e-10);
});

test("identity: the standard errors given as smallness change nothing", () => {
  const effects = bcg1994.logRiskRatios;
  const smallness = effects.map((effect) => Math.sqrt(effect.variance));
  expectRelative(
    eggerRegression(effects, { smallness }).bias.estimate,
    eggerRegression(effects).bias.estimate,
    1e-10,
  );
});

describe("claims nothing", () => {
  test("of fewer than ten effects, or of like precisions", () => {
    const few = eggerRegression(bcg1994.logRiskRatios.slice(0, 9));
    expect(few.informative).toBe(false);
    expect(few.notes.map(({ code }) => code)).toContain("too-few-for-asymmetry");
    const alike = eggerRegression(
      bcg1994.logRiskRatios.map((effect, i) => ({ ...effect, variance: 0.04 + 0.001 * i })),
    );
    expect(alike.informative).toBe(false);
    expect(alike.notes.map(({ code }) => code)).toContain("like-precisions");
  });
});

describe("refuses", () => {
  const effects = bcg1994.logRiskRatios;
  test.each([
    ["too-few-effects", () => eggerRegression(effects.slice(0, 2))],
    [
      "equal-errors",
      () => eggerRegression(effects.map((effect) => ({ ...effect, variance: 0.1 }))),
    ],
    ["bad-smallness", () => eggerRegression(effects, { smallness: [1, 2] })],
  ] as const)("%s", (code, call) => {
    let thrown: unknown;
    try {
      call();
    } catch (error) {
      thrown = error;
    }
    expect((thrown as CallError).code).toBe(code);
  });
});
