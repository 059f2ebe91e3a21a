import { describe, expect, test } from "vitest";
import type { Contrast } from "../../src/effects/effect.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { effectsDefaults } from "../../src/effects/effects-options.js";
import { logRatioOfMeansPaired } from "../../src/effects/log-ratio-of-means.js";
import { changeDeviation, pooledDeviation } from "../../src/effects/arm-summary.js";
import { overDeviation } from "../../src/effects/over-deviation.js";
import { standardisedMeanDifference } from "../../src/effects/standardised-mean-difference.js";
import { CallError } from "../../src/errors.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { expectRelative } from "./agreement.js";
import { bothTimes, rowOf } from "./outcome-row.js";

const trained = rowOf({ line: 2, ...bothTimes([150, 30], [180, 34], 12), prePostCorrelation: 0.9 });
const control = rowOf({
  line: 3,
  arm: "control",
  armKind: "no exercise",
  ...bothTimes([148, 28], [151, 29], 11),
  prePostCorrelation: 0.85,
});
const paired = (row: OutcomeRow, correlation: number) => ({
  before: { mean: row.preMean ?? 0, deviation: row.preSpread ?? 0 },
  after: { mean: row.postMean ?? 0, deviation: row.postSpread ?? 0 },
  correlation,
  participants: row.nEnd ?? 0,
});

const only = (rows: readonly OutcomeRow[], options = {}) => {
  const set = effectsFromRows(rows, options);
  expect(set.effects).toHaveLength(1);
  return set.effects[0]!;
};

