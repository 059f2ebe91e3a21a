/** Kind of evidence: the answer against a plain scan, and its two sides. */
import { describe, expect, test } from "vitest";
import { holdGrade } from "../../src/endurance/can-be-held.js";
import { whatWouldFit } from "../../src/endurance/what-would-fit.js";
import type { Fit } from "../../src/endurance/what-would-fit.js";
import type { Prescription } from "../../src/protocol/prescription.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

const texts = [
  "4 × 20 s at 70%, rest 60 s, knee, pushing",
  "6 × 10 s at 60%, rest 20 s, knee",
  "3 × (6 × 8 s) at 55%, rest 10 s, 90 s between sets, elbow",
  "10 × 3 s at 75%, rest 2 s, ankle",
];
const keeps = ["to spare", "hard"] as const;
const cases = texts.flatMap((text) => keeps.map((keep) => [text, keep] as const));

const limit = (fit: Fit | undefined): number => (fit?.kind === "limit" ? fit.value : NaN);

describe.each(cases)("%s, keeping %s", (text, keep) => {
  const p = parsePrescription(text);
  const fit = whatWouldFit(p, { keep });
  const fits = (change: Partial<Prescription>): boolean => {
    const grade = holdGrade({ ...p, ...change });
    return grade === "to spare" || grade === keep;
  };
  test("the longest hold fits and a tenth of a second more does not", () => {
    const holdSeconds = limit(fit.longestHoldSeconds);
    expect(fits({ holdSeconds })).toBe(true);
    expect(fits({ holdSeconds: holdSeconds + 0.1 })).toBe(false);
  });
  test("the number of repetitions is what counting up finds", () => {
    let counted = 0;
    while (counted < 200 && fits({ repetitions: counted + 1 })) counted += 1;
    // One more is then either too hard or over the hour, up to which the search goes.
    const beyondTheHour = holdGrade({ ...p, repetitions: counted + 1 }) === null;
    const expected: Fit =
      counted === 0
        ? { kind: "cannot fit" }
        : counted === 200 || beyondTheHour
          ? { kind: "no limit", searchedTo: counted }
          : { kind: "limit", value: counted };
    expect(fit.mostRepetitions).toEqual(expected);
  });
  test("the shortest rests fit and a tenth of a second less does not", () => {
    for (const [field, found] of [
      ["restBetweenRepetitionsSeconds", fit.shortestRestBetweenRepetitionsSeconds],
      ["restBetweenSetsSeconds", fit.shortestRestBetweenSetsSeconds],
    ] as const) {
      if (found === undefined) {
        expect(field).toBe("restBetweenSetsSeconds");
        expect(p.sets).toBe(1);
      } else if (found.kind === "cannot fit") expect(fits({ [field]: 300 })).toBe(false);
      else {
        const value = limit(found);
        expect(fits({ [field]: value })).toBe(true);
        if (value > 0) expect(fits({ [field]: value - 0.1 })).toBe(false);
      }
    }
  });
});

test("loads that last for ever have no limit in reach", () => {
  const fit = whatWouldFit(parsePrescription("3 × 60 s at 3%, rest 5 s, knee"), {
    keep: "hard",
  });
  expect(fit.longestHoldSeconds.kind).toBe("no limit");
  expect(fit.mostRepetitions?.kind).toBe("no limit");
  expect(fit.shortestRestBetweenRepetitionsSeconds).toEqual({ kind: "limit", value: 0 });
});

test("a single hold has no rest to shorten, and says that repetitions were not searched", () => {
  const fit = whatWouldFit(parsePrescription("30 s at 85%, knee"));
  expect(fit.mostRepetitions).toBeUndefined();
  expect(fit.shortestRestBetweenRepetitionsSeconds).toBeUndefined();
  expect(fit.notes.map((note) => note.code)).toContain("no-rest");
});

test("refuses a maximal effort, which has no load to fail at", () => {
  expect(() => whatWouldFit(parsePrescription("4 × 5 s, maximal, rest 60 s"))).toThrow(
    /requires an intensity below 95%/u,
  );
});

test("no search leaves the hour: the reach is what is left of it, by hand", () => {
  // 3 × 60 s with 5 s between are 190 s, so each hold could be (3600 − 190)/3 s longer: 1196.6 s to a tenth.
  const p = parsePrescription("3 × 60 s at 3%, rest 5 s, knee, pushing");
  const fit = whatWouldFit(p, { keep: "hard" });
  expect(fit.longestHoldSeconds).toEqual({ kind: "no limit", searchedTo: 1196.6 });
  // One more hold takes 65 s: (3600 − 190)/65 = 52.46 more.
  expect(fit.mostRepetitions).toEqual({ kind: "no limit", searchedTo: 55 });
  expect(() => whatWouldFit({ ...p, holdSeconds: 1300 })).toThrow(
    /at most an hour, got one of 65 min/u,
  );
});
