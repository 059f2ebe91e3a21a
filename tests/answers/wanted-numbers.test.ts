/** Which number would rescue most rows, as the check prints it and gives it to scripts; every count by hand. */
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { effectsOf } from "../../src/answers/evidence.js";
import { questionList } from "../../src/answers/question-list.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";
import { expectPlain } from "./last-yard.js";

const blank = { pre_spread: "", post_spread: "", pre_post_correlation: "" };
const size = { outcome: "muscle volume", outcome_family: "size", test_mode: "" };

const file = (more: readonly ReturnType<typeof outcomeRow>[] = []) =>
  evidenceOf(
    codebookText([
      // Strength of three studies, one of which compares intensities.
      outcomeRow("Ash 2001", 120, { arm: "soft", intensity_percent: 40 }),
      outcomeRow("Ash 2001", 130, { arm: "hard", intensity_percent: 90 }),
      outcomeRow("Birch 2002", 115),
      // No spread in either arm: with it a second trial compares intensities.
      outcomeRow("Cedar 2003", 118, {
        ...{
          arm: "soft",
          intensity_percent: 30,
          ...blank,
          citation: "Cedar and others (2003) J Sums",
        },
        ...{ doi: "10.1000/cedar", source_location: "abstract" },
      }),
      outcomeRow("Cedar 2003", 125, {
        ...{
          arm: "hard",
          intensity_percent: 80,
          ...blank,
          citation: "Cedar and others (2003) J Sums",
        },
        ...{ doi: "10.1000/cedar", source_location: "abstract" },
      }),
      // Size of one study; the people of another are not printed.
      outcomeRow("Dogwood 2004", 106, size),
      outcomeRow("Elm 2005", 108, { ...size, n_end: "not reported", ...blank }),
      ...more,
    ]),
  );

const own = { borrowedSpread: "none" };

test("study by study: what is missing, what it would add, where to ask; most effects first", async () => {
  const answer = await ask("check", own, file());
  expectPlain(answer, await questionList.check.load());
  expect(
    answer.data.wanted.map(({ study, lines, rows, effects, opens }) => [
      study,
      lines,
      rows,
      effects,
      opens,
    ]),
  ).toEqual([
    ["Cedar 2003", [5, 6], 2, 2, 1],
    ["Elm 2005", [8], 1, 1, 1],
  ]);
  const table = answer.tables.find(({ id }) => id === "numbers-wanted")!;
  expect(table.place).toBeUndefined();
  expect(table.rows).toEqual([
    {
      study: "Cedar 2003",
      missing: "a spread, an interval of the change, or its t, F or p value",
      adds: "2 rows with a weight; strength: 3 studies in place of 2, with 38% of the weight and an interval 21% narrower; intensity in strength: 2 trials with an interval in place of 1",
      where: "Cedar and others (2003) J Sums, doi 10.1000/cedar; read so far: abstract",
    },
    {
      study: "Elm 2005",
      missing:
        "the number of people measured; and a spread, an interval of the change, or its t, F or p value",
      adds: "1 row with a weight; size: then there is an average, of 2 studies",
      where: "Elm 2005",
    },
  ]);
});

test("the weight and the narrower interval are those of the model at today's variances", async () => {
  const answer = await ask("pool", { ...own, outcome: "strength" }, file());
  const theta = (
    answer.data as never as { varianceByLevel: Record<"study" | "arm" | "effect_id", number> }
  ).varianceByLevel;
  const { effects } = effectsOf(file(), {});
  const v = effects.filter(({ row }) => row.outcomeFamily === "strength").map((e) => e.variance);
  // Arms of one study share its deviation: 1'M⁻¹1 = P/(1 + θP) with P the sum of their 1/(θ_arm + θ_effect + v).
  const information = (variances: readonly number[]): number => {
    const parts = variances.map((one) => 1 / (theta.arm + theta.effect_id + one));
    const precision = parts.reduce((total, one) => total + one, 0);
    return precision / (1 + theta.study * precision);
  };
  const [soft, hard, birch] = v as [number, number, number];
  // Twelve people in every arm: the middle variance of three serves both arms of Cedar.
  const middle = [...v].sort((a, b) => a - b)[1]!;
  const [before, more] = [
    information([soft, hard]) + information([birch]),
    information([middle, middle]),
  ];
  const { wanted } = (await ask("check", own, file())).data;
  const [gain] = wanted.find(({ study }) => study === "Cedar 2003")!.gains;
  expect(gain!.outcome).toBe("strength");
  expect(gain!.weight).toBeCloseTo((100 * more) / (before + more), 9);
  expect(gain!.intervalNarrower).toBeCloseTo(100 * (1 - Math.sqrt(before / (before + more))), 9);
});

