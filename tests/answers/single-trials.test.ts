/** What single trials compared, as it is finally printed and given to scripts; every number worked out by hand. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { questionList } from "../../src/answers/question-list.js";
import {
  firstWave,
  codebookText,
  evidenceOf,
  outcomeRow,
  shippedEvidence,
} from "./evidence-under-test.js";
import { expectPlain } from "./last-yard.js";

const published = () => shippedEvidence(firstWave);

/** A percent change of n people with a printed spread: its error is spread/√n whatever the scale in between. */
const percentRow = (
  study: string,
  arm: string,
  change: number,
  more: Readonly<Record<string, string | number>> = {},
) => ({
  study,
  arm,
  arm_kind: "isometric",
  citation: `${study} and others, Journal of Hand Sums`,
  design: "randomised groups",
  weeks: 8,
  outcome: "peak isometric torque",
  outcome_family: "strength",
  test_mode: "isometric",
  statistic: "percent change with spread",
  change_percent_mean: change,
  spread_kind: "standard deviation",
  ...more,
});

const byHand = () =>
  evidenceOf(
    codebookText([
      // Differ in intensity alone. Errors 12/√36 = 2 and 9/√9 = 3, so √13 of the difference; 20 − 12 = 8.
      percentRow("Ash 2001", "soft", 12, {
        ...{ n_end: 36, change_percent_spread: 12, intensity_percent: 40 },
        ...{ hold_seconds: 5, repetitions: 6, sets: 4, sessions_per_week: 3 },
      }),
      percentRow("Ash 2001", "hard", 20, {
        ...{ n_end: 9, change_percent_spread: 9, intensity_percent: 85 },
        ...{ hold_seconds: 5, repetitions: 6, sets: 4, sessions_per_week: 3 },
      }),
      // No spread; longer holds at as many holds, so that tension time follows; and another rest.
      percentRow("Birch 2002", "brief", 7.5, {
        ...{ n_end: 11, intensity_percent: 70, hold_seconds: 3, repetitions: 10, sets: 2 },
        rest_between_repetitions_seconds: 20,
      }),
      percentRow("Birch 2002", "long", 19, {
        ...{ n_end: 10, intensity_percent: 70, hold_seconds: 12, repetitions: 10, sets: 2 },
        rest_between_repetitions_seconds: 30,
      }),
      // Coded alike.
      percentRow("Cedar 2003", "blue", 31, { n_end: 14 }),
      percentRow("Cedar 2003", "green", 28.5, { n_end: 15 }),
      // One arm alone compares nothing; neither does an arm against a control.
      percentRow("Dogwood 2004", "only", 44, { n_end: 13 }),
      percentRow("Dogwood 2004", "control", 2, { n_end: 12, arm_kind: "no exercise" }),
    ]),
  );

/** The two limits of a difference with a given error. */
const within = (difference: number, error: number): readonly [number, number] => [
  difference - 1.959963985 * error,
  difference + 1.959963985 * error,
];

