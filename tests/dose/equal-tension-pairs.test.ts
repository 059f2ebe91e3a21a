/**
 * Kinds of evidence: rows made by hand whose pairs are counted by eye, hand arithmetic of contrasts and
 * covariances, and an identity: on the log scale a control shared by both arms of a pair drops out.
 */
import { describe, expect, test } from "vitest";
import { equalTensionDefaults } from "../../src/dose/equal-tension.js";
import {
  equalTensionPairs,
  type EqualTensionQuantity,
  type EqualTensionQuestion,
} from "../../src/dose/equal-tension-pairs.js";
import type { EffectSet } from "../../src/effects/effect.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { handMadeSet, sessionOf, type WrittenEffect } from "./hand-made-set.js";

const found = (
  set: EffectSet,
  question: EqualTensionQuestion = "hold length",
  quantity: EqualTensionQuantity = "tension time",
) => equalTensionPairs(set, question, quantity, equalTensionDefaults);

/** Who is set against whom: `long > short`. */
const names = (set: EffectSet, question?: EqualTensionQuestion, quantity?: EqualTensionQuantity) =>
  found(set, question, quantity).pairs.map(
    ({ study, more, less }) => `${study}: ${more.arm} > ${less.arm}`,
  );

const arm = (
  study: string,
  name: string,
  row: Partial<OutcomeRow>,
  estimate = 0.1,
): WrittenEffect => ({ study, arm: name, estimate, variance: 0.01, row });

