/** Kind of evidence: hand-read texts (what a coach means by them) and identities (round trip). */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  actions,
  canonicalPrescription,
  intensityBases,
  joints,
  muscleLengths,
  prescriptionIssues,
} from "../../src/protocol/prescription.js";
import type { Prescription } from "../../src/protocol/prescription.js";
import { WrittenFormError } from "../../src/protocol/written-tokens.js";
import { parsePrescription, writePrescription } from "../../src/protocol/written-form.js";

const read: readonly (readonly [string, Prescription])[] = [
  [
    "4 x 30 s at 70-75 %, rest 15 s, 3/week, 12 weeks, long",
    {
      sets: 1,
      repetitions: 4,
      holdSeconds: 30,
      intensityPercent: 70,
      intensityPercentHigh: 75,
      restBetweenRepetitionsSeconds: 15,
      sessionsPerWeek: 3,
      weeks: 12,
      muscleLength: "long",
    },
  ],
  [
    "4 × (5 × 3 s) at 95 %, rest 2 s, 60 s between sets, knee 90°, pushing",
    {
      sets: 4,
      repetitions: 5,
      holdSeconds: 3,
      intensityPercent: 95,
      restBetweenRepetitionsSeconds: 2,
      restBetweenSetsSeconds: 60,
      joint: "knee",
      trainingAngleDegrees: [90],
      action: "pushing",
    },
  ],
  [
    "3 sets of 10 x 6s @ 80% MVC, rests 3 s and 2 min, 3 times a week for 8 weeks",
    {
      sets: 3,
      repetitions: 10,
      holdSeconds: 6,
      intensityPercent: 80,
      intensityBasis: "percent of MVC at the training angle",
      restBetweenRepetitionsSeconds: 3,
      restBetweenSetsSeconds: 120,
      sessionsPerWeek: 3,
      weeks: 8,
    },
  ],
  [
    "5 x 45 s at effort 7, rest 2 min, holding a load",
    {
      sets: 1,
      repetitions: 5,
      holdSeconds: 45,
      effortRating: 7,
      intensityBasis: "effort rating 0–10",
      restBetweenRepetitionsSeconds: 120,
      action: "holding",
    },
  ],
  [
    "5 X 45 sec at 7/10; resting 1 min 30 s; twice a week",
    {
      sets: 1,
      repetitions: 5,
      holdSeconds: 45,
      effortRating: 7,
      intensityBasis: "effort rating 0–10",
      restBetweenRepetitionsSeconds: 90,
      sessionsPerWeek: 2,
    },
  ],
  [
    "3 × 5 × 3–5 s, maximal, as fast as possible, rest 0,5 s, 60 s rest between sets, daily",
    {
      sets: 3,
      repetitions: 5,
      holdSeconds: 3,
      holdSecondsHigh: 5,
      intensityBasis: "maximal effort",
      effortIntent: "as fast as possible",
      restBetweenRepetitionsSeconds: 0.5,
      restBetweenSetsSeconds: 60,
      sessionsPerWeek: 7,
    },
  ],
  [
    "5 × 3 s in 4 sets at 95 %, rest 2 s, rest between sets 1 min",
    {
      sets: 4,
      repetitions: 5,
      holdSeconds: 3,
      intensityPercent: 95,
      restBetweenRepetitionsSeconds: 2,
      restBetweenSetsSeconds: 60,
    },
  ],
  // The only rest is one between sets: the 4 counts sets.
  [
    "4 x 30 s at 70 %, 60 s between sets",
    { sets: 4, repetitions: 1, holdSeconds: 30, intensityPercent: 70, restBetweenSetsSeconds: 60 },
  ],
  [
    "2 min at 30 % of 1RM, ankle −10° / 15 degrees, mid length",
    {
      sets: 1,
      repetitions: 1,
      holdSeconds: 120,
      intensityPercent: 30,
      intensityBasis: "percent of one-repetition maximum",
      joint: "ankle",
      trainingAngleDegrees: [-10, 15],
      muscleLength: "middle",
    },
  ],
  [
    "20 holds of 6 s at 70 % MVC at another angle",
    {
      sets: 1,
      repetitions: 20,
      holdSeconds: 6,
      intensityPercent: 70,
      intensityBasis: "percent of MVC at another angle",
    },
  ],
];

