import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { shippedEvidence } from "./evidence-under-test.js";

const library = shippedEvidence("published-outcomes.csv");
const demo = shippedEvidence("demo-register.csv");

type Told = Readonly<{ estimate: number; interval: Readonly<{ low: number; high: number }> }>;
type Level = Readonly<{ level: string; estimates: readonly number[] }>;
type Swept = Readonly<{
  shown: Told;
  crossed: number;
  all: Readonly<{ ways: number; answered: number; sameSign: number; counts: number }>;
  choices: readonly Readonly<{ name: string; levels: readonly Level[] }>[];
}>;
const ofGroup = ({ groups }: Readonly<{ groups: readonly unknown[] }>): Swept => groups[0] as Swept;
const pooled = async (asked: object, file = library) =>
  (await ask("pool", asked, file)).data as unknown as Told;

describe("the sweep of an average", async () => {
  const asked = { outcome: "size" } as const;
  const answer = await ask("sweep", asked, library);
  const group = ofGroup(answer.data);
  const levelOf = (choice: string, level: string) =>
    group.choices.find(({ name }) => name === choice)!.levels.find((one) => one.level === level)!;

  test("its first way is the answer that is shown, to the last digit", async () => {
    const { estimate, interval } = await pooled(asked);
    expect(group.shown).toEqual({ estimate, interval });
  });

  test("ways are what the average gives when it is asked so", async () => {
    const [likelihood, own, low, apart] = await Promise.all([
      pooled({ ...asked, heterogeneity: "maximum-likelihood" }),
      pooled({ ...asked, borrowedSpread: "none" }),
      pooled({
        ...asked,
        defaultCorrelation: 0.5,
        defaultCorrelationOfSymptoms: 0.5,
        studiesNeededToBorrow: 1e9,
      }),
      pooled({
        ...asked,
        outcomesCorrelation: 0.9,
        anglesCorrelation: 0.9,
        sitesCorrelation: 0.9,
        timesCorrelation: 0.9,
        limbsCorrelation: 0.9,
        periodsCorrelation: 0.9,
      }),
    ]);
    expect(levelOf("estimator", "maximum likelihood, robust errors").estimates).toContain(
      likelihood.estimate,
    );
    expect(levelOf("correlation before to after", "0.5 where assumed").estimates).toContain(
      low.estimate,
    );
    expect(levelOf("correlation within studies", "0.9 for all").estimates).toContain(
      apart.estimate,
    );
    // Which correlations are lent does not hang on borrowed spreads, so the row's own numbers are the same.
    expect(
      Math.min(
        ...levelOf("borrowed spreads", "out").estimates.map((one) => Math.abs(one - own.estimate)),
      ),
    ).toBeLessThan(1e-9);
  });

  test("the headline, the table and the figure count the same ways", () => {
    const { ways, sameSign, counts } = group.all;
    expect(ways).toBe(group.choices.reduce((product, { levels }) => product * levels.length, 1));
    const words = `of ${ways} ways to analyse this, ${sameSign} agree on the sign and ${counts} on more than the amount that counts (2%)`;
    expect(answer.headline).toBe(`Size, before to after: ${words}.`);
    const rows = answer.tables[0]!.rows;
    const first = rows.slice(0, group.choices[0]!.levels.length);
    expect(first.reduce((sum, row) => sum + Number(row["ways"]), 0)).toBe(ways);
    const [figure] = drawnFigures(answer.figures[0]!);
    expect(figure!.title).toContain(words);
    expect(figure!.caption).toContain("Counts of ways are not chances");
    expect(JSON.stringify(figure!.specification)).toContain("their counts are not chances");
    expect(new Set(figure!.data.map(({ estimate }) => estimate))).toEqual(
      new Set(group.choices.flatMap(({ levels }) => levels.flatMap(({ estimates }) => estimates))),
    );
    expect(answer.sentences.at(-1)).toContain("Counts of ways are not chances");
  });
});