describe("which pairs", () => {
  test("equal tension with different holds, inside one study only", () => {
    // 4 × 1 × 30 s and 4 × 10 × 3 s are both 120 s a session; the third arm does twice as much.
    const set = handMadeSet([
      arm("A", "short", sessionOf(4, 10, 3)),
      arm("A", "long", sessionOf(4, 1, 30)),
      arm("A", "twice", sessionOf(8, 1, 30)),
      arm("B", "other study", sessionOf(4, 1, 30)),
    ]);
    expect(names(set)).toEqual(["A: long > short"]);
    const [pair] = found(set).pairs;
    expect(pair).toMatchObject({
      // 120 s × 3 sessions × 8 weeks
      more: { holdSeconds: 30, total: 2880 },
      less: { holdSeconds: 3, total: 2880 },
      over: "programme",
      alsoDiffer: [],
      pooled: true,
    });
  });

  test("the tolerance is a share of the smaller total, its edge included", () => {
    // 100 s against 110 s is 10 % more; 111 s is not.
    const against = (seconds: number) =>
      handMadeSet([
        arm("A", "short", sessionOf(10, 1, 10)),
        arm("A", "long", sessionOf(1, 1, seconds)),
      ]);
    expect(names(against(110))).toEqual(["A: long > short"]);
    expect(names(against(111))).toEqual([]);
    // 100 s is 10 % more than 90.909… s, and 90 s is too little.
    expect(names(against(91))).toEqual(["A: long > short"]);
    expect(names(against(90))).toEqual([]);
  });

  test("holds differ enough from half as long again on", () => {
    const against = (repetitions: number, seconds: number) =>
      handMadeSet([
        arm("A", "shorter", sessionOf(1, 30, 10)),
        arm("A", "longer", sessionOf(1, repetitions, seconds)),
      ]);
    expect(names(against(20, 15))).toEqual(["A: longer > shorter"]);
    // 21 × 14.3 s is 300.3 s, near enough, but 14.3 s is less than one and a half times 10 s.
    expect(names(against(21, 14.3))).toEqual([]);
  });

  test("effort differs enough from ten points on, whichever arm comes first", () => {
    const against = (percent: number) =>
      handMadeSet([
        arm("A", "hard", sessionOf(4, 10, 3, 80)),
        arm("A", "easy", sessionOf(4, 10, 3, percent)),
      ]);
    expect(names(against(70), "intensity")).toEqual(["A: hard > easy"]);
    expect(names(against(71), "intensity")).toEqual([]);
    expect(names(against(90), "intensity")).toEqual(["A: easy > hard"]);
    expect(names(against(70), "hold length")).toEqual([]);
  });

  test("torque–time is another equality than tension time", () => {
    // 60 s at 100 % and 120 s at 50 % are 6000 %MVC·s each, with tension twice as long in the second.
    const set = handMadeSet([
      arm("A", "short, hard", sessionOf(2, 10, 3, 100)),
      arm("A", "long, easy", sessionOf(2, 2, 30, 50)),
    ]);
    expect(names(set)).toEqual([]);
    expect(names(set, "hold length", "torque–time")).toEqual(["A: long, easy > short, hard"]);
    const [pair] = found(set, "hold length", "torque–time").pairs;
    // 6000 × 3 × 8
    expect(pair).toMatchObject({ more: { total: 144_000 }, alsoDiffer: ["intensity"] });
    expect(names(set, "intensity", "torque–time")).toEqual(["A: short, hard > long, easy"]);
  });

  test("only like is set against like: outcome, angle, site, side and week", () => {
    const two = (second: Partial<OutcomeRow>) =>
      names(
        handMadeSet([
          arm("A", "short", { ...sessionOf(4, 10, 3), testAngleDegrees: 60 }),
          arm("A", "long", { ...sessionOf(4, 1, 30), testAngleDegrees: 60, ...second }),
        ]),
      );
    expect(two({})).toHaveLength(1);
    for (const other of [
      { outcome: "rate of torque" },
      { testAngleDegrees: 90 },
      { testSitePercent: 50 },
      { testSide: "untrained" },
      { weekMeasured: 4 },
    ] as const)
      expect(two(other), JSON.stringify(other)).toEqual([]);
  });

  test("where the weeks of one arm are not coded the week is compared, else the session", () => {
    const without = (...fields: readonly (keyof OutcomeRow)[]) => {
      const row: Partial<Record<keyof OutcomeRow, unknown>> = { ...sessionOf(4, 1, 30) };
      for (const field of fields) delete row[field];
      const set = handMadeSet([
        arm("A", "short", sessionOf(4, 10, 3)),
        arm("A", "long", row as Partial<OutcomeRow>),
      ]);
      return found(set).pairs.map(({ over, more }) => [over, more.total]);
    };
    expect(without("weeks")).toEqual([["week", 360]]);
    expect(without("weeks", "sessionsPerWeek")).toEqual([["session", 120]]);
    expect(without("sets")).toEqual([]);
  });

  test("dynamic arms have no hold", () => {
    const set = handMadeSet([
      arm("A", "short", sessionOf(4, 10, 3)),
      arm("A", "lifting", { ...sessionOf(4, 1, 30), armKind: "dynamic" }),
    ]);
    expect(names(set)).toEqual([]);
  });

  test("what else differs is named, and a training angle on the other side of zero is another angle", () => {
    const set = handMadeSet([
      arm("A", "short", {
        ...sessionOf(4, 10, 3, 60),
        muscleLength: "short",
        trainingAngleDegrees: [-10],
      }),
      arm("A", "long", {
        ...sessionOf(4, 1, 30, 90),
        muscleLength: "long",
        trainingAngleDegrees: [10],
      }),
    ]);
    expect(found(set).pairs[0]!.alsoDiffer).toEqual([
      "intensity",
      "training angle",
      "muscle length",
    ]);
  });
});

describe("pairs that follow from others", () => {
  test("three arms make three pairs, two of them free: the two furthest apart", () => {
    const set = handMadeSet([
      arm("A", "2 s", sessionOf(1, 30, 2)),
      arm("A", "6 s", sessionOf(1, 10, 6)),
      arm("A", "20 s", sessionOf(1, 3, 20)),
    ]);
    const { pairs } = found(set);
    // Ratios: 6/2 = 3, 20/2 = 10, 20/6 = 3.33.
    expect(pairs.map(({ more, less, pooled }) => [more.arm, less.arm, pooled])).toEqual([
      ["6 s", "2 s", false],
      ["20 s", "2 s", true],
      ["20 s", "6 s", true],
    ]);
  });

  test("pairs alike in everything else come before wider ones that are not", () => {
    const set = handMadeSet([
      arm("A", "2 s", sessionOf(1, 30, 2, 100)),
      arm("A", "6 s", sessionOf(1, 10, 6, 100)),
      arm("A", "20 s", sessionOf(1, 3, 20, 60)),
    ]);
    const { pairs } = found(set);
    expect(
      pairs.map(({ more, less, pooled, alsoDiffer }) => [more.arm, less.arm, pooled, alsoDiffer]),
    ).toEqual([
      ["6 s", "2 s", true, []],
      ["20 s", "2 s", true, ["intensity"]],
      ["20 s", "6 s", false, ["intensity"]],
    ]);
  });
});

