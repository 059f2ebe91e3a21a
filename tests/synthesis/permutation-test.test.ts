import { describe, expect, test } from "vitest";
import type { CallError } from "../../src/errors.js";
import { exchangeableUnits, permutationTest } from "../../src/synthesis/permutation-test.js";
import { poolEffects } from "../../src/synthesis/pool-effects.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";
import { bcg1994 } from "../published/bcg-1994.js";
import { randomEffects } from "./random-effects.js";

const dosed = (
  estimates: readonly number[],
  doses: readonly number[],
): readonly SynthesisEffect[] =>
  estimates.map((estimate, i) => ({
    effectId: `e${i}`,
    study: `s${i}`,
    estimate,
    variance: 0.02,
    moderators: { dose: doses[i]! },
  }));

const pooled = { kind: "pooled", options: { moderators: ["dose"] } } as const;

describe("exact", () => {
  test("identity: a strictly rising order of six, with equal variances, is reached by itself and its mirror", () => {
    const result = permutationTest(dosed([0, 1, 2, 3, 4, 5.5], [0, 1, 2, 3, 4, 5]), {
      moderator: "dose",
      model: pooled,
    });
    expect(result.exact).toBe(true);
    expect(result.permutations).toBe(720);
    expect(result.p).toBeCloseTo(2 / 720, 12);
    expect(result.exchanged).toBe("studies");
  });

  test("independent: five effects, all 120 arrangements counted here", () => {
    const estimates = [0.1, 0.5, 0.2, 0.9, 0.4];
    const doses = [1, 3, 2, 7, 5];
    const statistic = (values: readonly number[]) =>
      poolEffects(dosed(estimates, values), { moderators: ["dose"] }).omnibus!.statistic;
    const orders = (items: readonly number[]): number[][] =>
      items.length === 0
        ? [[]]
        : items.flatMap((item, i) =>
            orders(items.filter((_, j) => j !== i)).map((rest) => [item, ...rest]),
          );
    const observed = statistic(doses);
    const all = orders(doses);
    const reached = all.filter((order) => statistic(order) >= observed * (1 - 1e-9)).length;
    const result = permutationTest(dosed(estimates, doses), { moderator: "dose", model: pooled });
    expect(all.length).toBe(120);
    expect(result.p).toBeCloseTo(reached / 120, 12);
  });
});

describe("sampled", () => {
  const options = {
    moderator: "latitude",
    model: { kind: "pooled", options: { moderators: ["latitude"] } },
    permutations: 199,
  } as const;

  test("latitude of the BCG trials matters; the same seed gives the same answer", () => {
    const result = permutationTest(bcg1994.logRiskRatios, options);
    expect(result.exact).toBe(false);
    expect(result.p).toBeLessThanOrEqual(0.05);
    expect(result.p).toBeGreaterThanOrEqual(1 / 200);
    expect(permutationTest(bcg1994.logRiskRatios, options)).toEqual(result);
  });

  test("a multilevel model moves the values of a study-level moderator as whole studies", () => {
    const { effects } = randomEffects(14, { studies: 6, perStudy: 3 });
    const result = permutationTest(effects, {
      moderator: "weeks",
      model: { kind: "multilevel", options: { moderators: ["weeks"] } },
    });
    expect(result.exchanged).toBe("studies");
    expect(result.permutations).toBe(720);
    expect(result.p * 720).toBeCloseTo(Math.round(result.p * 720), 9);
  });
});

test("a moderator that varies inside studies is exchanged inside them when rows are dependent", () => {
  const { effects } = randomEffects(14, { studies: 6, perStudy: 3 });
  const units = exchangeableUnits(effects, "measure", "multilevel");
  expect(units.kind).toBe("effects inside studies");
  expect(units.units.length).toBe(6);
  expect(exchangeableUnits(effects, "measure", "pooled").kind).toBe("effects");
});

describe("refuses", () => {
  test.each([
    ["moderator-not-in-model", { moderator: "weeks", model: pooled }],
    ["too-few-permutations", { moderator: "dose", model: pooled, permutations: 10 }],
  ] as const)("%s", (code, options) => {
    let thrown: unknown;
    try {
      permutationTest(dosed([1, 2, 3, 4], [1, 2, 3, 5]), options);
    } catch (error) {
      thrown = error;
    }
    expect((thrown as CallError).code).toBe(code);
  });
});
