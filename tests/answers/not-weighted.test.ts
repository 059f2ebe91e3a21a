/** No refusal reads as if the file did not hold rows that it holds. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import type { Answer } from "../../src/answers/answer.js";
import type { Evidence } from "../../src/answers/evidence.js";
import type { QuestionId } from "../../src/answers/question-list.js";
import {
  firstWave,
  codebookText,
  evidenceOf,
  historicEvidence,
  outcomeRow,
  shippedEvidence,
} from "./evidence-under-test.js";

const published = (): Evidence => shippedEvidence(firstWave);
/** Without borrowed spreads, so that rows that print none have no weight. */
const own = { borrowedSpread: "none" } as const;
const percentSpread =
  "for want of the spread of the percent changes, an interval of the change, or its t, F or p value";

test("carry-over: the trials that tested at several angles are named with their angles and what they lack", async () => {
  const { headline, data } = await ask("joint-angle", own, published());
  expect(headline).toBe(
    `No answer: no outcome with a weight was tested at two distances from a trained angle, in 23 effects of 7 studies. In the file, but without a weight: Lanza 2019 (35, 50, 65 and 80°), ${percentSpread}; Tanaka 2016 (0 and 10°), for want of the number of people measured.`,
  );
  expect(data.refusal?.reason).toContain("Lanza 2019 (35, 50, 65 and 80°)");
});

test("the course over weeks names the weeks; a goal, a dose and small studies name the studies", async () => {
  const { headline } = await ask("time", own, published());
  expect(headline).toMatch(/no arm with a weight was measured more than once/);
  expect(headline).toContain(`Kubo 2010 (weeks 9 and 13), ${percentSpread}`);
  const historic = await ask("time", own, historicEvidence());
  expect(historic.headline).toContain("Bowers 1966 (weeks 3 and 6), for want of the means");
  expect(historic.headline).toContain("Cuddigan 1973 (weeks 0.3 to 6), for want of a spread");
  const protocol = "4 x 20 s at 70%, rest 60 s, 3 times a week for 8 weeks";
  const tendon = await ask("project", { protocol, goal: "tendon", ...own }, published());
  expect(tendon.headline).toContain(`Massey 2018 (5 rows), ${percentSpread}`);
  // Where no doses can be pooled, what single trials compared leads, and the refusal follows it.
  const hold = await ask("dose", { on: "holdSeconds", outcome: "strength", ...own }, published());
  expect(hold.headline).toContain("Kubo 2001 J Physiol, hold length 1 s against 20 s");
  expect(hold.sentences[0]).toContain(`Balshaw 2016 (1 and 3 s), ${percentSpread}`);
  expect(hold.sentences[0]).toContain(
    "Tanaka 2016 (3 s), for want of the number of people measured",
  );
  const effort = await ask("dose", { on: "intensityPercent,holdSeconds", ...own }, published());
  expect(effort.sentences[0]).toContain("Balshaw 2016 (75% of MVC)");
  const equal = await ask("equal-tension", own, published());
  expect(equal.headline).toContain("Balshaw 2016 (holds of 1 and 3 s)");
  const small = await ask("small-studies", own, published());
  expect(small.headline).toContain("Lanza 2019 (4 rows)");
});

test("one kind of outcome that is refused names its own rows, and no other's", async () => {
  const { sentences } = await ask("pool", own, published());
  const moving = sentences.find((sentence) => sentence.startsWith("Strength, tested moving"))!;
  expect(moving).toContain("In the file, but without a weight: Alegre 2014 (2 rows)");
  expect(moving).not.toMatch(/Massey|Balshaw|Lanza/);
  const tendonForce = sentences.find((sentence) => sentence.includes("calculated tendon force"))!;
  expect(tendonForce).not.toContain("In the file");
});

test("rows that lack a comparator are not said to lack numbers: the reason is told", async () => {
  const asked = { contrast: "against-control", where: "study=Lanza 2019|Alegre 2014" };
  const { headline } = await ask("pool", asked, published());
  expect(headline).toBe(
    "No average: no row reaches this scale and contrast. 6 rows: 6 × no no-exercise arm of other people in the study was measured in the same outcome, angle, site, side and week.",
  );
});

test("a file whose rows all have a weight is refused without naming any", async () => {
  const file = evidenceOf(codebookText([outcomeRow("Ash 2001", 120)]));
  const { headline } = await ask("pool", {}, file);
  expect(headline).not.toContain("In the file");
  expect((await ask("small-studies", {}, file)).headline).toMatch(/as 1 study is fewer than ten/);
  expect((await ask("joint-angle", {}, file)).headline).toBe(
    "No answer: no outcome was tested at two distances from a trained angle, in 1 effect of 1 study.",
  );
});

const asked: readonly (readonly [QuestionId, Readonly<Record<string, unknown>>])[] = [
  ["pool", {}],
  ["dose", {}],
  ["dose", { on: "weeks" }],
  ["variables", {}],
  ["equal-tension", {}],
  ["influence", {}],
  ["small-studies", {}],
  ["made", {}],
  ["project", { protocol: "4 x 20 s at 70%, rest 60 s, 3 times a week for 8 weeks" }],
  ["explore", { minutes: 30, sessions: 3, intensityUpTo: 100 }],
  [
    "compare",
    {
      protocol: [
        "4 x 20 s at 70%, rest 60 s, 3 times a week for 8 weeks",
        "5 x 5 s at 90%, rest 60 s, 3 times a week for 8 weeks",
      ],
    },
  ],
];

describe("a file of trials without a weight", () => {
  const trial = (study: string, angle: number) =>
    outcomeRow(study, 120, {
      pre_spread: "",
      post_spread: "",
      pre_post_correlation: "",
      hold_seconds: 5,
      training_angle_degrees: 60,
      test_angle_degrees: angle,
    });
  const file = evidenceOf(codebookText([trial("Ash 2001", 60), trial("Birch 2002", 62)]));
  test.each(asked)("%s %j: both are named, and what they lack", async (id, options) => {
    const { headline, data } = (await ask(id, options, file)) as Answer;
    expect(data.refusal).not.toBe(null);
    expect(headline).toMatch(/In the file, but without a weight: Ash 2001 \(/);
    expect(headline).toMatch(/Birch 2002 \([^)]*\), for want of a spread, an interval/);
  });
});
