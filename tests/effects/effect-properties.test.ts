import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { Contrast, EffectScale } from "../../src/effects/effect.js";
import { contrasts, effectScales } from "../../src/effects/effect.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { rowOf } from "./outcome-row.js";

const number = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
const maybe = <Value>(arbitrary: fc.Arbitrary<Value>) => fc.option(arbitrary, { nil: undefined });

/** One arm's numbers, well behaved. */
const numbers = fc.record({
  preMean: number(50, 200),
  preSpread: number(5, 30),
  postMean: number(50, 250),
  postSpread: number(5, 30),
  nEnd: fc.integer({ min: 5, max: 60 }),
  prePostCorrelation: number(0.2, 0.95),
});
type Numbers = Readonly<Record<"preMean" | "preSpread" | "postMean" | "postSpread", number>> &
  Readonly<{ nEnd: number; prePostCorrelation: number }>;

const pairOf = (first: Numbers, second: Numbers, more: Partial<OutcomeRow> = {}): OutcomeRow[] => [
  rowOf({ line: 2, statistic: "means at both times", ...first, ...more }),
  rowOf({ line: 3, arm: "control", armKind: "no exercise", ...second, ...more }),
];

const close = (actual: number, expected: number): void =>
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(1e-8 * Math.max(1, Math.abs(expected)));

const runs = { seed: 20240612, numRuns: 100 };
const unitFree = effectScales.filter((scale) => scale !== "raw-mean-difference");

describe("property", () => {
  test.each(unitFree)("%s: the unit of the outcome does not matter", (scale) => {
    fc.assert(
      fc.property(numbers, numbers, number(0.01, 100), (first, second, factor) => {
        const inUnit = (one: Numbers): Numbers => ({
          ...one,
          preMean: one.preMean * factor,
          preSpread: one.preSpread * factor,
          postMean: one.postMean * factor,
          postSpread: one.postSpread * factor,
        });
        for (const contrast of ["change-within-arm", "against-control"] as const) {
          const plain = effectsFromRows(pairOf(first, second), { scale, contrast }).effects;
          const turned = effectsFromRows(pairOf(inUnit(first), inUnit(second)), {
            scale,
            contrast,
          });
          expect(turned.effects).toHaveLength(1);
          close(turned.effects[0]!.estimate, plain[0]!.estimate);
          close(turned.effects[0]!.variance, plain[0]!.variance);
        }
      }),
      runs,
    );
  });

  test.each(effectScales)("%s: turning what is better turns the sign and nothing else", (scale) => {
    const spread = scale.includes("variability") || scale.includes("variation");
    fc.assert(
      fc.property(
        numbers,
        numbers,
        fc.constantFrom<Contrast>("change-within-arm", "against-control"),
        (first, second, contrast) => {
          const effect = (higherIs: "better" | "worse") =>
            effectsFromRows(pairOf(first, second, { higherIs }), { scale, contrast }).effects[0]!;
          const [better, worse] = [effect("better"), effect("worse")];
          expect(worse.estimate).toBe(spread ? better.estimate : -better.estimate + 0);
          expect(worse.variance).toBe(better.variance);
        },
      ),
      runs,
    );
  });

  test.each(effectScales)("%s: swapping the arms changes the sign only", (scale) => {
    fc.assert(
      fc.property(numbers, numbers, (first, second) => {
        const effect = (a: Numbers, b: Numbers) =>
          effectsFromRows(pairOf(a, b), { scale, contrast: "against-control" }).effects[0]!;
        const [one, other] = [effect(first, second), effect(second, first)];
        close(other.estimate, -one.estimate);
        close(other.variance, one.variance);
      }),
      runs,
    );
  });

  test("a larger mean after training never lowers the effect", () => {
    fc.assert(
      fc.property(
        numbers,
        number(0.1, 50),
        fc.constantFrom<EffectScale>("log-ratio-of-means", "raw-mean-difference"),
        (one, more, scale) => {
          const effect = (postMean: number) =>
            effectsFromRows(pairOf({ ...one, postMean }, one), {
              scale,
              logRatioOrder: "first-order",
            }).effects[0]!.estimate;
          expect(effect(one.postMean + more)).toBeGreaterThan(effect(one.postMean));
        },
      ),
      runs,
    );
  });
});

