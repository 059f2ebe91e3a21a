/** Isometric or dynamic, as it is finally said, listed and given to scripts; every number worked out by hand. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { questionList } from "../../src/answers/question-list.js";
import { placedAnswers } from "../../src/report/report-part.js";
import { reportOn } from "../../src/report/report-parts.js";
import {
  codebookText,
  evidenceOf,
  historicEvidence,
  outcomeRow,
  shippedEvidence,
} from "./evidence-under-test.js";
import { expectPlain } from "./last-yard.js";

const id = "isometric-or-dynamic";
const question = () => questionList[id].load();

/** A percent change of 25 people with deviation 10: an error of 2 points, whatever the scale in between. */
const arm = (
  study: string,
  name: string,
  change: number,
  more: Readonly<Record<string, string | number>> = {},
) => ({
  ...{ study, arm: name, arm_kind: "isometric", n_end: 25, weeks: 8 },
  ...{ outcome: "peak torque", outcome_family: "strength", test_mode: "isometric" },
  ...{ statistic: "percent change with spread", spread_kind: "standard deviation" },
  ...{ change_percent_mean: change, change_percent_spread: 10, sessions_per_week: 3 },
  ...more,
});
const moved = { arm_kind: "dynamic", intensity_percent: 80, sets: 3, repetitions: 10 };
const held = { intensity_percent: 100, sets: 3, repetitions: 10, hold_seconds: 3 };
/** Rows without a spread stay without a weight. */
const own = { borrowedSpread: "none" };
const lifted = { test_mode: "lifting" };

const file = () =>
  evidenceOf(
    codebookText([
      // The moving arm stands first here and last there: the sign is that of holding in both.
      arm("Ash 2001", "lift", 10, moved),
      arm("Ash 2001", "hold", 25, held),
      arm("Birch 2002", "hold", 21, held),
      arm("Birch 2002", "lift", 15, { ...moved, hold_seconds: 3 }),
      // A lifted test of one of them, the other way round.
      arm("Ash 2001", "lift", 40, { ...moved, ...lifted }),
      arm("Ash 2001", "hold", 12, { ...held, ...lifted }),
      // Imagined contractions move nothing; women beside men compare no training; no spread, no weight.
      arm("Cedar 2003", "hold", 18, held),
      arm("Cedar 2003", "imagined", 9, { arm_kind: "other exercise" }),
      arm("Dogwood 2004", "women hold", 33, { ...held, female_percent: 100 }),
      arm("Dogwood 2004", "men lift", 5, { ...moved, female_percent: 0 }),
      arm("Elm 2005", "hold", 16.5, { ...held, change_percent_spread: "" }),
      arm("Elm 2005", "lift", 14, { ...moved, repetitions: 8 }),
    ]),
  );

