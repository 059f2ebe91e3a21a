/** What is said of rows that give less than they seem to: invented numbers, answers by hand. */
import { describe, expect, test } from "vitest";
import { armName } from "../../src/effects/effect-name.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { EffectsOptions } from "../../src/effects/effects-options.js";
import { positiveDefiniteCorrelations } from "../../src/effects/positive-definite-correlations.js";
import { readDifference } from "../../src/effects/read-difference.js";
import { correctedStandardisedDifference } from "../../src/effects/standardised-mean-difference.js";
import { spreadKindTold } from "../../src/effects/spread-kind-told.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { bothTimes, rowOf } from "./outcome-row.js";

const two = { first: 9, second: 16, same: false };
const difference = (fields: Partial<OutcomeRow>, people = two) =>
  readDifference(rowOf({ line: 2, statisticOf: "difference from comparator", ...fields }), people);
const notesOf = (rows: readonly OutcomeRow[], options: EffectsOptions = {}) =>
  Object.fromEntries(
    effectsFromRows(rows, options).notes.map(({ code, message }) => [code, message]),
  );

describe("a difference from a comparator", () => {
  test("one outside its own interval is refused with all three numbers", () => {
    expect(difference({ changeMean: 9, intervalLow: 1, intervalHigh: 5 })).toEqual({
      refused: "the difference (9) lies outside its interval (1 to 5)",
    });
    expect(difference({ changeMean: 5, intervalLow: 1, intervalHigh: 5 })).toMatchObject({
      difference: 5,
    });
    expect(difference({ changeMean: 1, intervalLow: 1, intervalHigh: 5 })).toMatchObject({
      difference: 1,
    });
  });
  test("limits that are equal or the wrong way round are no interval", () => {
    for (const intervalHigh of [1, 0])
      expect(difference({ changeMean: 1, intervalLow: 1, intervalHigh })).toEqual({
        refused: "the difference from the comparator is printed without a usable spread",
      });
  });
  test("a spread of 0 is no spread", () => {
    expect(difference({ changeMean: 4, changeSpread: 0 })).toEqual({
      refused: "the difference from the comparator is printed without a usable spread",
    });
  });
  test("a p value of 0 says nothing", () => {
    expect(difference({ changeMean: 4, pValue: 0 })).toHaveProperty("refused");
  });
  test("the sign of a test is that of the direction coded; without one it is not known", () => {
    expect(difference({ fValue: 9, direction: "decrease" })).toMatchObject({ t: -3 });
    expect(difference({ fValue: 9, direction: "increase" })).toMatchObject({ t: 3 });
    expect(difference({ fValue: 9 })).toEqual({
      refused: "the direction of the difference is not coded",
    });
    expect(difference({ tValue: -2.5 })).toMatchObject({ t: -2.5, words: "its t value" });
  });
  test("a difference with a test has the error by which it is that test", () => {
    expect(difference({ changeMean: -6, tValue: 3 })).toMatchObject({
      difference: -6,
      standardError: 2,
      t: -3,
    });
  });
  test("a deviation is divided by the people of both groups, and by pairs where they are the same", () => {
    expect(difference({ changeMean: 5, changeSpread: 12 })).toMatchObject({ standardError: 5 });
    expect(
      difference({ changeMean: 5, changeSpread: 12 }, { first: 9, second: 16, same: true }),
    ).toMatchObject({ standardError: 4 });
  });
  test("it is not read as the change of an arm", () => {
    const row = rowOf({
      line: 2,
      ...bothTimes([100, 20], [112, 22], 16),
      statisticOf: "difference from comparator",
    });
    const { effects, rowUses } = effectsFromRows([row]);
    expect(effects).toEqual([]);
    expect(JSON.stringify(rowUses)).toContain("difference");
  });
});

