/**
 * Kind of evidence: hand arithmetic on common-practice protocols (check values for the arithmetic,
 * no source), and identities between the derived quantities over generated prescriptions.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import {
  contractionsPerSession,
  contractionsPerWeek,
  dutyCycle,
  effectiveIntensityPercent,
  effortLabel,
  sessionLengthSeconds,
  sessionTensionShare,
  sessionsInProgramme,
  tensionTimePerSessionSeconds,
  tensionTimePerSetSeconds,
  tensionTimePerWeekSeconds,
  tensionTimeProgrammeSeconds,
  torqueTimePerSession,
  torqueTimePerWeek,
  torqueTimeProgramme,
} from "../../src/protocol/derived-quantities.js";
import { doseNotes } from "../../src/protocol/dose-notes.js";
import type { Prescription } from "../../src/protocol/prescription.js";
import { sessionTimeline, timelineNeeds } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

describe("hand arithmetic", () => {
  test("5 × 3 s in 3 to 4 sets is 45 to 60 s of near-maximal tension a session", () => {
    expect(tensionTimePerSessionSeconds(parsePrescription("3 × (5 × 3 s) at 95 %"))).toBe(45);
    expect(tensionTimePerSessionSeconds(parsePrescription("4 × (5 × 3 s) at 95 %"))).toBe(60);
    expect(effortLabel(parsePrescription("4 × (5 × 3 s) at 95 %"))).toBe("near-maximal");
    expect(effortLabel(parsePrescription("4 × (5 × 3 s) at 90 %"))).toBe("submaximal");
    expect(effortLabel(parsePrescription("4 × (5 × 3 s), maximal"))).toBe("maximal");
    expect(effortLabel(parsePrescription("4 × (5 × 3 s)"))).toBeUndefined();
  });
  test("4 × 30 s and 20 × 6 s are both 120 s", () => {
    expect(tensionTimePerSessionSeconds(parsePrescription("4 × 30 s"))).toBe(120);
    expect(tensionTimePerSessionSeconds(parsePrescription("20 × 6 s"))).toBe(120);
  });
  test("an effort of 7 stands for 70 %, with a note", () => {
    const p = parsePrescription("4 × 30 s at effort 7");
    expect(effectiveIntensityPercent(p)).toBe(70);
    expect(doseNotes(p).map((note) => note.code)).toContain("rating-as-percent");
  });
  test("4 × (5 × 3 s) at 90 %, rests 2 s and 60 s, 3/week, 10 weeks, on paper", () => {
    const p = parsePrescription("4 × (5 × 3 s) at 90 %, rests 2 s and 60 s, 3/week, 10 weeks");
    expect(contractionsPerSession(p)).toBe(20);
    expect(contractionsPerWeek(p)).toBe(60);
    expect(sessionsInProgramme(p)).toBe(30);
    expect(tensionTimePerSetSeconds(p)).toBe(15);
    expect(tensionTimePerWeekSeconds(p)).toBe(180);
    expect(tensionTimeProgrammeSeconds(p)).toBe(1800);
    expect(torqueTimePerSession(p)).toBe(5400);
    expect(torqueTimePerWeek(p)).toBe(16_200);
    expect(torqueTimeProgramme(p)).toBe(162_000);
    expect(dutyCycle(p)).toBe(0.6); // 3 s on, 2 s off
    // 20 holds of 3 s, 16 rests of 2 s, 3 rests of 60 s
    expect(sessionLengthSeconds(p)).toBe(60 + 32 + 180);
    expect(sessionTensionShare(p)).toBeCloseTo(60 / 272, 15);
  });
  test("a range stands at its midpoint and says so", () => {
    const p = parsePrescription("4 × 20–40 s at 70–75 %, rest 60 s");
    expect(effectiveIntensityPercent(p)).toBe(72.5);
    expect(tensionTimePerSessionSeconds(p)).toBe(120);
    expect(torqueTimePerSession(p)).toBe(8700);
    expect(doseNotes(p).map((note) => note.code)).toEqual([
      "hold-midpoint",
      "intensity-midpoint",
      "basis-assumed",
    ]);
  });
});

describe("what is not known stays unknown", () => {
  const p = parsePrescription("4 × (5 × 3 s)");
  test("missing inputs give undefined, and the notes say which", () => {
    expect(tensionTimePerWeekSeconds(p)).toBeUndefined();
    expect(tensionTimeProgrammeSeconds(p)).toBeUndefined();
    expect(contractionsPerWeek(p)).toBeUndefined();
    expect(torqueTimePerSession(p)).toBeUndefined();
    expect(sessionLengthSeconds(p)).toBeUndefined();
    expect(sessionTensionShare(p)).toBeUndefined();
    expect(dutyCycle(p)).toBeUndefined();
    expect(effectiveIntensityPercent(p)).toBeUndefined();
    expect(doseNotes(p).map((note) => note.code)).toEqual(["no-intensity", "no-rest"]);
    expect(timelineNeeds(p)).toEqual([
      "restBetweenRepetitionsSeconds",
      "restBetweenSetsSeconds",
      "intensityPercent",
    ]);
    expect(() => sessionTimeline(p)).toThrow(CallError);
  });
  test("bases that do not convert give no effort in %MVC", () => {
    for (const text of ["4 × 30 s at 70 % 1RM", "4 × 30 s at 70 % MVC at another angle"]) {
      expect(effectiveIntensityPercent(parsePrescription(text))).toBeUndefined();
      expect(doseNotes(parsePrescription(text)).map((note) => note.code)).toContain(
        "basis-does-not-convert",
      );
    }
  });
  test("one hold needs no rest and has no duty cycle", () => {
    const single = parsePrescription("45 s at 70 %");
    expect(sessionLengthSeconds(single)).toBe(45);
    expect(dutyCycle(single)).toBeUndefined();
    expect(sessionTimeline(single)).toHaveLength(1);
  });
});

const whole: fc.Arbitrary<Prescription> = fc.record({
  sets: fc.integer({ min: 1, max: 8 }),
  repetitions: fc.integer({ min: 1, max: 30 }),
  holdSeconds: fc.integer({ min: 1, max: 120 }),
  intensityPercent: fc.integer({ min: 1, max: 100 }),
  restBetweenRepetitionsSeconds: fc.integer({ min: 0, max: 120 }),
  restBetweenSetsSeconds: fc.integer({ min: 0, max: 300 }),
  sessionsPerWeek: fc.integer({ min: 1, max: 7 }),
  weeks: fc.integer({ min: 1, max: 20 }),
});

describe("identities over generated prescriptions", () => {
  test("the timeline adds up to the session: length, holds, tension, torque–time", () => {
    fc.assert(
      fc.property(whole, (p) => {
        const parts = sessionTimeline(p);
        const under = parts.filter((part) => part.kind === "hold");
        expect(under).toHaveLength(contractionsPerSession(p));
        expect(parts.at(-1)?.endSeconds).toBe(sessionLengthSeconds(p));
        expect(parts[0]?.startSeconds).toBe(0);
        for (let i = 1; i < parts.length; i += 1)
          expect(parts[i]?.startSeconds).toBe(parts[i - 1]?.endSeconds);
        const tension = under.reduce((sum, part) => sum + part.endSeconds - part.startSeconds, 0);
        expect(tension).toBe(tensionTimePerSessionSeconds(p));
        const torque = parts.reduce(
          (sum, part) => sum + part.intensityPercent * (part.endSeconds - part.startSeconds),
          0,
        );
        expect(torque).toBe(torqueTimePerSession(p));
      }),
      { seed: 3, numRuns: 300 },
    );
  });
  test("units: a minute is sixty seconds, k times the seconds is k times every time and no share", () => {
    fc.assert(
      fc.property(whole, fc.integer({ min: 2, max: 9 }), (p, factor) => {
        const longer: Prescription = {
          ...p,
          holdSeconds: p.holdSeconds * factor,
          restBetweenRepetitionsSeconds: (p.restBetweenRepetitionsSeconds ?? 0) * factor,
          restBetweenSetsSeconds: (p.restBetweenSetsSeconds ?? 0) * factor,
        };
        for (const time of [
          tensionTimePerSetSeconds,
          tensionTimePerSessionSeconds,
          tensionTimePerWeekSeconds,
          tensionTimeProgrammeSeconds,
          torqueTimePerSession,
          sessionLengthSeconds,
        ])
          expect(time(longer)).toBe((time(p) ?? NaN) * factor);
        for (const share of [dutyCycle, sessionTensionShare]) {
          const [before, after] = [share(p), share(longer)];
          if (before === undefined) expect(after).toBeUndefined();
          else expect(after).toBeCloseTo(before, 12);
        }
        expect(parsePrescription(`${p.repetitions} × ${p.holdSeconds} min`).holdSeconds).toBe(
          60 * p.holdSeconds,
        );
      }),
      { seed: 4, numRuns: 300 },
    );
  });
  test("shares stay between 0 and 1", () => {
    fc.assert(
      fc.property(whole, (p) => {
        const share = sessionTensionShare(p) ?? NaN;
        expect(share > 0 && share <= 1).toBe(true);
      }),
      { seed: 5, numRuns: 100 },
    );
  });
});
