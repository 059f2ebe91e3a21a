/** Kind of evidence: identities of the rule, hand arithmetic for the modifier, reported sessions. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import { canBeHeld, holdGrade, holdGrades } from "../../src/endurance/can-be-held.js";
import { enduranceTime } from "../../src/endurance/endurance-time.js";
import { holdingModifier } from "../../src/endurance/fatigue-parameters.js";
import { enduranceRegions, regionOf } from "../../src/endurance/regions.js";
import { joints } from "../../src/protocol/prescription.js";
import type { Prescription } from "../../src/protocol/prescription.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

const assess = (text: string): ReturnType<typeof canBeHeld> => canBeHeld(parsePrescription(text));
const codes = (text: string): readonly string[] => assess(text).statements.map((note) => note.code);

const sessions: fc.Arbitrary<Prescription> = fc.record({
  sets: fc.integer({ min: 1, max: 4 }),
  repetitions: fc.integer({ min: 1, max: 8 }),
  holdSeconds: fc.double({ min: 0.5, max: 120, noNaN: true }),
  intensityPercent: fc.double({ min: 3, max: 99, noNaN: true }),
  restBetweenRepetitionsSeconds: fc.double({ min: 0, max: 120, noNaN: true }),
  restBetweenSetsSeconds: fc.double({ min: 0, max: 300, noNaN: true }),
  joint: fc.constantFrom(...joints),
});

describe("the grade", () => {
  test("follows which of the three cases runs out, and says where", () => {
    fc.assert(
      fc.property(sessions, (p) => {
        const a = canBeHeld(p);
        const expected =
          a.failsAtLow === undefined
            ? "comfortable"
            : a.failsAtHigh === undefined
              ? "near the limit"
              : "beyond what the model allows";
        expect(a.grade).toBe(expected);
        expect(holdGrade(p)).toBe(expected);
        for (const point of [a.failsAt, a.failsAtLow, a.failsAtHigh])
          if (point !== undefined) {
            expect(point.set).toBeLessThanOrEqual(p.sets);
            expect(point.repetition).toBeLessThanOrEqual(p.repetitions);
            expect(point.secondsIntoHold).toBeLessThanOrEqual(p.holdSeconds);
          }
        // Who tires sooner runs out no later.
        const order = [a.failsAtLow, a.failsAt, a.failsAtHigh].map(
          (point) => point?.seconds ?? Infinity,
        );
        expect([...order].sort((x, y) => x - y)).toEqual(order);
      }),
      { seed: 6, numRuns: 400 },
    );
  });
  test("the band holds the line of a typical person everywhere, between 0 and fresh", () => {
    fc.assert(
      fc.property(sessions, (p) => {
        const { capacity } = canBeHeld(p);
        const broken = capacity.filter(
          (point, index) =>
            !(
              point.seconds >= (capacity[index - 1]?.seconds ?? 0) &&
              point.low >= 0 &&
              point.low <= point.central + 1e-9 &&
              point.central <= point.high + 1e-9 &&
              point.high <= 100
            ),
        );
        expect(broken).toEqual([]);
      }),
      { seed: 8, numRuns: 400 },
    );
  });
  test("never improves with more effort, longer holds, shorter rests, or more repetitions", () => {
    const rank = (p: Prescription): number => holdGrades.indexOf(holdGrade(p));
    fc.assert(
      fc.property(sessions, (p) => {
        const repeated = { ...p, repetitions: p.repetitions + 1 };
        expect(rank({ ...repeated, repetitions: repeated.repetitions + 1 })).toBeGreaterThanOrEqual(
          rank(repeated),
        );
        expect(rank({ ...p, holdSeconds: p.holdSeconds * 1.3 })).toBeGreaterThanOrEqual(rank(p));
        expect(
          rank({
            ...p,
            restBetweenRepetitionsSeconds: (p.restBetweenRepetitionsSeconds ?? 0) / 2,
            restBetweenSetsSeconds: (p.restBetweenSetsSeconds ?? 0) / 2,
          }),
        ).toBeGreaterThanOrEqual(rank(p));
        const heavier = Math.min(99, (p.intensityPercent ?? 0) * 1.1);
        expect(rank({ ...p, intensityPercent: heavier })).toBeGreaterThanOrEqual(rank(p));
      }),
      { seed: 9, numRuns: 300 },
    );
  });
  test("sessions trials report completing are not called beyond the model", () => {
    // Kubo 2001: 4 × 20 s at 70 %, 60 s rest. Balshaw 2016: 40 × 3 s at 75 % a session (rests not
    // seen; 2 s and 2 min taken here). Common practice, no source: 5 × 3 s near-maximal in four sets.
    for (const text of [
      "4 × 20 s at 70%, rest 60 s, knee",
      "4 × (10 × 3 s) at 75%, rest 2 s, 120 s between sets, knee",
      "4 × (5 × 3 s) at 95%, rest 2 s, 60 s between sets, knee",
    ])
      expect(assess(text).grade, text).toBe("near the limit");
    expect(assess("60 s at 20%, knee").grade).toBe("comfortable");
    expect(assess("5 × 120 s at 70%, rest 10 s, knee").grade).toBe("beyond what the model allows");
  });
});

describe("a single hold above 80% is judged by the endurance curve", () => {
  test("its three failures are the curve and the edges of its band", () => {
    const a = assess("60 s at 85%, knee");
    const time = enduranceTime(85, "knee");
    expect(a.whichCurve).toBe("endurance-time curve");
    // The model calls muscle up over a tenth of a second, which the closed form leaves out.
    for (const [point, seconds] of [
      [a.failsAtLow, time.lowSeconds],
      [a.failsAt, time.centralSeconds],
      [a.failsAtHigh, time.highSeconds],
    ] as const)
      expect(Math.abs((point?.seconds ?? NaN) - seconds)).toBeLessThan(0.2);
    expect(codes("60 s at 85%, knee")).toContain("high-effort-weakness");
  });
  test("repeated holds are not, and the weakness is said", () => {
    const text = "4 × 5 s at 90%, rest 30 s, knee";
    expect(assess(text).whichCurve).toBe("three-compartment model");
    expect(codes(text)).toContain("high-effort-weakness");
    expect(codes("4 × 5 s at 60%, rest 30 s, knee")).not.toContain("high-effort-weakness");
  });
});

test("what is to spare is the least that is left above the load, for each end of the band by itself", () => {
  const a = assess("6 × 20 s at 40%, rest 20 s, knee");
  expect(a.failsAtLow).toBeUndefined();
  const least = (key: "low" | "central" | "high"): number =>
    Math.min(...a.capacity.map((point) => point[key])) - 40;
  const { low, central, high } = a.smallestReservePercent;
  expect(low).toBeCloseTo(least("low"), 6);
  expect(central).toBeCloseTo(least("central"), 6);
  expect(high).toBeCloseTo(least("high"), 6);
  expect(low).toBeLessThan(central - 1);
  expect(central).toBeLessThan(high - 1);
});

describe("a maximal effort", () => {
  test("has no load to fail at: near the limit, with what would be left; beyond only when too long", () => {
    const a = assess("4 × (5 × 3 s), maximal, rest 2 s, 60 s between sets, knee");
    expect(a.maximal).toBe(true);
    expect(a.grade).toBe("near the limit");
    expect(a.failsAt).toBeUndefined();
    expect(a.smallestReservePercent.central).toBeLessThan(0);
    expect(assess("60 s, maximal, knee").grade).toBe("beyond what the model allows");
    expect(codes("60 × 3 s, maximal, rest 2 s, knee")).toContain("maximal-repeated-weakness");
  });
  test("is the same whether written as a word or as 100%", () => {
    const [word, number] = [
      assess("4 × 5 s, maximal, rest 30 s"),
      assess("4 × 5 s at 100%, rest 30 s"),
    ];
    expect(word.capacity).toEqual(number.capacity);
    expect(word.grade).toBe(number.grade);
  });
});

describe("what is said", () => {
  test("joints without a curve fall back to the general one and say so", () => {
    for (const joint of joints) {
      const own = (enduranceRegions as readonly string[]).includes(joint);
      expect(regionOf(joint).fellBack).toBe(!own);
      expect(codes(`10 s at 50%, ${joint}`).includes("general-curve")).toBe(!own);
    }
    expect(codes("10 s at 50%")).toContain("general-curve");
    expect(canBeHeld(parsePrescription("10 s at 50%, hip"), { joint: "knee" }).region).toBe("knee");
  });
  test("always: the band's source and what the model has no term for", () => {
    for (const text of ["10 s at 50%, knee", "3 × 5 s, maximal, rest 60 s"])
      expect(codes(text)).toEqual(expect.arrayContaining(["band", "no-person-terms"]));
  });
  test("below the fitted range, a rating, a range, the other set of rates", () => {
    expect(codes("60 s at 5%, knee")).toContain("below-fitted-range");
    expect(codes("60 s at effort 3, knee")).toContain("rating-as-percent");
    const ranged = assess("15–60 s at 60–75%, knee");
    expect(ranged.gradeAtHighEnd).toBe(assess("60 s at 75%, knee").grade);
    expect(ranged.statements.map((note) => note.code)).toContain("high-end");
    const p = parsePrescription("4 × 20 s at 50%, rest 20 s, ankle");
    const [first, second] = [canBeHeld(p), canBeHeld(p, { parameters: "alternative" })];
    expect(second.statements.map((note) => note.code)).toContain("alternative-parameters");
    expect(second.oneHoldModelSeconds!).toBeLessThan(first.oneHoldModelSeconds!);
  });
  test("no sentence carries a number that is not one", () => {
    fc.assert(
      fc.property(
        sessions,
        fc.constantFrom("pushing" as const, "holding" as const),
        (p, action) => {
          for (const note of canBeHeld({ ...p, action }).statements)
            expect(note.message).not.toMatch(/NaN|undefined|Infinity/u);
        },
      ),
      { seed: 10, numRuns: 100 },
    );
  });
});

describe("holding a load", () => {
  test("the modifier, by hand: 19/41 and its interval", () => {
    // ln ratio −0.7691; variance (8/19)²/10 + (24/41)²/10 = 0.017729 + 0.034265; t(9) = 2.262 (table)
    const m = holdingModifier();
    expect(m.ratio.toFixed(3)).toBe("0.463");
    const reach = 2.262 * Math.sqrt(0.017729 + 0.034265);
    expect(m.low).toBeCloseTo(Math.exp(-0.7691 - reach), 3);
    expect(m.high).toBeCloseTo(Math.exp(-0.7691 + reach), 3);
  });
  test("is shown beside the grade and not applied", () => {
    const [held, pushed] = [
      assess("5 × 20 s at 60%, rest 60 s, knee, holding"),
      assess("5 × 20 s at 60%, rest 60 s, knee, pushing"),
    ];
    expect(held.grade).toBe(pushed.grade);
    expect(held.capacity).toEqual(pushed.capacity);
    expect(pushed.holding).toBeUndefined();
    expect(
      holdGrades.indexOf(held.holding?.gradeIfApplied ?? "comfortable"),
    ).toBeGreaterThanOrEqual(holdGrades.indexOf(held.grade));
    expect(held.statements.map((note) => note.code)).toContain("holding-modifier");
  });
});

test("a session of twenty holds with its band is assessed in well under two milliseconds", () => {
  const p = parsePrescription("4 × (5 × 3 s) at 95%, rest 2 s, 60 s between sets, knee");
  const once = (): number => {
    const start = performance.now();
    canBeHeld(p);
    return performance.now() - start;
  };
  // The best of many runs: what else the machine is doing only ever adds. Measured about 0.2 ms.
  expect(Math.min(...Array.from({ length: 100 }, once))).toBeLessThan(2);
});

describe("refuses", () => {
  test.each([
    ["4 × 30 s at 70%", "restBetweenRepetitionsSeconds"],
    ["4 × 30 s, rest 15 s", "intensityPercent"],
    ["4 × 30 s at 70% 1RM, rest 15 s", "intensityPercent"],
  ])("%s, naming what is missing", (text, field) => {
    expect(() => assess(text)).toThrow(CallError);
    expect(() => assess(text)).toThrow(new RegExp(field, "u"));
  });
  test("the alternative rates for a region that has none", () => {
    const p = parsePrescription("30 s at 50%, shoulder");
    expect(() => canBeHeld(p, { parameters: "alternative" })).toThrow(
      /alternative set, got shoulder/u,
    );
  });
});
