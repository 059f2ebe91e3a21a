import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { DataError } from "../../src/errors.js";
import type { Table } from "../../src/tables/table.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

const library = shippedEvidence("published-outcomes.csv");
const risks = [
  "risk_randomisation",
  "risk_deviations",
  "risk_missing_data",
  "risk_measurement",
  "risk_reported_result",
];
const low = Object.fromEntries(risks.map((name) => [name, "low"]));

/** Four trials of two arms, people allocated by chance, no domain in doubt; what differs is given. */
const trials = (more: Readonly<Record<string, string | number>> = {}) =>
  evidenceOf(
    codebookText(
      [12, 13, 11, 12.5].flatMap((gain, place) => {
        const study = `Ash ${place}`;
        const own = { ...low, design: "randomised groups", n_end: 120 + place, ...more };
        return [
          outcomeRow(study, 100 + gain, own),
          outcomeRow(study, 100.5, { ...own, arm: "waiting", arm_kind: "no exercise", n_end: 110 }),
        ];
      }),
    ),
  );
const against = { contrast: "against-control" } as const;

type Told = Readonly<{
  certainty: string;
  proposed: string;
  decided: string | null;
  people: number;
  concerns: readonly { domain: string; lowered: number | null; numbers: string }[];
}>;
const told = ({ groups }: Readonly<{ groups: readonly unknown[] }>): Told => groups[0] as Told;

const whyOf = ([findings]: readonly Table[]): string => findings!.rows[0]!["why"]!;

describe("where a rating starts", () => {
  test("both arms allocated at random, coded low: high, and said", async () => {
    const { data, headline, tables } = await ask("certainty", against, trials());
    expect(told(data)).toMatchObject({ certainty: "high", proposed: "high", decided: null });
    expect(headline).toBe(
      "Strength, against no exercise: certainty is high (proposed by rule); it starts high.",
    );
    expect(whyOf(tables)).toContain("Starts high (what is compared was allocated at random)");
    // 120 + 121 + 122 + 123 trained, four times 110 waited.
    expect(told(data).people).toBe(926);
    expect(tables[0]!.rows[0]).toMatchObject({ people: "926", studies: "4", proposed: "high" });
  });

  test("the same trials from before to after: low", async () => {
    expect(told((await ask("certainty", {}, trials())).data).certainty).toBe("low");
  });

  test("without its coding: low, and which studies lack it", async () => {
    const { data, tables } = await ask("certainty", against, trials({ design: "" }));
    expect(told(data).certainty).toBe("low");
    expect(whyOf(tables)).toContain("allocation is not coded: Ash 0, Ash 1, Ash 2, Ash 3");
  });

  test.each([
    ["at random", "high"],
    ["not at random", "low"],
    ["", "low"],
  ])("limbs allocated %j: %s", async (limbAllocation, word) => {
    const rows = [12, 13, 11, 12.5].flatMap((gain, place) =>
      [
        { arm: "trained", arm_kind: "isometric", test_side: "trained" },
        { arm: "other", arm_kind: "no exercise", test_side: "untrained" },
      ].map((arm, side) =>
        outcomeRow(`Ash ${place}`, side === 0 ? 100 + gain : 100.5, {
          ...low,
          ...arm,
          n_end: 120,
          design: "within-person limbs",
          limb_allocation: limbAllocation,
        }),
      ),
    );
    const file = evidenceOf(codebookText(rows));
    const { data } = await ask("certainty", { contrast: "against-other-limb" }, file);
    expect(told(data).certainty).toBe(word);
  });
});

test("the library: words, numbers and table say the same, and nothing begins high before to after", async () => {
  const { data, tables, sentences, headline } = await ask("certainty", {}, library);
  const rated = (data.groups as unknown as Told[]).filter(({ certainty }) => certainty !== null);
  const [findings, rules, confirm] = tables;
  expect(findings!.rows.map(({ proposed }) => proposed)).toEqual(
    rated.map(({ proposed }) => proposed),
  );
  rated.forEach(({ concerns }, place) => {
    for (const { domain, lowered, numbers } of concerns) {
      expect(findings!.rows[place]!["why"]!.toLowerCase()).toContain(domain);
      if (lowered !== null) expect(findings!.rows[place]!["why"]).toContain(numbers);
    }
  });
  const { data: pooled } = await ask("pool", { outcome: "strength" }, library);
  expect(Number(findings!.rows[0]!["estimate"])).toBe(
    (pooled as never as { estimate: number }).estimate,
  );
  expect([headline, ...sentences].join(" ")).not.toMatch(/certainty is (?:high|moderate)/);
  // Findings that are rated alike are told in one sentence: what is said of them stands once.
  const tails = sentences.map((sentence) => sentence.replace(/^.*?: certainty is /, ""));
  expect(new Set(tails).size).toBe(tails.length);
  expect(tails.length).toBeLessThan(rated.length - 1);
  const whole = [headline, ...sentences].join(" ").toLowerCase();
  for (const { group } of rated as unknown as { group: string }[]) expect(whole).toContain(group);
  expect(rules!.rows.map(({ domain }) => domain)).toContain("indirectness");
  expect(confirm!.rows).toHaveLength(5 * rated.length);
});

describe("a person's decisions", () => {
  const csv = (...rows: readonly string[]) =>
    ["outcome,contrast,domain,levels,reason,by", ...rows].join("\n");

  test("stand beside the proposal, confirmed or overridden, with the reason", async () => {
    const decisions = csv(
      "strength,against no exercise,risk of bias,1,assessors knew the groups,AB",
      "strength,,imprecision,0,narrow enough,AB",
      "strength,before to after,inconsistency,2,of another contrast,AB",
      "strength,against no exercise,indirectness,1,,AB",
    );
    const { data, headline, sentences, tables } = await ask(
      "certainty",
      { ...against, decisions },
      trials(),
    );
    expect(told(data)).toMatchObject({
      proposed: "high",
      decided: "moderate",
      certainty: "moderate",
    });
    expect(headline).toContain("certainty is moderate (decided; proposed: high)");
    const said = `${whyOf(tables)} ${sentences.join(" ")}`;
    expect(said).toContain("overridden by AB: lowered by one level, assessors knew the groups");
    expect(said).toContain("confirmed by AB: not lowered, narrow enough");
    expect(said).not.toContain("of another contrast");
    // A row without a reason waits.
    expect(said).toContain("Indirectness: for a person to judge.");
    expect(said).toContain("1 decision is about no finding of this contrast.");
  });

  test.each([
    [csv("strength,,precision,1,because,AB"), "line 2, column domain"],
    [csv("strength,,imprecision,9,because,AB"), "line 2, column levels"],
    ["outcome,domain\nstrength,imprecision", 'no column "contrast"'],
  ])("%j is refused with its place", async (decisions, words) => {
    const asked = ask("certainty", { ...against, decisions }, trials());
    await expect(asked).rejects.toThrow(DataError);
    await expect(asked).rejects.toThrow(words);
  });
});