describe("by hand", () => {
  test("counts, what each trial compared, and what else differed", async () => {
    const answer = await ask("single-trials", {}, byHand());
    expectPlain(answer, await questionList["single-trials"].load());
    expect(answer.headline).toBe(
      "3 comparisons of two arms inside 3 trials, 1 with an interval. Nothing is pooled here: each trial speaks for itself.",
    );
    expect(answer.sentences).toEqual([
      "Strength: intensity (1 trial), hold length (1 trial), rest between holds (1 trial), arms coded alike (1 trial). 1 of 4 comparisons differ in that one thing only, as far as it is coded.",
    ]);
    // √(2² + 3²) = 3.6056: 8 − 7.07 = 0.93 and 8 + 7.07 = 15.07.
    expect(answer.tables[0]!.rows.map(({ what, told, else: also }) => [what, told, also])).toEqual([
      [
        "Ash 2001. Intensity: 40% of MVC → 85% of MVC",
        "12% → 20%: 8.0 points (0.9 to 15.1)",
        "nothing else coded differs",
      ],
      [
        "Birch 2002. Hold length: 3 s → 12 s",
        "7.5% → 19%: 11.5 points (no interval)",
        "also differs: rest between holds",
      ],
      [
        "Birch 2002. Rest between holds: 20 s → 30 s",
        "7.5% → 19%: 11.5 points (no interval)",
        "also differs: hold length, tension time in a session",
      ],
      [
        "Cedar 2003. Arms coded alike: blue → green",
        "31% → 28.5%: −2.5 points (no interval)",
        "not coded for both: intensity, hold length, number of holds",
      ],
    ]);
    expect(answer.tables[0]!.notes).toContain(
      "Ash 2001: Ash 2001 and others, Journal of Hand Sums",
    );
  });

  test("data hold the lines, limits of each arm, what a row lacks, and what follows from what", async () => {
    const { data } = await ask("single-trials", {}, byHand());
    const [strength] = data.groups;
    const of = (variable: string) =>
      strength!.comparisons.filter((one) => one.variable === variable);
    const [intensity] = of("intensityPercent");
    expect([intensity!.lower.line, intensity!.higher.line]).toEqual([2, 3]);
    const [low, high] = within(8, Math.sqrt(13));
    expect(intensity!.interval!.low).toBeCloseTo(low, 6);
    expect(intensity!.interval!.high).toBeCloseTo(high, 6);
    expect(intensity!.lower.interval!.low).toBeCloseTo(within(12, 2)[0], 6);
    expect(intensity!.higher.interval!.high).toBeCloseTo(within(20, 3)[1], 6);
    expect(of("holdSeconds")[0]!.lower.wanted).toMatch(/^the spread of the percent changes/);
    expect(of("tensionTimePerSessionSeconds")[0]!.followsFrom).toBe("holdSeconds");
    expect(data.rowsUsed).toEqual([2, 3, 4, 5, 6, 7]);
  });

  test("limbs of the same people share their covariance; scores stand in points, the better way up", async () => {
    const limb = (arm: string, post: number, more: Readonly<Record<string, string | number>>) =>
      outcomeRow("Elm 2005", post, { arm, design: "within-person limbs", ...more });
    const score = (arm: string, post: number, hold: number) =>
      outcomeRow("Fir 2006", post, {
        ...{ arm, hold_seconds: hold, outcome: "pain 0–10", outcome_family: "symptoms" },
        ...{ unit: "points", pre_mean: 6, pre_spread: 2, post_spread: 2, higher_is: "worse" },
      });
    const text = codebookText([
      limb("left", 120, { muscle_length: "short", training_angle_degrees: 30 }),
      limb("right", 135, { muscle_length: "long", training_angle_degrees: 90 }),
      score("brief", 4.5, 5),
      score("long", 3, 45),
    ]);
    const apart = await ask("single-trials", { limbsCorrelation: 0 }, evidenceOf(text));
    const together = await ask("single-trials", { limbsCorrelation: 0.75 }, evidenceOf(text));
    const of = ({ data }: typeof apart) => data.groups[0]!.comparisons;
    const half = (answer: typeof apart): number => {
      const { low, high } = of(answer)[0]!.interval!;
      return (high - low) / 2;
    };
    const [length, angle] = of(together);
    expect([length!.variable, length!.difference, length!.alsoDiffer]).toEqual([
      "muscleLength",
      15,
      [],
    ]);
    expect(angle!.followsFrom).toBe("muscleLength");
    // With a the errors of the arms: a₁² + a₂² apart; less 2·0.75·a₁a₂ together.
    const arms = [length!.lower, length!.higher].map(
      ({ gain, interval }) => interval!.high - gain!,
    ) as [number, number];
    expect(half(apart)).toBeCloseTo(Math.hypot(...arms), 6);
    expect(half(together)).toBeCloseTo(
      Math.sqrt(arms[0] ** 2 + arms[1] ** 2 - 1.5 * arms[0] * arms[1]),
      6,
    );
    const pain = together.data.groups.find(({ family }) => family === "symptoms")!;
    expect(pain.comparisons[0]).toMatchObject({ unit: "points", difference: 1.5 });
    expect(pain.comparisons[0]!.lower.gain).toBe(1.5);
    expect(pain.comparisons[0]!.higher.gain).toBe(3);
  });

  test("how far the two arms lie from the protocols asked about; the nearest first", async () => {
    const protocol = ["2 x (10 x 12 s) at 70%", "2 x (10 x 3 s) at 70%"];
    const { tables, data } = await ask("single-trials", { protocol }, byHand());
    expect(tables[0]!.rows[0]!["what"]).toMatch(/^Birch 2002/);
    const [first] = data.groups[0]!.comparisons;
    expect(first!.nearness!.names).toEqual(["B", "A"]);
    expect(tables[0]!.rows[0]!["steps"]).toMatch(/^B \d\.\d, A \d\.\d$/);
  });
});

test("of the published outcomes every trial of the issue is there, whether or not it has a weight", async () => {
  const { data, headline } = await ask("single-trials", {}, published());
  const named = data.groups.flatMap(({ id, comparisons }) =>
    comparisons.map(({ study, variable }) => `${id} ${study} ${variable}`),
  );
  expect(named).toEqual(
    expect.arrayContaining([
      "strength Training intensity trial intensityPercent",
      "strength Balshaw 2016 effortIntent",
      "strength Tillin 2014 effortIntent",
      "strength Kubo 2001 J Physiol holdSeconds",
      "strength Arampatzis 2007 notCoded",
      "strength-moving-at-fixed-speed Alegre 2014 muscleLength",
      "size Balshaw 2016 effortIntent",
      "tendon Massey 2018 effortIntent",
    ]),
  );
  // An isometric leg against a dynamic one compares no dose.
  expect(named.join()).not.toContain("Folland 2005");
  expect(headline).toMatch(
    /^\d+ comparisons of two arms inside \d+ trials, \d+ with an interval\./,
  );
});

test("a file with one arm a study compares nothing, and says so", async () => {
  const file = evidenceOf(
    codebookText([outcomeRow("Ash 2001", 120), outcomeRow("Birch 2002", 110)]),
  );
  const answer = await ask("single-trials", {}, file);
  expect(answer.headline).toBe(
    "No comparison: no study of this file has two training arms that were tested alike.",
  );
  expect(answer.data.refusal?.code).toBe("no-pairs");
  expect(answer.figures).toEqual([]);
});

test("the figure's words and downloaded numbers are those of the table", async () => {
  const { figures } = await ask("single-trials", {}, byHand());
  const [figure] = figures.flatMap(drawnFigures);
  expect(figure!.title).toBe(
    "Strength, inside 2 trials: the higher dose minus the lower runs from 8.0 to 11.5 points.",
  );
  expect(figure!.description).toContain(
    "Ash 2001, Intensity 40% of MVC to 85% of MVC: 12 → 20%, difference 8.0 (0.9 to 15.1)",
  );
  expect(
    figure!.data.map(({ study, lowerGain, higherGain, low }) => [
      study,
      lowerGain,
      higherGain,
      low === null,
    ]),
  ).toEqual([
    ["Ash 2001", 12, 20, false],
    ["Birch 2002", 7.5, 19, true],
    ["Birch 2002", 7.5, 19, true],
    ["Cedar 2003", 31, 28.5, true],
  ]);
});