describe("what a set of effects says of itself", () => {
  const score = rowOf({
    line: 2,
    outcome: "pain at rest",
    outcomeFamily: "symptoms",
    unit: "points 0–10",
    higherIs: "worse",
    ...bothTimes([5, 1], [4, 1.2], 12),
  });
  const other = rowOf({
    line: 3,
    study: "Invented 2",
    outcome: "knee score",
    outcomeFamily: "symptoms",
    unit: "points 0–100",
    higherIs: "better",
    ...bothTimes([50, 10], [60, 11], 14),
  });
  test("scores in one unit stand in points, in two in standard deviations", () => {
    expect(notesOf([score])["scores-in-points"]).toContain("pain at rest: a score");
    expect(notesOf([score])["scores-in-points"]).toContain("stand in its own points");
    expect(notesOf([score, other])["scores-in-points"]).toContain(
      "stand in standard deviations, as its units differ",
    );
    expect(
      notesOf([rowOf({ line: 2, ...bothTimes([100, 20], [112, 22], 16) })]),
    ).not.toHaveProperty("scores-in-points");
  });
  test("a direction that is not coded is named with what was taken", () => {
    const { higherIs: _left, ...unsaid } = score;
    expect(notesOf([unsaid])["direction-assumed"]).toContain("pain at rest (higher is worse)");
    expect(notesOf([score])).not.toHaveProperty("direction-assumed");
  });
});

test.each([
  [{ studiesNeededToBorrow: 0 }, "studiesNeededToBorrow of 1 or more", "0"],
  [{ studiesNeededToBorrowApart: 0 }, "studiesNeededToBorrowApart of 1 or more", "0"],
  [{ fewPeople: -1 }, "fewPeople of 0 or more", "-1"],
  [{ baselineGapNoted: -0.5 }, "baselineGapNoted of 0 or more", "-0.5"],
])("an option below its least is refused: %o", (options, needs, got) => {
  expect(() => effectsFromRows([], options)).toThrow(needs);
  expect(() => effectsFromRows([], options)).toThrow(got);
});

test("two arms compared are named with both, one alone by itself", () => {
  expect(armName({ arm: "long", comparatorArm: "short" })).toBe("long against short");
  expect(armName({ arm: "long" })).toBe("long");
});

test.each(["against-control", "against-other-limb"] as const)(
  "%s: an untrained arm alone is told whom it lacks",
  (contrast) => {
    const { rowUses } = effectsFromRows(
      [rowOf({ line: 2, arm: "rest", armKind: "no exercise", ...bothTimes([9, 2], [9, 2], 9) })],
      { contrast },
    );
    expect(JSON.stringify(rowUses)).toContain(
      "no usable row of a training arm in the study has this",
    );
  },
);

test("an impossible block of correlations is drawn towards 0 by one share, its diagonal kept", () => {
  const r = [1, 0.9, -0.8, 0.9, 1, 0.9, -0.8, 0.9, 1];
  const { values, kept } = positiveDefiniteCorrelations(r, 3);
  expect(kept).toBe(0.5);
  expect(values).toEqual([1, 0.45, -0.4, 0.45, 1, 0.45, -0.4, 0.45, 1]);
  expect(positiveDefiniteCorrelations([1, 0.5, 0.5, 1], 2)).toEqual({
    values: [1, 0.5, 0.5, 1],
    kept: 1,
  });
});

test("a standardised difference names the fewest people it takes", () => {
  const of = (treated: number, control: number, varianceForm?: "exact-moment") => () =>
    correctedStandardisedDifference(
      { uncorrected: 0.5, treated, control },
      varianceForm === undefined ? {} : { varianceForm },
    );
  expect(of(2, 1)).toThrow("at least 4 participants in the two groups together");
  expect(of(2, 2, "exact-moment")).toThrow("at least 5 participants in the two groups together");
  expect(of(3, 2, "exact-moment")).not.toThrow();
});

test("spreads fit a kind where the correlation they imply is possible", () => {
  const told = spreadKindTold(
    rowOf({ line: 2, ...bothTimes([100, 20], [112, 22], 16), tValue: 5 }),
  );
  // s_c = 12·4/5 = 9.6: r is (884 − 92.16)/880 as deviations, and (16·884 − 92.16)/14,080 = 0.998 as errors.
  expect(told).toMatchObject({ kind: "standard deviation", isBound: false });
  expect(told?.correlation.asDeviation).toBeCloseTo(0.89982, 5);
  expect(told?.correlation.asError).toBeCloseTo(0.998, 3);
});