describe("by hand", () => {
  test("two studies of one way of testing are averaged, isometric minus dynamic", async () => {
    const answer = await ask(id, own, file());
    expectPlain(answer, await question());
    const [isometric] = answer.data.groups;
    // Log differences ln 1.25 − ln 1.10 and ln 1.21 − ln 1.15; nearly equal weights, one degree of freedom.
    const differences = [Math.log(1.25 / 1.1), Math.log(1.21 / 1.15)] as const;
    const { effects } = answer.figures.find(({ name }) => name === "estimates")!
      .data as unknown as {
      effects: readonly { study: string; estimate: number; high: number }[];
    };
    expect(effects.map(({ study, estimate }) => [study, estimate])).toEqual([
      ["Ash 2001", expect.closeTo(differences[0], 10)],
      ["Birch 2002", expect.closeTo(differences[1], 10)],
    ]);
    // Errors 2/125 and 2/110 of the one, 2/121 and 2/115 of the other.
    expect(effects[0]!.high - effects[0]!.estimate).toBeCloseTo(
      1.959963985 * Math.hypot(2 / 125, 2 / 110),
      8,
    );
    expect(effects[1]!.high - effects[1]!.estimate).toBeCloseTo(
      1.959963985 * Math.hypot(2 / 121, 2 / 115),
      8,
    );
    expect(isometric).toMatchObject({ effects: 2, studies: 2, call: "cannot be told" });
    expect(isometric!.estimate).toBeCloseTo((differences[0] + differences[1]) / 2, 3);
    // Two clusters of equal weight: half their distance is the error, and t(0.975) on one degree is 12.706.
    expect(isometric!.interval!.high - isometric!.estimate!).toBeCloseTo(
      (12.706 * (differences[0] - differences[1])) / 2,
      1,
    );
    expect(answer.headline).toMatch(
      /^Strength, isometric minus dynamic: 9\.\d% \(95% interval −\d+\.\d to \d+\.\d%; 2 effects in 2 studies\) on average\. Which of the two gains more in this test cannot be told from this file\.$/,
    );
  });

  test("another way of testing stands apart, refused in words with its single trial", async () => {
    const { sentences, data } = await ask(id, own, file());
    const lifting = data.groups.find(({ testMode }) => testMode === "lifting")!;
    expect(lifting.refusal?.["code"]).toBe("one-study");
    // 12 − 40; both errors 2 points, so √8 of the difference.
    expect(lifting.comparisons[0]).toMatchObject({ study: "Ash 2001", difference: -28 });
    expect(lifting.comparisons[0]!.interval!.high).toBeCloseTo(-28 + 1.959963985 * Math.sqrt(8), 6);
    expect(sentences.join(" ")).toContain(
      "Strength, tested by lifting: no average of isometric minus dynamic, as there is one effect of one study, Ash 2001; it stands by itself and is no average. Ash 2001, exercise moving (3 × 10, 80%; 3 a week, 8 weeks) against holding (3 × 10 × 3 s, 100%; 3 a week, 8 weeks): 40% and 12%, difference −28.0 points (−33.5 to −22.5); nothing else coded differs; not coded for both: time under tension.",
    );
  });

  test("every trial is listed, oriented alike, with its doses, equal work and what is not said", async () => {
    const { tables, sentences } = await ask(id, { ...own, outcome: "strength" }, file());
    const trials = tables.find(({ id: name }) => name.startsWith("single-trials"))!;
    expect(trials.place).toBeUndefined();
    expect(trials.rows.map(({ what, told, else: also }) => [what, told, also])).toEqual([
      [
        "Ash 2001. Exercise: moving (3 × 10, 80%; 3 a week, 8 weeks) → holding (3 × 10 × 3 s, 100%; 3 a week, 8 weeks)",
        "10% → 25%: 15.0 points (9.5 to 20.5)",
        "nothing else coded differs; not coded for both: time under tension",
      ],
      [
        "Birch 2002. Exercise: moving (3 × 10 × 3 s, 80%; 3 a week, 8 weeks) → holding (3 × 10 × 3 s, 100%; 3 a week, 8 weeks)",
        "15% → 21%: 6.0 points (0.5 to 11.5)",
        "nothing else coded differs",
      ],
      [
        "Cedar 2003. Exercise: imagined (3 a week, 8 weeks) → holding (3 × 10 × 3 s, 100%; 3 a week, 8 weeks)",
        "9% → 18%: 9.0 points (3.5 to 14.5)",
        "nothing else coded differs; not coded for both: contractions in a session, time under tension",
      ],
      [
        "Elm 2005. Exercise: moving (3 × 8, 80%; 3 a week, 8 weeks) → holding (3 × 10 × 3 s, 100%; 3 a week, 8 weeks)",
        "14% → 16.5%: 2.5 points (no interval)",
        "also differs: contractions in a session; not coded for both: time under tension",
      ],
    ]);
    expect(sentences.join(" ")).toContain(
      "Equal work (contractions, time under tension, sessions, weeks): told in 1 of 2 trials, not said in full in 1.",
    );
    expect(sentences.join(" ")).toContain("In the file, but without a weight: Elm 2005 (1 row)");
  });

  test("a borrowed spread lets a trial in, and the answer says what it is without", async () => {
    const { sentences, data } = await ask(id, { outcome: "strength" }, file());
    expect(data.groups[0]).toMatchObject({ effects: 3, studies: 3 });
    expect(sentences.join(" ")).toContain("1 of 3 effects has a borrowed spread; without it 9.");
  });

  test("other exercise is averaged where it is asked for", async () => {
    const { data, headline } = await ask(
      id,
      { ...own, against: "dynamic, other exercise" },
      file(),
    );
    expect(data.groups[0]).toMatchObject({ effects: 3, studies: 3 });
    expect(headline).toContain("isometric minus dynamic or other exercise");
  });
});

