/** Kind of evidence: the answer against a plain scan, and its two sides. */
import { describe, expect, test } from "vitest";
import { holdGrade } from "../../src/endurance/can-be-held.js";
import { whatWouldFit } from "../../src/endurance/what-would-fit.js";
import type { Fit } from "../../src/endurance/what-would-fit.js";
import type { Prescription } from "../../src/protocol/prescription.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

const texts = [
  "4 × 20 s at 70%, rest 60 s, knee",
  "6 × 10 s at 60%, rest 20 s, knee",
  "3 × (6 × 8 s) at 55%, rest 10 s, 90 s between sets, elbow",
  "10 × 3 s at 75%, rest 2 s, ankle",
];
const keeps = ["comfortable", "near the limit"] as const;
const cases = texts.flatMap((text) => keeps.map((keep) => [text, keep] as const));

const limit = (fit: Fit | undefined): number => (fit?.kind === "limit" ? fit.value : NaN);

describe.each(cases)("%s, keeping %s", (text, keep) => {
  const p = parsePrescription(text);
  const fit = whatWouldFit(p, { keep });
  const fits = (change: Partial<Prescription>): boolean => {
    const grade = holdGrade({ ...p, ...change });
    return grade === "comfortable" || grade === keep;
  };
  test("the longest hold fits and a tenth of a second more does not", () => {
    const holdSeconds = limit(fit.longestHoldSeconds);
    expect(fits({ holdSeconds })).toBe(true);
    expect(fits({ holdSeconds: holdSeconds + 0.1 })).toBe(false);
  });
  test("the number of repetitions is what counting up finds", () => {
    let counted = 0;
    while (counted < 200 && fits({ repetitions: counted + 1 })) counted += 1;
    const expected: Fit =
      counted === 0
        ? { kind: "cannot fit" }
        : counted === 200
          ? { kind: "no limit", searchedTo: 200 }
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
      } else if (found.kind === "cannot fit") expect(fits({ [field]: 3600 })).toBe(false);
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
    keep: "near the limit",
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
    /requires an intensity below 100%/u,
  );
});