test("what is promised comes true: with the numbers filled in there is an average of size", async () => {
  const before = await ask("pool", { ...own, outcome: "size" }, file());
  expect(before.data.refusal?.code).toBe("one-study");
  const filled = evidenceOf(
    codebookText([outcomeRow("Dogwood 2004", 106, size), outcomeRow("Elm 2005", 108, size)]),
  );
  expect((await ask("pool", { ...own, outcome: "size" }, filled)).data).toMatchObject({
    studies: 2,
  });
});

test("where a spread is borrowed the number gives the effect a spread of its own", async () => {
  // Three studies of strength lend a spread, and of size none does.
  const { data } = await ask("check", {}, file([outcomeRow("Fir 2006", 109)]));
  const cedar = data.wanted.find(({ study }) => study === "Cedar 2003")!;
  expect(cedar).toMatchObject({ rows: 0, effects: 0, ownSpread: 2 });
  expect(cedar.adds).toEqual([
    "strength: 2 effects with a spread of their own in place of a borrowed one",
  ]);
});

test("a letter asks politely for what is missing, by the citation alone; only where it is asked for", async () => {
  const quiet = await ask("check", own, file());
  expect(quiet.sentences.join(" ")).not.toContain("Dear authors");
  const { sentences } = await ask("check", { ...own, letters: true }, file());
  expect(sentences[0]).toBe(
    "Dear authors of Cedar and others (2003) J Sums (doi 10.1000/cedar), we are collecting what trials of isometric training have published, and would like to give your results their weight. Of it we have read: abstract. For peak isometric torque (soft and hard) we did not find: a spread, an interval of the change, or its t, F or p value. Could you send us, for each group and test, the number of people and the mean and standard deviation before and after training, or tell us where they are printed? It would add to what can be said: strength: 3 studies in place of 2, with 38% of the weight and an interval 21% narrower; intensity in strength: 2 trials with an interval in place of 1. Whatever you can spare helps, and the source will be named. With thanks and kind regards.",
  );
  expect(sentences).toHaveLength(2);
});

test("of many places in a work three are named", async () => {
  const places = [11, 12, 13, 14, 15].map((table) =>
    outcomeRow("Ash 2001", 110 + table, {
      ...{ ...blank, outcome: `torque ${table}`, source_location: `Table ${table}` },
    }),
  );
  const { tables } = await ask("check", own, evidenceOf(codebookText(places)));
  expect(tables.find(({ id }) => id === "numbers-wanted")!.rows[0]!["where"]).toBe(
    "Ash 2001; read so far: Table 11; Table 12; Table 13 and 2 more places",
  );
});

test("of the library the first five stand at first sight and all are folded; nobody writes to invented authors", async () => {
  const library = await ask("check", {}, shippedEvidence("published-outcomes.csv"));
  const first = library.tables.find(({ id }) => id === "numbers-wanted-first")!;
  const all = library.tables.find(({ id }) => id === "numbers-wanted")!;
  expect([first.rows.length, first.place, all.place]).toEqual([5, undefined, "folded"]);
  expect(all.rows.length).toBe(library.data.wanted.length);
  // Line 106: the abstract prints deviations and no group size, the only number that is missing.
  expect(all.rows.find(({ study }) => study === "Fletcher 2010")?.["missing"]).toBe(
    "the number of people measured",
  );
  const demo = await ask("check", {}, shippedEvidence("demo-register.csv"));
  expect(demo.data.wanted.length).toBeGreaterThan(0);
  expect(demo.data.wanted.every(({ letter }) => letter === "")).toBe(true);
});
