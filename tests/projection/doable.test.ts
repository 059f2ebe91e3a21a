/** Kinds of evidence: the endurance model asked on its own, and what must not change with an easier session. */
import { describe, expect, test } from "vitest";
import { holdGrade, mostFinish } from "../../src/endurance/can-be-held.js";
import { notDoable, notDoableWords } from "../../src/projection/doable.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

const asked = (text: string) => notDoable(parsePrescription(text), { joint: "knee" });

describe("a session is not doable when a typical person runs out", () => {
  test.each([
    "4 x 30 s at 60%, rest 90 s",
    "4 x (5 x 3 s) at 95%, rest 15 s, 120 s between sets",
    // Without rests it cannot be judged.
    "5 x 200 s at 90%",
  ])("%s is left alone", (text) => {
    expect(asked(text)).toBe(undefined);
  });

  test("longer rests are the nearest where they are enough: no dose changes", () => {
    const text = "6 x 20 s at 60%, rest 3 s";
    expect(mostFinish(holdGrade(parsePrescription(text), { joint: "knee" }))).toBe(false);
    const { nearest } = asked(text)!;
    const { restBetweenSetsSeconds, restBetweenRepetitionsSeconds, ...dose } = nearest!;
    const {
      restBetweenSetsSeconds: _a,
      restBetweenRepetitionsSeconds: _b,
      ...before
    } = parsePrescription(text);
    expect(dose).toEqual(before);
    expect(
      Math.max(restBetweenSetsSeconds ?? 0, restBetweenRepetitionsSeconds ?? 0),
    ).toBeGreaterThan(3);
    expect(mostFinish(holdGrade(nearest!, { joint: "knee" }))).toBe(true);
  });

  test("a session that only those who tire late finish is not doable either", () => {
    const text = "4 x 30 s at 70%, rest 60 s";
    expect(holdGrade(parsePrescription(text), { joint: "knee" })).toBe("most will not finish");
    // Knee at 70% lasts 37.9 s fresh (Frey Law & Avin 2010): the first holds are kept, a later one is not.
    expect(asked(text)!.why).toMatch(
      /^a typical person runs out in set 1, hold [234], 2\d\.\d s into it$/u,
    );
  });

  test("else a shorter hold or a lower intensity, and that is said with where they run out", () => {
    const text = "5 x 90 s at 70%, rest 60 s";
    const found = asked(text)!;
    expect(found.why).toMatch(
      /^even people who tire late run out in set \d, hold \d, \d+\.\d s into it$/,
    );
    expect(mostFinish(holdGrade(found.nearest!, { joint: "knee" }))).toBe(true);
    const { holdSeconds, intensityPercent } = found.nearest!;
    expect(holdSeconds < 90 || intensityPercent! < 70).toBe(true);
    const words = notDoableWords("5 × 90 s", found);
    expect(words.reason).toContain("is not doable as written: even people who tire late");
    expect(words.try).toMatch(/^the nearest that is: "/);
  });
});
