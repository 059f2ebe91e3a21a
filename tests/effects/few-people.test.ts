import { describe, expect, test } from "vitest";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { EffectsOptions } from "../../src/effects/effects-options.js";
import { fewPeopleFactor } from "../../src/effects/few-people.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { expectRelative } from "./agreement.js";
import { bothTimes, rowOf } from "./outcome-row.js";

const rule = { fewPeople: 6 };

// Closed form for two degrees of freedom: t(p) = (2p − 1)·√(2/(4p(1 − p))).
test("hand arithmetic: three people's normal interval becomes Student's with two degrees of freedom", () => {
  const quantile = 0.95 * Math.sqrt(2 / (4 * 0.975 * 0.025));
  expectRelative(fewPeopleFactor(3, 2, rule), (quantile / 1.959963985) ** 2, 1e-8);
  expect(fewPeopleFactor(6, 5, rule)).toBe(1);
  expect(fewPeopleFactor(3, 2, { fewPeople: 2 })).toBe(1);
});

describe("seeded simulation: how often a single effect's 95% interval holds the truth", () => {
  const studies = 4000;
  const [before, after, variation, correlation] = [100, 120, 0.2, 0.9];
  const mean = (values: readonly number[]) =>
    values.reduce((sum, one) => sum + one) / values.length;
  const deviation = (values: readonly number[]) => {
    const middle = mean(values);
    const squares = values.reduce((sum, one) => sum + (one - middle) ** 2, 0);
    return Math.sqrt(squares / (values.length - 1));
  };

  /** Invented studies of n people, as each would print them. */
  const printed = (n: number, print: "both times" | "change"): readonly OutcomeRow[] => {
    const stream = randomStream(n);
    return Array.from({ length: studies }, (_, i) => {
      const people = Array.from({ length: n }, () => {
        const level = stream.normal();
        const other = correlation * level + Math.sqrt(1 - correlation ** 2) * stream.normal();
        return [before * (1 + variation * level), after * (1 + variation * other)] as const;
      });
      const [first, second] = [people.map(([x]) => x), people.map(([, y]) => y)];
      const changes = people.map(([x, y]) => y - x);
      return rowOf({
        line: i + 2,
        study: `S${i}`,
        ...(print === "both times"
          ? bothTimes([mean(first), deviation(first)], [mean(second), deviation(second)], n)
          : {
              statistic: "change with spread",
              changeMean: mean(changes),
              changeSpread: deviation(changes),
              nEnd: n,
            }),
      });
    });
  };
  const coverage = (rows: readonly OutcomeRow[], truth: number, options: EffectsOptions) => {
    const { effects } = effectsFromRows(rows, { prePostCorrelation: correlation, ...options });
    expect(effects.length).toBe(studies);
    const held = effects.filter(
      ({ estimate, variance }) => Math.abs(estimate - truth) < 1.959964 * Math.sqrt(variance),
    );
    return held.length / studies;
  };
  const asPrinted = { fewPeople: 0 };

  // What a normal interval holds when the truth is Student's with 2, 3, 4 degrees of freedom, from R: 1 − 2·pt(−1.959964, m).
  test.each([
    [3, 0.811],
    [4, 0.8551],
    [5, 0.8784],
  ])("%i people, mean change with a printed spread: from %f to 0.95", (n, plain) => {
    const rows = printed(n, "change");
    const scale = { scale: "raw-mean-difference" } as const;
    // Four standard errors of a share of 4000.
    const allowed = 4 * Math.sqrt((plain * (1 - plain)) / studies);
    const narrow = coverage(rows, after - before, { ...scale, ...asPrinted });
    expect(Math.abs(narrow - plain)).toBeLessThan(allowed);
    const wide = coverage(rows, after - before, scale);
    expect(Math.abs(wide - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / studies));
  });

  // Shares from 400,000 draws by another program (numpy), same formula: second order, r known.
  test.each([
    [3, 0.8995, 0.9866],
    [4, 0.9143, 0.9794],
    [5, 0.9228, 0.9754],
  ])("%i people, log ratio from both deviations: from %f to %f", (n, plain, widened) => {
    const rows = printed(n, "both times");
    const truth = Math.log(after / before);
    const allowed = (share: number) => 4 * Math.sqrt((share * (1 - share)) / studies);
    expect(Math.abs(coverage(rows, truth, asPrinted) - plain)).toBeLessThan(allowed(plain));
    expect(Math.abs(coverage(rows, truth, {}) - widened)).toBeLessThan(allowed(widened));
  });
});

describe("an effect of few people", () => {
  const few = rowOf({ line: 2, ...bothTimes([150, 30], [180, 34], 4) });
  const many = rowOf({
    line: 3,
    arm: "control",
    armKind: "no exercise",
    ...bothTimes([148, 28], [151, 29], 20),
  });
  const only = (rows: readonly OutcomeRow[], options: EffectsOptions) => {
    const [effect] = effectsFromRows(rows, options).effects;
    expect(effect).toBeDefined();
    return effect!;
  };
  // t(0.975; 3) = 3.182446, from R: qt(0.975, 3).
  const factor = (3.182446305 / 1.959963985) ** 2;

  test.each(["log-ratio-of-means", "raw-mean-difference"] as const)("%s: is widened", (scale) => {
    const plain = only([few], { scale, fewPeople: 2 });
    const wide = only([few], { scale });
    expect(wide.estimate).toBe(plain.estimate);
    expectRelative(wide.variance, factor * plain.variance, 1e-8);
    expect(plain.notes).toEqual([]);
    expect(wide.notes.map(({ message }) => message)).toEqual([
      "line 2: 4 people hardly tell their own spread, so the variance is made 2.6 times as large",
    ]);
  });

  test("against a control of many only the small arm's part is widened", () => {
    const options = { contrast: "against-control" } as const;
    const plain = only([few, many], { ...options, fewPeople: 2 });
    const wide = only([few, many], options);
    const own = only([few], { fewPeople: 2 }).variance;
    expectRelative(wide.variance, plain.variance + (factor - 1) * own, 1e-8);
    expect(wide.notes.map(({ code }) => code)).toEqual(["few-people"]);
  });

  test("standardised scales and scales of spread allow for it by themselves", () => {
    for (const scale of [
      "standardised-mean-change-baseline-deviation",
      "log-variability-ratio",
    ] as const) {
      expect(only([few], { scale })).toEqual(only([few], { scale, fewPeople: 2 }));
    }
  });

  test("a printed difference is widened by its own degrees of freedom", () => {
    const row = rowOf({
      line: 2,
      statisticOf: "difference from comparator",
      statistic: "t value",
      changeMean: 9,
      tValue: 3,
      nEnd: 4,
    });
    const options = { contrast: "against-control", scale: "raw-mean-difference" } as const;
    const { variance, notes } = only([row, many], options);
    // t(0.975; 22) = 2.073873, from R: qt(0.975, 4 + 20 − 2).
    expectRelative(variance, 9 * (2.073873068 / 1.959963985) ** 2, 1e-8);
    expect(notes.map(({ code }) => code)).toEqual(["few-people"]);
  });
});
