/** Spreads lent to rows that print none: hand arithmetic, what is never lent, and a seeded simulation of one row. */
import { describe, expect, test } from "vitest";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { EffectsOptions } from "../../src/effects/effects-options.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { expectRelative } from "./agreement.js";
import { bothTimes, rowOf } from "./outcome-row.js";

type Fields = Partial<OutcomeRow>;

/** Rows of studies A, B, C and so on, a line each. */
const rowsOf = (...fields: readonly Fields[]): readonly OutcomeRow[] =>
  fields.map((one, place) =>
    rowOf({ line: place + 2, study: String.fromCharCode(65 + place), ...one }),
  );
const lender = (variation: number, nEnd: number, more: Fields = {}): Fields => ({
  ...bothTimes([100, 100 * variation], [125, 125 * variation], nEnd),
  ...more,
});
const wanting: Fields = {
  study: "wanting",
  statistic: "means at both times",
  preMean: 80,
  postMean: 100,
  nEnd: 16,
};
const three = [lender(0.1, 10), lender(0.2, 20), lender(0.4, 10)];
const of = (rows: readonly OutcomeRow[], options: EffectsOptions = {}) => {
  const set = effectsFromRows(rows, { prePostCorrelation: 0.75, ...options });
  const at = (study: string) => set.effects.find((effect) => effect.study === study);
  const why = (line: number) => set.rowUses.find((use) => use.line === line)!.reason;
  return { ...set, at, why };
};
const lent = (rows: readonly OutcomeRow[], options: EffectsOptions = {}) =>
  of(rows, options).at("wanting")?.borrowed?.[0];

// CV² = (10·0.01 + 20·0.04 + 10·0.16)/40 = 2.5/40 = 0.0625.
test("hand arithmetic: the average squared coefficient, its widening, and the variance it gives", () => {
  const { at } = of(rowsOf(...three, wanting));
  const effect = at("wanting")!;
  const [spread] = effect.borrowed!;
  expect(spread).toMatchObject({ line: 5, studies: 3, of: "strength outcomes" });
  expectRelative(spread!.coefficient, 0.25, 1e-12);
  // Shares of the people ¼, ½, ¼; (−0.0525/4)² + (−0.0225/2)² + (0.0975/4)² times 3/2 is the variance of the average;
  // 2·0.0625²/0.00134 = 5.83 is over 2·(3 − 1) = 4 degrees of freedom, whose t(0.975) tables give as 2.7764451.
  expectRelative(spread!.widened, (2.7764451 / 1.959964) ** 2, 1e-6);
  // a = 0.0625/16; 2a(1 − 0.75) + a²(1 − 0.75²) for the paired variance of two equal coefficients.
  const a = 0.0625 / 16;
  expectRelative(
    effect.variance,
    spread!.widened * (2 * a * 0.25 + a ** 2 * (1 - 0.75 ** 2)),
    1e-10,
  );
  expectRelative(effect.estimate, Math.log(1.25), 1e-12);
  expect(effect.route).toContain("coefficient of variation 0.25 borrowed from 3 studies");
  expect(effect.notes.map(({ code }) => code)).toContain("spread-borrowed");
  // A mean percent change of 25% has the same log ratio and the same variance.
  const percent = of(
    rowsOf(...three, {
      study: "wanting",
      statistic: "percent change with spread",
      changePercentMean: 25,
      nEnd: 16,
    }),
  ).at("wanting")!;
  expectRelative(percent.variance, effect.variance, 1e-12);
  expectRelative(percent.estimate, effect.estimate, 1e-12);
});

test("the 10th and 90th percentile by hand, and the variances they give", () => {
  const spread = lent(rowsOf(...three, wanting))!;
  // log 0.1, 0.2 and 0.4 lie log 2 apart: middle log 0.2, deviation log 2; t(0.9) of two degrees of freedom is 1.8856181.
  const reach = 1.8856181 * Math.log(2) * Math.sqrt(4 / 3);
  expectRelative(spread.low, 0.2 * Math.exp(-reach), 1e-6);
  expectRelative(spread.high, 0.2 * Math.exp(reach), 1e-6);
  const high = of(rowsOf(...three, wanting), { borrowedSpread: "90th percentile" }).at("wanting")!;
  const a = spread.high ** 2 / 16;
  expectRelative(high.variance, 2 * a * 0.25 + a ** 2 * (1 - 0.75 ** 2), 1e-6);
});