describe("contrasts", () => {
  test("change within arm: the trained arm alone, the control set aside with its reason", () => {
    const { effects, rowUses } = effectsFromRows([trained, control]);
    expect(effects).toHaveLength(1);
    const expected = logRatioOfMeansPaired(paired(trained, 0.9));
    expect(effects[0]?.estimate).toBe(expected.estimate);
    expect(effects[0]?.variance).toBe(expected.variance);
    expect(effects[0]?.participants).toBe(12);
    expect(rowUses.map(({ line, use }) => [line, use])).toEqual([
      [2, "effect"],
      [3, "set aside"],
    ]);
    expect(rowUses[1]?.reason).toMatch(/arm kind "no exercise" is not among/);
  });

  test("against control: log ratio, Morris 2008, and the means after training", () => {
    const against = { contrast: "against-control" } as const;
    const ratio = only([trained, control], against);
    const own = logRatioOfMeansPaired(paired(trained, 0.9));
    const other = logRatioOfMeansPaired(paired(control, 0.85));
    expectRelative(ratio.estimate, own.estimate - other.estimate, 1e-12);
    expectRelative(ratio.variance, own.variance + other.variance, 1e-12);
    expect(ratio.participants).toBe(23);
    expect(ratio.comparatorArm).toBe("control");

    const scale = "standardised-mean-change-baseline-deviation";
    const standardised = only([trained, control], { ...against, scale });
    const [first, second] = [paired(trained, 0.9), paired(control, 0.85)];
    const change = (arm: typeof first) => arm.after.mean - arm.before.mean;
    const error = (arm: typeof first) => changeDeviation(arm) ** 2 / arm.participants;
    const morris = overDeviation({
      difference: change(first) - change(second),
      variance: error(first) + error(second),
      deviation: pooledDeviation(
        { deviation: first.before.deviation, participants: 12 },
        { deviation: second.before.deviation, participants: 11 },
      ),
      degreesOfFreedom: 21,
    });
    expectRelative(standardised.estimate, morris.estimate, 1e-12);
    expectRelative(standardised.variance, morris.variance, 1e-12);
    expect(standardised.route).toMatch(/baseline deviation pooled over both arms \(Morris 2008\)/);

    const after = only([trained, control], { ...against, scale: "standardised-mean-difference" });
    const difference = standardisedMeanDifference(
      { mean: 180, deviation: 34, participants: 12 },
      { mean: 151, deviation: 29, participants: 11 },
    );
    expectRelative(after.estimate, difference.estimate, 1e-12);
    expectRelative(after.variance, difference.variance, 1e-12);
  });

  test("against control: matched by outcome, angle, site, side and week; the named comparator goes first", () => {
    const at = (row: OutcomeRow, line: number, testAngleDegrees: number) => ({
      ...row,
      line,
      testAngleDegrees,
    });
    const second = { ...control, arm: "another control", comparatorOf: "trained / other", line: 9 };
    const rows = [
      at(trained, 2, 60),
      at(control, 3, 60),
      at(trained, 4, 90),
      at(control, 5, 30),
      at(second, 6, 60),
    ];
    const { effects, rowUses } = effectsFromRows(rows, { contrast: "against-control" });
    expect(effects.map((each) => [each.row.line, each.comparatorRow?.line])).toEqual([[2, 6]]);
    expect(effects[0]?.notes.map(({ code }) => code)).toContain("several-comparators");
    expect(rowUses.map(({ use }) => use)).toEqual([
      "effect",
      "set aside",
      "set aside",
      "set aside",
      "comparator",
    ]);
    expect(rowUses[2]?.reason).toMatch(/no no-exercise arm/);
  });

  test("between arms: each isometric arm against one reference, the lighter prescription or another exercise", () => {
    const light = { ...trained, arm: "light", intensityPercent: 40, line: 2 };
    const heavy = { ...trained, arm: "heavy", intensityPercent: 90, postMean: 195, line: 3 };
    const dynamic = { ...trained, arm: "squats", armKind: "dynamic" as const, line: 4 };
    const pairs = (rows: readonly OutcomeRow[], armPairs: "against-one-reference" | "every-pair") =>
      effectsFromRows(rows, { contrast: "between-arms", armPairs }).effects.map((each) => [
        each.arm,
        each.comparatorArm,
      ]);
    expect(pairs([heavy, light], "against-one-reference")).toEqual([["heavy", "light"]]);
    expect(pairs([heavy, light, dynamic], "against-one-reference")).toEqual([
      ["heavy", "squats"],
      ["light", "squats"],
    ]);
    expect(pairs([heavy, light, dynamic], "every-pair")).toEqual([
      ["heavy", "light"],
      ["heavy", "squats"],
      ["light", "squats"],
    ]);
  });

  test("limbs of the same people: the variance allows for their correlation and people count once", () => {
    const limbs = { design: "within-person limbs" } as const;
    const rows = [
      { ...trained, ...limbs },
      { ...control, ...limbs, nEnd: 12, testSide: "untrained" as const },
    ];
    const at = (limbsCorrelation: number) =>
      only(rows, { contrast: "against-other-limb", limbsCorrelation });
    expect(at(0.5).participants).toBe(12);
    const [trainedVariance, controlVariance] = [
      logRatioOfMeansPaired(paired(trained, 0.9)).variance,
      logRatioOfMeansPaired({ ...paired(control, 0.85), participants: 12 }).variance,
    ];
    const shared = Math.sqrt(trainedVariance * controlVariance);
    expectRelative(at(0).variance, trainedVariance + controlVariance, 1e-12);
    expectRelative(at(0.5).variance, trainedVariance + controlVariance - shared, 1e-12);
  });
});

