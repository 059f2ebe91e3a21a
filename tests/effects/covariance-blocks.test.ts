import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import type { CovarianceBlock } from "../../src/effects/effect.js";
import { effectScales } from "../../src/effects/effect.js";
import { effectsDefaults } from "../../src/effects/effects-options.js";
import { logRatioOfMeansPaired } from "../../src/effects/log-ratio-of-means.js";
import { cholesky } from "../../src/numeric/cholesky.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { expectRelative } from "./agreement.js";
import { bothTimes, rowOf } from "./outcome-row.js";

const arm = (line: number, name: string, post: number, n: number, more = {}): OutcomeRow =>
  rowOf({
    line,
    arm: name,
    armKind: name === "control" ? "no exercise" : "isometric",
    ...bothTimes([100, 20], [post, 22], n),
    prePostCorrelation: 0.8,
    ...more,
  });
const threeArms = [arm(2, "short", 118, 15), arm(3, "long", 126, 17), arm(4, "control", 102, 12)];
const at = (block: CovarianceBlock | undefined, i: number, j: number): number =>
  block?.values[i * block.indices.length + j] ?? Number.NaN;

describe("one control behind two effects", () => {
  const against = { contrast: "against-control" } as const;

  test("identity: log ratios covary by exactly the control's own variance", () => {
    const { blocks, effects } = effectsFromRows(threeArms, against);
    const control = logRatioOfMeansPaired({
      before: { mean: 100, deviation: 20 },
      after: { mean: 102, deviation: 22 },
      correlation: 0.8,
      participants: 12,
    });
    expect(blocks).toHaveLength(1);
    expectRelative(at(blocks[0], 0, 1), control.variance, 1e-12);
    expect(at(blocks[0], 0, 0)).toBe(effects[0]?.variance);
  });

  test("identity: raw differences covary by the control's s²/n", () => {
    const { blocks } = effectsFromRows(threeArms, { ...against, scale: "raw-mean-difference" });
    expectRelative(at(blocks[0], 0, 1), (20 ** 2 + 22 ** 2 - 2 * 0.8 * 20 * 22) / 12, 1e-12);
  });

  test("independent: standardised differences covary by 1/n₀ + g₁g₂(n₀−1)/(2ν₁ν₂), scaled to the stated variances", () => {
    const { blocks, effects } = effectsFromRows(threeArms, {
      ...against,
      scale: "standardised-mean-difference",
    });
    const [first, second] = effects.map(({ estimate }) => estimate);
    const [v1, v2] = [15 + 12 - 2, 17 + 12 - 2];
    const firstOrder = 1 / 12 + (first! * second! * 11) / (2 * v1 * v2);
    const own = (g: number, n: number, v: number) => 1 / n + 1 / 12 + g ** 2 / (2 * v);
    const scaling = Math.sqrt(
      (effects[0]!.variance * effects[1]!.variance) / (own(first!, 15, v1) * own(second!, 17, v2)),
    );
    expectRelative(at(blocks[0], 0, 1), firstOrder * scaling, 1e-10);
    // Near the shared-control formula for one deviation pooled over all arms (Gleser, Olkin 2009), which
    // is another denominator; 5 % is how far the two are apart here.
    expectRelative(at(blocks[0], 0, 1), 1 / 12 + (first! * second!) / (2 * 44), 0.05);
  });
});