describe("who lends", () => {
  test("a study with many rows has one voice, and those who share a cohort are one study", () => {
    const many = Array.from({ length: 7 }, () => lender(0.4, 10, { study: "C" }));
    expectRelative(lent(rowsOf(...three, ...many, wanting))!.coefficient, 0.25, 1e-12);
    const cohort = rowsOf(
      ...three.map((one, place) => (place > 0 ? { ...one, cohort: "shared" } : one)),
      wanting,
    );
    expect(lent(cohort)).toBeUndefined();
    expect(of(cohort).why(5)).toContain("only 2 of the file's studies of strength outcomes");
  });

  test("the spread of the changes lends what its correlation implies", () => {
    // Changes spread by 30% of the geometric mean of 100 and 144: CV² = 0.09/(2·0.25) = 0.18.
    const change = {
      statistic: "change with spread",
      preMean: 100,
      postMean: 144,
      changeMean: 44,
      changeSpread: 36,
      nEnd: 10,
    } as const;
    const percent = {
      statistic: "percent change with spread",
      changePercentMean: 20,
      changePercentSpread: 36,
      nEnd: 10,
    } as const;
    const spread = lent(rowsOf(change, change, percent, wanting))!;
    expectRelative(spread.coefficient ** 2, 0.18, 1e-12);
    // Lent to a row of the same correlation it is the lender's own spread of changes again: 0.09/16 to first order.
    const effect = of(rowsOf(change, change, percent, wanting), {
      logRatioOrder: "first-order",
    }).at("wanting")!;
    expectRelative(effect.variance / spread.widened, 0.09 / 16, 1e-9);
  });

  test("the same muscle from five studies on, else the family", () => {
    const knee = { muscleGroup: "knee extensors" } as const;
    const extensors = [0.1, 0.1, 0.1, 0.1].map((variation) => lender(variation, 10, knee));
    const others = [lender(0.3, 20, { muscleGroup: "elbow flexors" })];
    const asked = { ...wanting, ...knee };
    const four = lent(rowsOf(...extensors, ...others, asked))!;
    expect([four.studies, four.of]).toEqual([5, "strength outcomes"]);
    const five = lent(rowsOf(...extensors, lender(0.1, 10, knee), ...others, asked))!;
    expect([five.studies, five.of]).toEqual([5, "strength outcomes of the knee extensors"]);
    expectRelative(five.coefficient, 0.1, 1e-9);
  });

  test("never across families, in mixed ones, for an effect computed elsewhere, or when asked not to", () => {
    const size = of(rowsOf(...three, { ...wanting, outcomeFamily: "size" }));
    expect(size.at("wanting")).toBeUndefined();
    expect(size.why(5)).toContain("only 0 of the file's studies of size outcomes");
    const other = rowsOf(...three.map((one) => ({ ...one, outcomeFamily: "other" as const })), {
      ...wanting,
      outcomeFamily: "other",
    });
    expect(of(other).why(5)).toContain("outcomes of the family other are unlike each other");
    const elsewhere = rowsOf(...three, {
      ...wanting,
      statistic: "effect computed elsewhere",
      effect: 0.2,
      effectScale: "log ratio of means",
    });
    expect(of(elsewhere).at("wanting")).toBeUndefined();
    const none = of(rowsOf(...three, wanting), { borrowedSpread: "none" });
    expect(none.at("wanting")).toBeUndefined();
    expect(none.why(5)).toContain("none is borrowed, as asked for");
  });

  test("standardised changes and the outcome's own unit borrow none, and say why", () => {
    const rows = rowsOf(...three, wanting);
    const standardised = of(rows, { scale: "standardised-mean-change-change-deviation" });
    expect(standardised.at("wanting")).toBeUndefined();
    expect(standardised.why(5)).toMatch(/divides by the very spread that is missing$/);
    expect(of(rows, { scale: "raw-mean-difference" }).why(5)).toMatch(
      /only ratios of means borrow one$/,
    );
  });
});