test("a difference that two trials agree on is called, and said to rest on too few; work differs if any arm's does", async () => {
  const rows = ["Ash 2001", "Birch 2002"].flatMap((study) => [
    arm(study, "lift", 10, moved),
    arm(study, "hold", study === "Ash 2001" ? 25 : 25.1, { ...held, repetitions: 6 }),
    arm(study, "hold more", 25, held),
  ]);
  const { headline, sentences } = await ask(id, {}, evidenceOf(codebookText(rows)));
  expect(headline).toMatch(
    /4 effects in 2 studies\) on average\. In this test isometric training gained more\. That rests on too few studies to rely on\.$/,
  );
  expect(sentences.join(" ")).toContain(
    "told in 0 of 2 trials, unequal in Ash 2001 (contractions in a session) and Birch 2002 (contractions in a session).",
  );
});

test("tests of one name that cannot be told apart are paired with none", async () => {
  const rows = [
    arm("Ash 2001", "lift", 10, moved),
    arm("Ash 2001", "hold", 25, held),
    arm("Ash 2001", "hold", 35, held),
  ];
  const { headline, data } = await ask(id, {}, evidenceOf(codebookText(rows)));
  expect(headline).toBe(
    "No answer: no study of this file tested arms that held and arms that moved alike.",
  );
  expect(data.refusal?.code).toBe("no-pairs");
});

test("an outcome whose way of testing is not said is shown and not averaged", async () => {
  const blank = { test_mode: "not reported" };
  const rows = ["Ash 2001", "Birch 2002"].flatMap((study) => [
    arm(study, "lift", 10, { ...moved, ...blank }),
    arm(study, "hold", 25, { ...held, ...blank }),
  ]);
  const { sentences, data } = await ask(id, {}, evidenceOf(codebookText(rows)));
  expect(data.groups[0]).toMatchObject({ effects: 0, refusal: { code: "no-effects" } });
  expect(data.groups[0]!.comparisons).toHaveLength(2);
  expect(sentences.join(" ")).toContain(
    "Not averaged, as the way of testing is not said: Ash 2001 and Birch 2002.",
  );
});

test("of the historic trials, women are not set beside men, and both ways of testing are answered", async () => {
  const { data } = await ask(id, {}, historicEvidence());
  const [isometric, lifting] = data.groups;
  const arms = isometric!.comparisons
    .filter(({ study }) => study.startsWith("Bonde"))
    .map((one) => [one["lower"], one["higher"]].map((side) => (side as { arm: string }).arm));
  // Arms 85 to 87 are women, 88 to 90 men (female_percent 100 and 0); the last of each trained by lifting.
  expect([...new Set(arms.map((pair) => pair.join(" ")))]).toEqual([
    "87 85",
    "87 86",
    "90 88",
    "90 89",
  ]);
  // Berger 1962, lines 58 and 382: 346.76 of 302.16 and 334.38 of 312.18, so 14.760 − 7.111 points.
  const berger = isometric!.comparisons.find(({ study }) => study === "Berger 1962")!;
  expect(berger.difference).toBeCloseTo(7.649, 3);
  expect([isometric!.testMode, lifting!.testMode]).toEqual(["isometric", "lifting"]);
  expect(lifting!.estimate).toBeDefined();
});

test("a report and the library have their answer", async () => {
  const answer = await ask(id, {}, shippedEvidence("published-outcomes.csv"));
  expect(answer.headline).toMatch(/isometric minus dynamic/);
  const report = await reportOn(
    evidenceOf(
      codebookText([
        outcomeRow("Ash 2001", 120, { arm: "hold" }),
        outcomeRow("Ash 2001", 110, { arm: "lift", arm_kind: "dynamic" }),
      ]),
    ),
  );
  const placed = placedAnswers(report).find((one) => one.id === id);
  expect(placed?.answer.headline).toContain("difference 10.0 points");
});