describe("the same people", () => {
  const twice = (more: Partial<OutcomeRow>, other: Partial<OutcomeRow> = {}) =>
    effectsFromRows([arm(2, "long", 118, 15, other), arm(3, "long", 112, 15, more)]);
  const correlationOf = (more: Partial<OutcomeRow>, other?: Partial<OutcomeRow>): number => {
    const { blocks, effects } = twice(more, other);
    return (
      at(blocks[0], 0, 1) / Math.sqrt((effects[0]?.variance ?? 0) * (effects[1]?.variance ?? 0))
    );
  };

  test("each thing two measurements differ in has its correlation, and several multiply", () => {
    const { outcomesCorrelation, anglesCorrelation, timesCorrelation, sitesCorrelation } =
      effectsDefaults;
    expect(correlationOf({ outcome: "muscle volume" })).toBeCloseTo(outcomesCorrelation, 12);
    expect(correlationOf({ testAngleDegrees: 60 }, { testAngleDegrees: 90 })).toBeCloseTo(
      anglesCorrelation,
      12,
    );
    expect(correlationOf({ testSitePercent: 50 }, { testSitePercent: 30 })).toBeCloseTo(
      sitesCorrelation,
      12,
    );
    expect(correlationOf({ weekMeasured: 4 }, { weekMeasured: 8 })).toBeCloseTo(
      timesCorrelation,
      12,
    );
    expect(
      correlationOf({ outcome: "muscle volume", weekMeasured: 4 }, { weekMeasured: 8 }),
    ).toBeCloseTo(outcomesCorrelation * timesCorrelation, 12);
    // Alike in everything coded: two measurements all the same.
    expect(correlationOf({})).toBeCloseTo(outcomesCorrelation, 12);
  });

  test("what the covariances rest on is listed with the number of effects", () => {
    const { assumptions } = twice({ outcome: "muscle volume" });
    expect(assumptions.map(({ name, value, effects }) => [name, value, effects])).toEqual([
      ["correlation between two outcomes of the same people", 0.6, 2],
    ]);
  });

  test("limbs of the same people covary across arms; arms of different people do not", () => {
    const rows = (design: OutcomeRow["design"]) => [
      arm(2, "left", 118, 15, { design }),
      arm(3, "right", 112, 15, { design }),
    ];
    expect(effectsFromRows(rows("randomised groups")).blocks).toEqual([]);
    const { blocks, effects } = effectsFromRows(rows("within-person limbs"));
    const product = Math.sqrt((effects[0]?.variance ?? 0) * (effects[1]?.variance ?? 0));
    expectRelative(at(blocks[0], 0, 1), 0.5 * product, 1e-12);
  });

  test("one cohort in two papers is one cluster; without a common arm id a note says so", () => {
    const rows = (second: string) => [
      arm(2, "long", 118, 15, { cohort: "people A" }),
      arm(3, second, 112, 15, { cohort: "people A", study: "Invented 2", outcome: "volume" }),
    ];
    expect(effectsFromRows(rows("long")).blocks[0]?.cluster).toBe("people A");
    const apart = effectsFromRows(rows("long holds"));
    expect(apart.blocks).toEqual([]);
    expect(apart.notes.map(({ code }) => code)).toEqual(["cohort-arms-differ"]);
  });
});

test("every pair of three arms repeats itself, so the block is drawn towards independence, with a note", () => {
  const rows = [...threeArms.slice(0, 2), arm(5, "middle", 120, 14)];
  const set = effectsFromRows(rows, { contrast: "between-arms", armPairs: "every-pair" });
  expect(set.effects).toHaveLength(3);
  expect(set.notes.map(({ code }) => code)).toContain("covariances-shrunk");
  expect(isPositiveDefinite(set.blocks[0]!)).toBe(true);
  const single = effectsFromRows(rows, { contrast: "between-arms" });
  expect(single.notes).toEqual([]);
});

const isPositiveDefinite = ({ indices, values }: CovarianceBlock): boolean =>
  cholesky({
    rows: indices.length,
    columns: indices.length,
    values: Float64Array.from(values),
  }) !== undefined;

test("property: every block is symmetric, positive definite, and has the effects' variances on its diagonal", () => {
  const measurement = fc.record({
    arm: fc.constantFrom("a", "b", "control"),
    outcome: fc.constantFrom("torque", "volume"),
    angle: fc.constantFrom(30, 60, undefined),
    week: fc.constantFrom(4, 8),
    post: fc.double({ min: 90, max: 160, noNaN: true }),
    people: fc.integer({ min: 6, max: 40 }),
  });
  fc.assert(
    fc.property(
      fc.array(measurement, { minLength: 2, maxLength: 14 }),
      fc.constantFrom(...effectScales),
      fc.constantFrom("change-within-arm", "against-control", "between-arms"),
      fc.constantFrom("randomised groups", "within-person limbs", "crossover"),
      (measurements, scale, contrast, design) => {
        const rows = measurements.map(({ arm: name, outcome, angle, week, post, people }, index) =>
          arm(index + 2, name, post, people, {
            outcome,
            weekMeasured: week,
            design,
            ...(angle !== undefined && { testAngleDegrees: angle }),
          }),
        );
        const set = effectsFromRows(rows, { scale, contrast });
        for (const block of set.blocks) {
          expect(isPositiveDefinite(block)).toBe(true);
          block.indices.forEach((position, i) => {
            expect(at(block, i, i)).toBe(set.effects[position]?.variance);
            block.indices.forEach((_, j) => expect(at(block, i, j)).toBe(at(block, j, i)));
          });
        }
      },
    ),
    { seed: 20240611, numRuns: 150 },
  );
});