describe("people", () => {
  const limbs = (line: number, arm: string, more: Partial<OutcomeRow> = {}) => ({
    ...trained,
    line,
    arm,
    design: "within-person limbs" as const,
    ...more,
  });
  const control = { armKind: "no exercise", nEnd: 10, testSide: "untrained" } as const;

  test("where both limbs train, a control arm is other people: nobody has a third limb", () => {
    const rows = [limbs(2, "left"), limbs(3, "right"), limbs(4, "control", control)];
    const { effects, blocks } = effectsFromRows(rows, { contrast: "against-control" });
    expect(effects.map(({ participants }) => participants)).toEqual([22, 22]);
    expect(effects[0]?.route).toMatch(/variances added/);
    expect(effects[0]?.notes.map(({ code }) => code)).toContain("separate-control");
    // The legs share people and the control is shared: 0.5 of the legs' variance and all of the control's.
    const leg = logRatioOfMeansPaired(paired(trained, 0.9)).variance;
    const shared = logRatioOfMeansPaired({ ...paired(trained, 0.9), participants: 10 }).variance;
    expectRelative(blocks[0]?.values[1] ?? 0, 0.5 * leg + shared, 1e-12);
  });

  test("where one limb trains, the control arm is the other limb, whatever its side says", () => {
    const rows = [limbs(2, "left"), limbs(4, "control", { ...control, nEnd: 12 })];
    const { effects } = effectsFromRows(rows, { contrast: "against-other-limb" });
    expect(effects[0]?.participants).toBe(12);
    expect(effects[0]?.route).toMatch(/limbs of the same people, correlation 0.5/);
  });

  test("the other limb never stands among other people's controls, and each row says where it went", () => {
    const limbRows = [limbs(2, "left"), limbs(3, "right leg", { ...control, nEnd: 12 })];
    const groups = { study: "Invented 2", design: "randomised groups" } as const;
    const others = [
      limbs(4, "trained", groups),
      limbs(5, "control", { ...groups, ...control, testSide: "trained" }),
    ];
    const rows = [...limbRows, ...others];
    const apart = (contrast: Contrast) => {
      const { effects, rowUses, notes } = effectsFromRows(rows, { contrast });
      return {
        pairs: effects.map(({ row, comparatorRow }) => [row.line, comparatorRow?.line]),
        reasons: rowUses.filter(({ use }) => use === "set aside").map(({ reason }) => reason),
        codes: notes.map(({ code }) => code),
      };
    };
    const against = apart("against-control");
    expect(against.pairs).toEqual([[4, 5]]);
    expect(against.reasons[0]).toMatch(/belongs to the contrast against the person's other limb/);
    expect(against.reasons[1]).toMatch(/no usable row of a training arm/);
    expect(against.codes).toEqual([]);
    const limb = apart("against-other-limb");
    expect(limb.pairs).toEqual([[2, 3]]);
    expect(limb.reasons).toEqual([
      "no untrained limb of the same people was measured in the same outcome, angle, site, side and week",
      "no usable row of a training arm in the study has this limb beside it in the same outcome, angle, site, side and week",
    ]);
    expect(limb.codes).toEqual(["other-limb-gains"]);
  });

  test("an arm tested on both sides has its untrained side as the other limb", () => {
    const rows = [
      { ...trained, line: 2, testSide: "trained" as const },
      { ...trained, line: 3, testSide: "untrained" as const, postMean: 155, testAngleDegrees: 60 },
      { ...trained, line: 4, testSide: "untrained" as const, outcome: "another" },
    ];
    const { effects, rowUses } = effectsFromRows(rows, { contrast: "against-other-limb" });
    expect(effects.map(({ row, comparatorRow }) => [row.line, comparatorRow?.line])).toEqual([
      [2, 3],
    ]);
    expect(effects[0]?.participants).toBe(12);
    expect(rowUses.map(({ use }) => use)).toEqual(["effect", "comparator", "set aside"]);
  });

  test("the same people in two periods stay a comparison with no exercise", () => {
    const periods = { design: "crossover" } as const;
    const rows = [limbs(2, "a", periods), limbs(3, "b", { ...control, ...periods, nEnd: 12 })];
    const uncoded = rows.map(({ testSide: _, ...row }) => row);
    expect(effectsFromRows(uncoded, { contrast: "against-control" }).effects).toHaveLength(1);
    expect(effectsFromRows(uncoded, { contrast: "against-other-limb" }).effects).toEqual([]);
  });

  test("two arms that nothing coded ranks are compared by name, and the note says the sign means nothing", () => {
    const rows = [limbs(2, "right"), limbs(3, "left")];
    const { effects } = effectsFromRows(rows, { contrast: "between-arms" });
    expect(effects.map(({ arm, comparatorArm }) => [arm, comparatorArm])).toEqual([
      ["right", "left"],
    ]);
    expect(effects[0]?.notes.map(({ code }) => code)).toContain("reference-by-name");
    const ranked = [limbs(2, "right", { holdSeconds: 3 }), limbs(3, "left", { holdSeconds: 30 })];
    const [effect] = effectsFromRows(ranked, { contrast: "between-arms" }).effects;
    expect([effect?.arm, effect?.notes.map(({ code }) => code)]).toEqual(["left", []]);
  });
});

describe("direction", () => {
  test("positive means improvement: pain that falls is a positive effect, by family or by the row", () => {
    const pain = {
      ...rowOf({ line: 2, ...bothTimes([6, 1.5], [4, 1.4], 14) }),
      outcome: "pain 0–10",
      outcomeFamily: "symptoms" as const,
    };
    expect(only([pain]).estimate).toBeGreaterThan(0);
    expect(only([pain]).route).toMatch(/sign turned because lower is better/);
    expect(only([{ ...pain, higherIs: "better" }]).estimate).toBe(-only([pain]).estimate);
    expect(only([{ ...pain, higherIs: "better" }]).variance).toBe(only([pain]).variance);
  });

  test("scales of spread keep their sign and say they have no direction", () => {
    const set = effectsFromRows([{ ...trained, higherIs: "worse" }], {
      scale: "log-variability-ratio",
    });
    expectRelative(set.effects[0]?.estimate ?? 0, Math.log(34 / 30), 1e-12);
    expect(set.notes.map(({ code }) => code)).toContain("no-direction");
  });
});

describe("pre–post correlation", () => {
  const plain = rowOf({ line: 2, ...bothTimes([150, 30], [180, 34], 12) });
  const lender = (study: string, line: number, prePostCorrelation: number) =>
    rowOf({ line, study, ...bothTimes([100, 20], [110, 21], 23), prePostCorrelation });

  test("the user's goes before all, then the source's own", () => {
    const user = only([trained], { prePostCorrelation: 0.5 });
    expect([user.prePostCorrelation, user.correlationSource]).toEqual([0.5, "set by the user"]);
    const own = only([trained]);
    expect([own.prePostCorrelation, own.correlationSource]).toEqual([0.9, "stated in the source"]);
  });

  test("computed from three printed deviations, or from a paired t beside the means", () => {
    const changeDeviation = Math.sqrt(30 ** 2 + 34 ** 2 - 2 * 0.7 * 30 * 34);
    const printed = only([{ ...plain, changeSpread: changeDeviation }]);
    expect(printed.correlationSource).toBe("computed from printed deviations");
    expect(printed.prePostCorrelation).toBeCloseTo(0.7, 12);
    const tValue = 30 / (changeDeviation / Math.sqrt(12));
    const tested = only([{ ...plain, statistic: "t value", tValue }]);
    expect(tested.prePostCorrelation).toBeCloseTo(0.7, 12);
    expectRelative(tested.variance, printed.variance, 1e-12);
  });

  test("three deviations that cannot belong together are reported and not used", () => {
    const effect = only([{ ...plain, changeSpread: 0.5 }]);
    expect(effect.correlationSource).toBe("documented default");
    expect(effect.notes.map(({ code }) => code)).toContain("impossible-correlation");
  });

  test("borrowed on Fisher's z scale from at least two other studies of the family, never from its own", () => {
    const rows = [plain, lender("A", 3, 0.9), lender("B", 4, 0.7)];
    const borrowed = effectsFromRows(rows).effects[0]!;
    expect(borrowed.correlationSource).toBe("borrowed from like studies in the file");
    // Equal people, so the plain mean of the two z values.
    const expected = Math.tanh((Math.atanh(0.9) + Math.atanh(0.7)) / 2);
    expectRelative(borrowed.prePostCorrelation ?? 0, expected, 1e-12);

    const own = { ...lender("Invented 1", 5, 0.1), outcome: "another outcome" };
    expectRelative(
      effectsFromRows([...rows, own]).effects[0]?.prePostCorrelation ?? 0,
      expected,
      1e-12,
    );
    const otherFamily = { ...plain, outcomeFamily: "size" as const };
    expect(effectsFromRows([otherFamily, ...rows.slice(1)]).effects[0]?.correlationSource).toBe(
      "documented default",
    );
  });

  test("else the documented default, listed with the number of effects that rest on it", () => {
    const set = effectsFromRows([plain, lender("A", 3, 0.9)]);
    expect(set.effects[0]?.prePostCorrelation).toBe(effectsDefaults.defaultPrePostCorrelation);
    expect(set.assumptions).toEqual([
      expect.objectContaining({ name: "pre–post correlation", value: 0.8, effects: 1 }),
    ]);
    const own = effectsFromRows([plain], { defaultPrePostCorrelation: 0.6 });
    expect(own.assumptions[0]?.value).toBe(0.6);
  });

  test("symptoms have a default of their own, listed apart", () => {
    const symptoms = { ...plain, line: 9, outcome: "pain", outcomeFamily: "symptoms" as const };
    const set = effectsFromRows([plain, symptoms]);
    expect(set.effects.map(({ prePostCorrelation }) => prePostCorrelation)).toEqual([0.8, 0.5]);
    expect(set.assumptions.slice(0, 2)).toEqual([
      expect.objectContaining({ name: "pre–post correlation", value: 0.8, effects: 1 }),
      expect.objectContaining({
        name: "pre–post correlation of symptoms outcomes",
        value: 0.5,
        effects: 1,
      }),
    ]);
  });
});

describe("every row has a use", () => {
  test("uses stand in the order of the rows, one each", () => {
    const rows = [
      trained,
      control,
      { ...trained, line: 4, weekMeasured: 0 },
      { ...trained, line: 5, testSide: "untrained" as const },
      rowOf({ line: 6, ...bothTimes([-3, 1], [2, 1], 9) }),
      rowOf({ line: 7, statistic: "means at both times", preMean: 5, postMean: 6, nEnd: 9 }),
      rowOf({ line: 8, statistic: "means at both times", preMean: 5, postMean: 6 }),
    ];
    const { rowUses, effects } = effectsFromRows(rows);
    expect(rowUses.map(({ line }) => line)).toEqual([2, 3, 4, 5, 6, 7, 8]);
    expect(effects).toHaveLength(1);
    const reasons = Object.fromEntries(rowUses.map(({ line, reason }) => [line, reason]));
    expect(reasons[4]).toMatch(/week 0/);
    expect(reasons[5]).toMatch(/untrained side/);
    expect(reasons[6]).toMatch(/before training is -3: a ratio has no meaning/);
    expect(reasons[7]).toMatch(/no usable spread/);
    expect(reasons[8]).toMatch(/how many people/);
  });

  test("families asked for leave the others aside with that reason", () => {
    const { rowUses } = effectsFromRows([trained], { outcomeFamilies: ["size"] });
    expect(rowUses[0]?.reason).toMatch(/outcome family "strength" was not asked for/);
  });

  test("no rows give an empty set", () => {
    const set = effectsFromRows([]);
    expect([set.effects, set.blocks, set.rowUses, set.assumptions]).toEqual([[], [], [], []]);
  });
});

describe("ids", () => {
  test("are readable, unique, and take the line only where they must", () => {
    const { effects } = effectsFromRows([
      { ...trained, testAngleDegrees: 60 },
      { ...trained, line: 3 },
      { ...trained, line: 4 },
    ]);
    expect(effects.map(({ effectId }) => effectId)).toEqual([
      "Invented 1 · trained · peak isometric torque · 60°",
      "Invented 1 · trained · peak isometric torque · line 3",
      "Invented 1 · trained · peak isometric torque · line 4",
    ]);
  });
});

describe("refuses", () => {
  test("unknown scales and contrasts, and correlations out of range", () => {
    const call = (options: object) => () => effectsFromRows([trained], options);
    expect(call({ scale: "cohens-d" })).toThrow(CallError);
    expect(call({ contrast: "sideways" })).toThrow(/contrast out of .* got sideways/);
    expect(call({ prePostCorrelation: 1 })).toThrow(/above −1 and below 1, got 1/);
    expect(call({ outcomesCorrelation: -0.1 })).toThrow(/outcomesCorrelation of 0 or more/);
  });
});