test("a level that leaves no answer is told and not crossed", async () => {
  const { data, sentences } = await ask("sweep", { outcome: "tendon", most: 20 }, demo);
  const group = ofGroup(data);
  const told = sentences.find((sentence) => sentence.startsWith("No answer is left with: "));
  expect(told).toContain("risk of bias without high risk");
  expect(group.all.answered).toBe(group.all.ways);
  expect(group.all.ways).toBe(20);
  expect(sentences.join(" ")).toContain(`There are ${group.crossed} ways; 20 were drawn, seed 1.`);
});

test("a variable's change is swept as the table of variables gives it", async () => {
  const asked = { outcome: "tendon", on: "intensityPercent" } as const;
  const { data } = await ask("sweep", { ...asked, most: 12 }, demo);
  const { data: table } = await ask("variables", { outcome: "tendon" }, demo);
  const row = table.rows.find(({ axis }) => axis.name === "intensityPercent") as unknown as {
    within: Told;
  };
  expect(ofGroup(data).shown.estimate).toBeCloseTo(row.within.estimate, 8);
  expect(ofGroup(data).choices.some(({ name }) => name === "estimator")).toBe(false);
});

test("verdicts stand as the question gives them, beside what single choices make of them", async () => {
  const asked = { outcome: "tendon" } as const;
  const { data, headline } = await ask("sweep", { ...asked, verdicts: true }, demo);
  const { data: table } = await ask("variables", asked, demo);
  const shown = table.rows as unknown as readonly {
    axis: { label: string };
    within?: object;
    verdict: { verdict: string };
  }[];
  const compared = shown.filter(({ within }) => within !== undefined);
  expect(data.verdicts.map(({ variable }) => variable)).toEqual(
    compared.map(({ axis }) => axis.label),
  );
  data.verdicts.forEach(({ verdict }, place) =>
    expect(verdict).toContain(compared[place]!.verdict.verdict),
  );
  expect(headline).toContain(`of ${compared.length} verdicts`);
});

test("a statement's verdict moves as it is given when the file is asked so", async () => {
  const asked = {
    statements: [
      { statement: "Bigger.", outcome: "size", compared: "training", claim: "more" },
      { statement: "A minute.", outcome: "strength", claim: "endurance", from: 50, least: 30 },
    ],
  };
  const { data, sentences, tables } = await ask("statements", { ...asked, sweep: true }, library);
  const swept = data.statements[0]!.swept as unknown as Readonly<{
    verdict: string;
    ways: number;
    stays: number;
    others: readonly Readonly<{ choice: string; level: string; verdict: string }>[];
  }>;
  expect(data.statements[1]!.swept).toBeNull();
  expect(swept.verdict).toBe(data.statements[0]!.verdict);
  const { choices } = ofGroup((await ask("sweep", { outcome: "size" }, library)).data);
  expect(swept.ways).toBe(choices.reduce((sum, { levels }) => sum + levels.length - 1, 0));
  expect(swept.stays + swept.others.length).toBe(swept.ways);
  const becomes = ({ choice, level }: Readonly<{ choice: string; level: string }>) =>
    swept.others.find((one) => one.choice === choice && one.level === level)?.verdict ??
    swept.verdict;
  for (const [choice, level, options] of [
    ["borrowed spreads", "out", { borrowedSpread: "none" }],
    [
      "correlation before to after",
      "0.95 where assumed",
      {
        defaultCorrelation: 0.95,
        defaultCorrelationOfSymptoms: 0.95,
        studiesNeededToBorrow: 1e9,
      },
    ],
  ] as const) {
    const alone = await ask("statements", { ...asked, ...options }, library);
    expect(becomes({ choice, level })).toBe(alone.data.statements[0]!.verdict);
  }
  const [row] = tables.find(({ id }) => id === "statement-sweep")!.rows;
  expect(row).toMatchObject({ statement: "Bigger.", stays: `${swept.stays} of ${swept.ways}` });
  expect(sentences[0]).toMatch(
    swept.others.length === 0
      ? /the same verdict/
      : new RegExp(`with ${swept.stays} of ${swept.ways}`),
  );
});