describe("parsePrescription: reads what a coach writes", () => {
  test.each(read)("%s", (text, prescription) => {
    expect(parsePrescription(text)).toEqual(prescription);
    expect(parsePrescription(writePrescription(prescription))).toEqual(prescription);
  });
  test("spelling variants of one prescription read the same", () => {
    const one = parsePrescription("4 × 30 s at 70–75 %, rest 15 s, 3/week, 12 weeks, long");
    for (const text of [
      "4x30s at 70-75%, rest 15s, 3/wk, 12 wk, long",
      "4 X 30 seconds @ 70 to 75 percent. Rest: 15 sec; 3 times per week for 12 weeks; long muscle length",
      "4*30 s, 15 s rest, 70−75 %, at long length, 3 sessions a week, 12 weeks",
      "4\u00a0×\u00a00,5 min at 70–75\u202f%, rest 0,25 min, 3x/week, 12 weeks, long",
    ])
      expect(parsePrescription(text), text).toEqual(one);
  });
});

describe("writePrescription", () => {
  test("prints the agreed canonical form", () => {
    expect(
      writePrescription(
        parsePrescription("4 x 30 s at 70-75 %, rest 15 s, 3/week, 12 weeks, long"),
      ),
    ).toBe("4 × 30 s at 70–75%, rest 15 s, 3/week, 12 weeks, long");
    expect(
      writePrescription(
        parsePrescription("4 x 5 x 3 s @ 95%, rests 2 s and 1 min, knee 90 deg, push"),
      ),
    ).toBe("4 × (5 × 3 s) at 95%, rest 2 s, 60 s between sets, knee 90°, pushing");
  });
});

const positive = (max: number): fc.Arbitrary<number> =>
  fc.double({ min: 1e-6, max, noNaN: true, noDefaultInfinity: true });
const maybe = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.option(arbitrary, { nil: undefined });

/** Any sound prescription; candidates that break a rule are filtered out by the rule itself. */
const soundPrescription: fc.Arbitrary<Prescription> = fc
  .record({
    sets: fc.integer({ min: 1, max: 20 }),
    repetitions: fc.integer({ min: 1, max: 100 }),
    holdSeconds: positive(400),
    holdSecondsHigh: maybe(positive(800)),
    effort: fc.oneof(
      fc.constant({}),
      fc.record({
        intensityPercent: positive(100),
        intensityPercentHigh: maybe(positive(100)),
        intensityBasis: maybe(
          fc.constantFrom(...intensityBases.filter((basis) => basis !== "effort rating 0–10")),
        ),
      }),
      fc.record({
        effortRating: positive(10),
        intensityBasis: maybe(fc.constant("effort rating 0–10" as const)),
      }),
      fc.constant({ intensityBasis: "maximal effort" as const }),
    ),
    restBetweenRepetitionsSeconds: maybe(fc.oneof(fc.constant(0), positive(600))),
    restBetweenSetsSeconds: maybe(positive(600)),
    sessionsPerWeek: maybe(positive(14)),
    weeks: maybe(positive(52)),
    muscleLength: maybe(fc.constantFrom(...muscleLengths)),
    trainingAngleDegrees: maybe(
      fc.array(
        fc.double({ min: -180, max: 180, noNaN: true }).map((angle) => (angle === 0 ? 0 : angle)),
        { minLength: 1, maxLength: 4 },
      ),
    ),
    action: maybe(fc.constantFrom(...actions)),
    effortIntent: maybe(
      fc.constantFrom(
        "as fast as possible",
        "ramped and sustained",
        "to failure",
        "slow, 3 s ramp; then hold at 50 %",
      ),
    ),
    joint: maybe(fc.constantFrom(...joints)),
  })
  .map(({ effort, ...rest }) => {
    const fields = Object.entries({ ...rest, ...effort }).filter(
      ([, value]) => value !== undefined,
    );
    return Object.fromEntries(fields) as unknown as Prescription;
  })
  .filter((p) => prescriptionIssues(p).length === 0);