/** Anything a row's numbers may hold, sensible or not. */
const anyNumber = fc.oneof(number(-50, 300), fc.constantFrom(0, 1, -1, 1e-9, 1e9, 0.05));
const spreadNumber = fc.oneof(number(0, 60), fc.constantFrom(0, 1e-9, 1e6));
const wildRow = fc.record(
  {
    study: fc.constantFrom("A", "B", "C"),
    arm: fc.constantFrom("one", "two", "control"),
    armKind: fc.constantFrom("isometric", "dynamic", "no exercise"),
    comparatorOf: fc.constantFrom("one", "one / two"),
    design: fc.constantFrom(
      "randomised groups",
      "within-person limbs",
      "crossover",
      "single group",
    ),
    outcome: fc.constantFrom("torque", "volume"),
    outcomeFamily: fc.constantFrom("strength", "size", "symptoms"),
    higherIs: fc.constantFrom("better", "worse"),
    testAngleDegrees: fc.constantFrom(30, 60),
    weekMeasured: fc.constantFrom(0, 4, 8),
    testSide: fc.constantFrom("trained", "untrained"),
    nStart: fc.integer({ min: 1, max: 30 }),
    nEnd: fc.integer({ min: 1, max: 30 }),
    statistic: fc.constantFrom(
      "means at both times",
      "change with spread",
      "percent change with spread",
      "change with interval",
      "t value",
      "F value",
      "p value",
      "medians with quartiles",
      "medians with range",
      "effect computed elsewhere",
    ),
    statisticOf: fc.constantFrom("change within arm", "difference from comparator"),
    preMean: anyNumber,
    preSpread: spreadNumber,
    postMean: anyNumber,
    postSpread: spreadNumber,
    changeMean: anyNumber,
    changeSpread: spreadNumber,
    spreadKind: fc.constantFrom("standard deviation", "standard error", "95% interval half-width"),
    changePercentMean: number(-100, 300),
    changePercentSpread: spreadNumber,
    intervalLow: anyNumber,
    intervalHigh: anyNumber,
    intervalPercent: fc.constantFrom(90, 95, 99),
    tValue: anyNumber,
    fValue: number(0, 500),
    pValue: number(0, 1),
    direction: fc.constantFrom("increase", "decrease"),
    preMedian: anyNumber,
    preQuartileLow: anyNumber,
    preQuartileHigh: anyNumber,
    postMedian: anyNumber,
    postMinimum: anyNumber,
    postMaximum: anyNumber,
    prePostCorrelation: number(-1, 1),
    effect: anyNumber,
    effectScale: fc.constantFrom(...effectScales, "effect size"),
    effectStandardError: number(0, 5),
  },
  { requiredKeys: ["study", "arm", "outcome"] },
);

const wildRows = fc
  .array(wildRow, { maxLength: 12 })
  .map((rows) => rows.map((fields, index) => ({ ...fields, line: index + 2, notReported: [] })));

describe("property, on rows of any nonsense", () => {
  test("no error, no NaN, every row exactly one use, every id unique, every route told", () => {
    fc.assert(
      fc.property(
        wildRows,
        fc.constantFrom(...effectScales),
        fc.constantFrom(...contrasts),
        maybe(number(-0.9, 0.99)),
        (rows, scale, contrast, prePostCorrelation) => {
          const set = effectsFromRows(rows, { scale, contrast, prePostCorrelation });
          expect(set.rowUses.map(({ line }) => line)).toEqual(rows.map(({ line }) => line));
          const used = set.rowUses.filter(({ use }) => use === "effect").length;
          expect(used).toBe(new Set(set.effects.map(({ row }) => row.line)).size);
          expect(new Set(set.effects.map(({ effectId }) => effectId)).size).toBe(
            set.effects.length,
          );
          for (const effect of set.effects) {
            expect(Number.isFinite(effect.estimate)).toBe(true);
            expect(effect.variance).toBeGreaterThan(0);
            expect(Number.isFinite(effect.variance)).toBe(true);
            expect(effect.participants).toBeGreaterThanOrEqual(2);
            expect(effect.route).not.toBe("");
          }
          for (const { values } of set.blocks) expect(values.every(Number.isFinite)).toBe(true);
          for (const { reason } of set.rowUses) expect(reason).not.toBe("");
          for (const { value } of set.assumptions) expect(Number.isFinite(value)).toBe(true);
        },
      ),
      { seed: 20240613, numRuns: 600 },
    );
  });

  test("the order of the rows changes nothing but the order of the effects", () => {
    fc.assert(
      fc.property(
        wildRows.chain((rows) =>
          fc.tuple(
            fc.constant(rows),
            fc.shuffledSubarray(rows, { minLength: rows.length, maxLength: rows.length }),
          ),
        ),
        fc.constantFrom(...effectScales),
        fc.constantFrom(...contrasts),
        ([rows, shuffled], scale, contrast) => {
          const one = effectsFromRows(rows, { scale, contrast });
          const other = effectsFromRows(shuffled, { scale, contrast });
          const byId = new Map(other.effects.map((effect) => [effect.effectId, effect]));
          expect(other.effects).toHaveLength(one.effects.length);
          for (const effect of one.effects) expect(byId.get(effect.effectId)).toEqual(effect);
          const uses = (set: typeof one) =>
            [...set.rowUses]
              .sort((a, b) => a.line - b.line)
              .map(({ use, reason }) => [use, reason]);
          expect(uses(other)).toEqual(uses(one));
        },
      ),
      { seed: 20240614, numRuns: 200 },
    );
  });
});
