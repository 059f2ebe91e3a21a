/** Kind of evidence: properties that any model of holding must have, over random sessions and every joint. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { canBeHeld, holdGrade, holdGrades } from "../../src/endurance/can-be-held.js";
import { enduranceTime } from "../../src/endurance/endurance-time.js";
import { regionOf } from "../../src/endurance/regions.js";
import { joints, type Prescription } from "../../src/protocol/prescription.js";

const below95 = fc.double({ min: 5, max: 94.9, noNaN: true });
/** Below 10% the curve is stretched past its data. */
const measured = fc.double({ min: 10, max: 94.9, noNaN: true });
const sessions: fc.Arbitrary<Prescription> = fc.record(
  {
    sets: fc.integer({ min: 1, max: 4 }),
    repetitions: fc.integer({ min: 1, max: 12 }),
    holdSeconds: fc.double({ min: 0.5, max: 90, noNaN: true }),
    intensityPercent: below95,
    restBetweenRepetitionsSeconds: fc.double({ min: 0, max: 180, noNaN: true }),
    restBetweenSetsSeconds: fc.double({ min: 0, max: 300, noNaN: true }),
    joint: fc.constantFrom(...joints),
    action: fc.constantFrom("pushing" as const, "holding" as const),
  },
  {
    requiredKeys: [
      "sets",
      "repetitions",
      "holdSeconds",
      "intensityPercent",
      "restBetweenRepetitionsSeconds",
      "restBetweenSetsSeconds",
      "joint",
    ],
  },
);
/** How hard, as a rank; what is over an hour is left out. */
const rank = (p: Prescription): number | undefined => {
  const grade = holdGrade(p);
  return grade === null ? undefined : holdGrades.indexOf(grade);
};
const noEasier = (p: Prescription, harder: Partial<Prescription>): void => {
  const [before, after] = [rank(p), rank({ ...p, ...harder })];
  if (before !== undefined && after !== undefined) expect(after).toBeGreaterThanOrEqual(before);
};
const runs = { seed: 14, numRuns: 1500 };

test("a fresh first hold ends at the measured time, at every intensity measured below 95% and every joint", () => {
  fc.assert(
    fc.property(measured, fc.constantFrom(...joints), (intensityPercent, joint) => {
      const { region } = regionOf(joint);
      const { centralSeconds, lowSeconds, highSeconds } = enduranceTime(intensityPercent, region);
      if (highSeconds > 3000) return;
      const a = canBeHeld({
        sets: 1,
        repetitions: 1,
        holdSeconds: highSeconds + 1,
        intensityPercent,
        joint,
        action: "pushing",
      });
      // Muscle is called up over a tenth of a second, which the closed form leaves out.
      for (const [point, seconds] of [
        [a.failsAtLow, lowSeconds],
        [a.failsAt, centralSeconds],
        [a.failsAtHigh, highSeconds],
      ] as const)
        expect(Math.abs((point?.seconds ?? NaN) - seconds)).toBeLessThan(0.25 + 0.002 * seconds);
    }),
    { seed: 15, numRuns: 400 },
  );
});

test("the first holds of a session end as those holds alone", () => {
  fc.assert(
    fc.property(sessions, (p) => {
      const one = { ...p, sets: 1, repetitions: Math.max(2, p.repetitions) };
      const first = { ...one, repetitions: one.repetitions - 1 };
      const [whole, part] = [canBeHeld(one), canBeHeld(first)];
      if (whole.ungraded !== undefined || part.ungraded !== undefined) return;
      for (const key of ["failsAtLow", "failsAt", "failsAtHigh"] as const)
        if (part[key] !== undefined || (whole[key]?.repetition ?? Infinity) < one.repetitions)
          expect(whole[key]).toEqual(part[key]);
    }),
    { seed: 16, numRuns: 500 },
  );
});

test("harder, longer and more is never easier; more rest is never harder", () => {
  fc.assert(
    fc.property(sessions, (p) => {
      noEasier(p, { intensityPercent: Math.min(94.9, (p.intensityPercent ?? 0) * 1.07) });
      noEasier(p, { holdSeconds: p.holdSeconds * 1.2 });
      const repeated = { ...p, repetitions: p.repetitions + 1 };
      noEasier(repeated, { repetitions: repeated.repetitions + 1 });
      const within = p.restBetweenRepetitionsSeconds ?? 0;
      const between = p.restBetweenSetsSeconds ?? 0;
      noEasier(p, { restBetweenRepetitionsSeconds: within / 2 });
      noEasier(p, { restBetweenSetsSeconds: between / 2 });
    }),
    runs,
  );
});

test("no jump below 95%: a hundredth of a percent moves what is left by less than a point", () => {
  fc.assert(
    fc.property(sessions, (p) => {
      const at = (percent: number) =>
        canBeHeld({ ...p, intensityPercent: percent }).smallestReservePercent;
      const percent = Math.min(94.8, p.intensityPercent ?? 0);
      const [here, there] = [at(percent), at(percent + 0.01)];
      for (const key of ["low", "central", "high"] as const)
        expect(Math.abs(here[key] - there[key])).toBeLessThan(1);
    }),
    { seed: 17, numRuns: 500 },
  );
});

test("sixty maximal knee holds of 3 s with 2 s rest leave what Burnley (2009) measured: 77.8 of 263.9", () => {
  const { smallestReservePercent } = canBeHeld({
    sets: 1,
    repetitions: 60,
    holdSeconds: 3,
    intensityPercent: 100,
    restBetweenRepetitionsSeconds: 2,
    joint: "knee",
  });
  expect(Math.abs(100 + smallestReservePercent.central - (100 * 77.8) / 263.9)).toBeLessThan(3);
});
