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
import { WrittenFormError } from "../../src/protocol/written-error.js";
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
    setsHigh: maybe(fc.integer({ min: 1, max: 30 })),
    repetitions: fc.integer({ min: 1, max: 100 }),
    repetitionsHigh: maybe(fc.integer({ min: 1, max: 200 })),
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
        effortRatingHigh: maybe(positive(10)),
        intensityBasis: maybe(fc.constant("effort rating 0–10" as const)),
      }),
      fc.constant({ intensityBasis: "maximal effort" as const }),
    ),
    restBetweenRepetitionsSeconds: maybe(fc.oneof(fc.constant(0), positive(600))),
    restBetweenRepetitionsSecondsHigh: maybe(positive(900)),
    restBetweenSetsSeconds: maybe(positive(600)),
    restBetweenSetsSecondsHigh: maybe(positive(900)),
    sessionsPerWeek: maybe(positive(14)),
    sessionsPerWeekHigh: maybe(positive(30)),
    weeks: maybe(positive(52)),
    weeksHigh: maybe(positive(104)),
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
    const all: Readonly<Record<string, unknown>> = { ...rest, ...effort };
    // A high end without a higher one than its low is left out, so that most candidates are sound.
    const fields = Object.entries(all).filter(
      ([field, value]) =>
        value !== undefined &&
        !(field.endsWith("High") && !(Number(value) > Number(all[field.slice(0, -4)] ?? Infinity))),
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

test("parse reads it back however it is spelt and in whatever order", () => {
  const pick = <T>(...choices: readonly T[]): fc.Arbitrary<T> => fc.constantFrom(...choices);
  const n = (low: number, high: number): fc.Arbitrary<readonly [number, number | undefined]> =>
    fc
      .tuple(fc.integer({ min: low, max: high }), maybe(fc.integer({ min: low, max: 2 * high })))
      .map(([a, b]) => [a, b !== undefined && b > a ? b : undefined] as const);
  const spelling = fc.record({
    times: pick("x", " x ", "X", " × ", "*", " by "),
    dash: pick("-", "–", " to ", " - ", "—"),
    seconds: pick(" s", "s", " sec", '"', "″", " seconds", "secs"),
    percent: pick(" %", "%", " percent"),
    at: pick("at ", "@", "@ ", ""),
    every: pick("/week", "x/wk", " times a week", " sessions per week", "x week", " days/week"),
    weeks: pick(" weeks", "wk", "-week", " wks"),
    rest: pick("rest ", "resting ", "Rest: ", "w/ rest of "),
    between: pick(" between sets", " b/w sets", " rest between sets", " between rounds"),
    gap: pick(", ", "; ", " ", ". "),
    order: fc.shuffledSubarray([0, 1, 2, 3, 4, 5, 6], { minLength: 7, maxLength: 7 }),
    length: pick(["long", "lengthened"], ["short", "shortened"], ["middle", "mid-range"]),
    place: pick(["knee", "quads"], ["ankle", "calf"], ["hand", "handgrip"], ["trunk", "plank"]),
  });
  fc.assert(
    fc.property(
      fc.tuple(n(2, 6), n(2, 12), n(3, 90), n(11, 99), n(5, 90), n(100, 300), n(1, 7), n(2, 20)),
      spelling,
      ([sets, reps, holds, load, rest, setRest, perWeek, weeks], how) => {
        const r = ([low, high]: readonly [number, number | undefined]): string =>
          high === undefined ? String(low) : `${low}${how.dash}${high}`;
        fc.pre((load[1] ?? 0) <= 100);
        const clauses = [
          `${r(sets)}${how.times}${r(reps)}${how.times}${r(holds)}${how.seconds}`,
          `${how.at}${r(load)}${how.percent}`,
          `${how.rest}${r(rest)}${how.seconds}`,
          `${r(setRest)}${how.seconds}${how.between}`,
          `${r(perWeek)}${how.every}`,
          `${r(weeks)}${how.weeks}`,
          `${how.length[1] ?? ""}, ${how.place[1] ?? ""}`,
        ];
        const text = how.order.map((index) => clauses[index]).join(how.gap);
        const want: Record<string, unknown> = {
          muscleLength: how.length[0],
          joint: how.place[0],
        };
        for (const [field, [low, high]] of Object.entries({
          sets,
          repetitions: reps,
          holdSeconds: holds,
          intensityPercent: load,
          restBetweenRepetitionsSeconds: rest,
          restBetweenSetsSeconds: setRest,
          sessionsPerWeek: perWeek,
          weeks,
        })) {
          want[field] = low;
          if (high !== undefined) want[`${field}High`] = high;
        }
        expect(parsePrescription(text), text).toEqual(want);
      },
    ),
    { seed: 11, numRuns: 3000 },
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
    ["4 x 30 s at 7", "at", "unexpected"],
    ["4 x 30 s at 70 %, rest 2", "rest", "unexpected"],
    ["4 x 30 s at 70 %, rest 15 %", "rest", "unexpected"],
    ["4 x 30 s at 70 %, rest 15 s, 60 s between sets", "60", "rest-without-sets"],
    ["4 x 30 s, rest 15 s, rest 20 s", "20", "rest-without-sets"],
    ["4 x 30 s at 70 %, at 80 %", "80", "said-twice"],
    ["4 x 30 s at 170 %", "170", "outside-limits"],
    ["4 x 30 s at 75-70 %", "75-70", "range-reversed"],
    ["2.5 x 30 s at 70 %", "2.5", "not-a-count"],
    ["3–3.5 × (4 × 30 s)", "3–3.5", "not-a-count"],
    ["0 x 3 s", "0", "not-a-count"],
    ["4 x 0 s", "0", "outside-limits"],
    ["4 x 30 s at 7/12", "12", "unexpected"],
    ["4 x 30 s at effort 11", "11", "outside-limits"],
    // The caret stands under the part that is wrong, not under an earlier equal one.
    ["4 x 20 s at effort 7 of 7, rest 60 s", "7", "unexpected"],
    ["4 x 1,200 s", "1,200", "ambiguous-number"],
    ["4 x 30 s & rest", "rest", "unexpected"],
    ["4 x 30 s # hard", "#", "unknown-character"],
    ["4 x 30 s at 70 % of squat", "at 70 % of squat", "unexpected"],
    ["4 x 30 s at 70 % bodyweight", "at 70 % bodyweight", "unexpected"],
    ["4 x 30 s, wobbling", "wobbling", "unexpected"],
    ["4 x 30 s, 12", "12", "unexpected"],
    ["4 x 30 s at 70 %, effort 7", "7", "two-efforts"],
    ["6/10 x 10", "6/10 x 10", "unexpected"],
    ["8 x 400m, 90s rest", "400m", "unexpected"],
    ["wall sit x 3", "", "unexpected"],
    ["", "", "unexpected"],
  ])("%s", (text, piece, code) => {
    const error = refusalOf(text);
    expect(error.code).toBe(code);
    expect(error.place).toBe(piece === "" ? text.length : text.lastIndexOf(piece));
    expect(error.message).toContain("for example");
    const [, shown = "", carets = ""] = error.message.split("\n");
    if (error.meant !== undefined) expect(() => parsePrescription(error.meant ?? "")).not.toThrow();
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
