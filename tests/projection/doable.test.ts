/** Kinds of evidence: the endurance model asked on its own, and what must not change with an easier session. */
import { describe, expect, test } from "vitest";
import { holdGrade } from "../../src/endurance/can-be-held.js";
import { notDoable, notDoableWords } from "../../src/projection/doable.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

const asked = (text: string) => notDoable(parsePrescription(text), { joint: "knee" });
const beyond = "beyond what the model allows";

describe("a session is not doable when even people who tire late run out", () => {
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
    expect(holdGrade(parsePrescription(text), { joint: "knee" })).toBe(beyond);
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
    expect(holdGrade(nearest!, { joint: "knee" })).not.toBe(beyond);
  });

  test("else a shorter hold or a lower intensity, and that is said with where they run out", () => {
    const text = "5 x 90 s at 70%, rest 60 s";
    const found = asked(text)!;
    expect(found.why).toMatch(
      /^even people who tire late run out in set \d, hold \d, \d+\.\d s into it$/,
    );
    expect(holdGrade(found.nearest!, { joint: "knee" })).not.toBe(beyond);
    const { holdSeconds, intensityPercent } = found.nearest!;
    expect(holdSeconds < 90 || intensityPercent! < 70).toBe(true);
    const words = notDoableWords("5 × 90 s", found);
    expect(words.reason).toContain("is not doable as written: even people who tire late");
    expect(words.try).toMatch(/^the nearest that is: "/);
  });
});