describe("a printed bound of p", () => {
  // log(100/80) = 0.2231436; t(0.975; 15) is 2.1314495 in tables.
  const limit = 0.2231436 / 2.1314495;
  const errorWith = (pBound: OutcomeRow["pBound"], more: Fields = {}) => {
    const bound = pBound === undefined ? {} : { pBound };
    const { at } = of(rowsOf(...three, { ...wanting, ...more, ...bound }));
    return { error: Math.sqrt(at("wanting")!.variance), ...at("wanting")!.borrowed![0]! };
  };

  test("moves the standard error to what it allows, and no further", () => {
    const free = errorWith(undefined).error;
    expect(free).toBeLessThan(limit);
    expect(errorWith({ side: "below", p: 0.05 })).toMatchObject({ error: free });
    expect(errorWith({ side: "below", p: 0.05 }).movedTo).toBeUndefined();
    const above = errorWith({ side: "above", p: 0.05 });
    expectRelative(above.error, limit, 1e-6);
    expect(above.movedTo).toBe("p > 0.05");
    // t(0.9995; 15) is 4.0727652 in tables.
    const sure = errorWith({ side: "below", p: 0.001 });
    expectRelative(sure.error, 0.2231436 / 4.0727652, 1e-6);
    expect(sure.movedTo).toBe("p < 0.001");
  });

  test("says nothing of no change at all", () => {
    const still = { postMean: 80 };
    const free = errorWith(undefined, still).error;
    expect(errorWith({ side: "below", p: 0.05 }, still).error).toBe(free);
    expect(errorWith({ side: "above", p: 0.05 }, still).error).toBe(free);
  });
});

test("two arms that both borrow: their variances add, and a shared control is the covariance of its two effects", () => {
  const arm = (name: string, postMean: number, more: Fields = {}): Fields => ({
    ...wanting,
    arm: name,
    postMean,
    ...more,
  });
  const control = { armKind: "no exercise" } as const;
  const rows = rowsOf(
    ...three,
    arm("first", 100),
    arm("second", 96),
    arm("control", 82, { ...control, nEnd: 10 }),
  );
  const { effects, blocks } = of(rows, { contrast: "against-control" });
  expect(effects.map(({ arm: name, borrowed }) => [name, borrowed!.length])).toEqual([
    ["first", 2],
    ["second", 2],
  ]);
  const within = of(rows, { armKinds: ["isometric", "no exercise"] }).effects;
  const own = (name: string) => within.find((one) => one.arm === name)!.variance;
  expectRelative(effects[0]!.variance, own("first") + own("control"), 1e-10);
  expectRelative(blocks[0]!.values[1]!, own("control"), 1e-10);
});

test("seeded simulation: the interval of a row that borrows holds the truth in 93 to 99%", () => {
  const files = 3000;
  const [correlation, people] = [0.8, 8];
  const coverage = (studies: number, apart: number): number => {
    const stream = randomStream(studies);
    let held = 0;
    for (let file = 0; file < files; file++) {
      const variationOf = (): number => 0.2 * Math.exp(apart * stream.normal());
      const lenders = Array.from({ length: studies }, () => {
        const variation = variationOf();
        const values = Array.from({ length: 12 }, () => 100 * (1 + variation * stream.normal()));
        const mean = values.reduce((sum, one) => sum + one, 0) / 12;
        const square = values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 11;
        return lender(Math.sqrt(square) / mean, 12);
      });
      const variation = variationOf();
      const error = variation * Math.sqrt((2 * (1 - correlation)) / people) * stream.normal();
      const asked = {
        ...wanting,
        preMean: 100,
        postMean: 100 * Math.exp(0.2 + error),
        nEnd: people,
      };
      const { at } = of(rowsOf(...lenders, asked), { prePostCorrelation: correlation });
      const { estimate, variance } = at("wanting")!;
      if (Math.abs(estimate - 0.2) < 1.959964 * Math.sqrt(variance)) held++;
    }
    return held / files;
  };
  // Monte Carlo error 0.004; log CV differing by 0.4 between studies.
  for (const studies of [3, 10]) {
    const share = coverage(studies, 0.4);
    expect(share).toBeGreaterThan(0.93);
    expect(share).toBeLessThan(0.99);
  }
});