test("parse(write(p)) is p, over generated prescriptions", () => {
  fc.assert(
    fc.property(soundPrescription, (p) => {
      expect(parsePrescription(writePrescription(p))).toEqual(canonicalPrescription(p));
    }),
    { seed: 20100529, numRuns: 2000 },
  );
});

test("write(parse(text)) is a fixed point of itself", () => {
  for (const [text] of read) {
    const once = writePrescription(parsePrescription(text));
    expect(writePrescription(parsePrescription(once))).toBe(once);
  }
});

const refusalOf = (text: string): WrittenFormError => {
  try {
    parsePrescription(text);
  } catch (error) {
    if (error instanceof WrittenFormError) return error;
    throw error;
  }
  throw new Error(`"${text}" was read`);
};

describe("refuses", () => {
  test.each([
    // text, the piece the caret must stand under, code
    ["4 x 30 at 70 %", "at", "unexpected"],
    ["4 x 30 s at 70", "", "unexpected"],
    ["at 70 %, 4 x 30 s", "at", "unexpected"],
    ["4 x 30 s at 70 %, rest 15", "", "unexpected"],
    ["4 x 30 s at 70 %, rest 15 %", "%", "unexpected"],
    ["4 × (5 × 3 s at 95 %", "at", "unexpected"],
    ["4 x 30 s at 70 %, rest 15 s, 60 s between sets", "60", "rest-without-sets"],
    ["4 x 30 s at 70 %, at 80 %", "80", "said-twice"],
    ["4 x 30 s, rest 15 s, rest 20 s", "20", "said-twice"],
    ["4 x 30 s at 170 %", "170", "outside-limits"],
    ["4 x 30 s at 75-70 %", "75", "range-reversed"],
    ["2.5 x 30 s at 70 %", "2.5", "not-a-count"],
    ["0 x 3 s", "0", "not-a-count"],
    ["4 x 0 s", "0", "outside-limits"],
    ["4 x 30 s at 7/12", "12", "unexpected"],
    ["4 x 30 s at effort 11", "11", "outside-limits"],
    ["4 x 1,200 s", "1,200", "ambiguous-number"],
    ["4 x 30 s & rest", "&", "unknown-character"],
    ["4 x 30 s at 70 % of squat", "squat", "unexpected"],
    ["4 x 30 s, wobbling", "wobbling", "unexpected"],
    ["4 x 30 s, 12", "12", "unexpected"],
    ["4 x 30 s, 60 s", "60", "unexpected"],
    ["4 x 30 s at 70 %, effort 7", "7", "two-efforts"],
    ["", "", "unexpected"],
  ])("%s", (text, piece, code) => {
    const error = refusalOf(text);
    expect(error.code).toBe(code);
    expect(error.place).toBe(piece === "" ? text.length : text.lastIndexOf(piece));
    expect(error.message).toContain("for example");
    const [, shown = "", carets = ""] = error.message.split("\n");
    expect(carets.trimStart()).toMatch(/^\^+$/u);
    expect(carets.indexOf("^")).toBe(2 + error.place);
    expect(shown.slice(2)).toBe(text);
  });

  test("any text is either read or refused with a place inside it, never anything else", () => {
    const pieces = fc.constantFrom(
      ...'4|30|70|x|×|s|min|at|@|%|rest|,|and|between|sets|of|(|)|week|/|weeks|long|knee|°|-|7|10|effort|maximal|pushing|1|rm|mvc|&|"'.split(
        "|",
      ),
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 14 }), (words) => {
        const text = words.join(" ");
        try {
          expect(prescriptionIssues(parsePrescription(text))).toEqual([]);
        } catch (error) {
          if (!(error instanceof WrittenFormError)) throw error;
          expect(error.place).toBeLessThanOrEqual(text.length);
        }
      }),
      { seed: 7, numRuns: 3000 },
    );
  });
});