describe("contrasts and their covariances, by hand", () => {
  const covariance = 0.004;
  const set = handMadeSet(
    [
      arm("A", "short", sessionOf(1, 30, 2), 0.1),
      arm("A", "middle", sessionOf(1, 10, 6), 0.16),
      arm("A", "long", sessionOf(1, 3, 20), 0.25),
    ],
    // Every two arms share 0.004, as arms with one control do.
    [
      {
        indices: [0, 1, 2],
        values: [0, 1, 2].flatMap((a) => [0, 1, 2].map((b) => (a === b ? 0.01 : covariance))),
      },
    ],
  );
  const { pairs, covarianceOf } = found(set);
  const [middleShort, longShort, longMiddle] = pairs as [
    (typeof pairs)[number],
    (typeof pairs)[number],
    (typeof pairs)[number],
  ];

  test("estimates are differences and variances leave out what is shared", () => {
    expect(pairs.map(({ estimate }) => Number(estimate.toFixed(12)))).toEqual([0.06, 0.15, 0.09]);
    // 0.01 + 0.01 − 2 × 0.004
    for (const { variance } of pairs) expect(variance).toBeCloseTo(0.012, 12);
    const half = 1.959963984540054 * Math.sqrt(0.012);
    expect(longShort.interval.low).toBeCloseTo(0.15 - half, 9);
    expect(longShort.interval.high).toBeCloseTo(0.15 + half, 9);
  });

  test("two pairs that share an arm share its error", () => {
    // (long − short, long − middle): 0.01 − 0.004 − 0.004 + 0.004
    expect(covarianceOf(longShort, longMiddle)).toBeCloseTo(0.006, 12);
    // (middle − short, long − middle): the shared arm has the other sign.
    expect(covarianceOf(middleShort, longMiddle)).toBeCloseTo(-0.006, 12);
    expect(covarianceOf(longShort, longShort)).toBeCloseTo(longShort.variance, 12);
  });

  test("the implied contrast is the difference of the free ones", () => {
    expect(middleShort.estimate).toBeCloseTo(longShort.estimate - longMiddle.estimate, 12);
    expect(middleShort.variance).toBeCloseTo(
      longShort.variance + longMiddle.variance - 2 * covarianceOf(longShort, longMiddle),
      12,
    );
  });
});

test("a control both arms share drops out: the pair is the same within arms and against it", () => {
  const outcome = {
    notReported: [],
    study: "A",
    outcome: "peak torque",
    outcomeFamily: "strength",
    statistic: "means at both times",
    spreadKind: "standard deviation",
    design: "randomised groups",
    prePostCorrelation: 0.8,
    nStart: 14,
    nEnd: 14,
  } as const;
  const rows: readonly OutcomeRow[] = [
    {
      ...outcome,
      ...sessionOf(4, 10, 3),
      line: 2,
      arm: "short",
      armKind: "isometric",
      preMean: 180,
      preSpread: 30,
      postMean: 205,
      postSpread: 33,
    },
    {
      ...outcome,
      ...sessionOf(4, 1, 30),
      line: 3,
      arm: "long",
      armKind: "isometric",
      preMean: 176,
      preSpread: 28,
      postMean: 214,
      postSpread: 36,
    },
    {
      ...outcome,
      line: 4,
      arm: "no exercise",
      armKind: "no exercise",
      preMean: 181,
      preSpread: 27,
      postMean: 184,
      postSpread: 29,
    },
  ];
  const [within, against] = (["change-within-arm", "against-control"] as const).map(
    (contrast) => found(effectsFromRows(rows, { contrast })).pairs,
  );
  expect(within).toHaveLength(1);
  expect(against).toHaveLength(1);
  expect(against![0]!.estimate).toBeCloseTo(within![0]!.estimate, 12);
  expect(against![0]!.variance).toBeCloseTo(within![0]!.variance, 12);
});
