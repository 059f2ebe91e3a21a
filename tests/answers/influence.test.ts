import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

const demo = shippedEvidence("demo-register.csv");

type LeftOut = Readonly<{
  name: string;
  answer: Readonly<{ estimate: number; standardError: number }> | null;
  cooksDistance: number | null;
  shift: number | null;
}>;
const groupOf = (data: object) =>
  (
    data as Readonly<{
      groups: readonly Readonly<{
        leftOut: readonly LeftOut[];
        movesMost: string;
        restsOn: readonly string[];
      }>[];
    }>
  ).groups[0]!;

describe("influence", () => {
  test("a study left out is the pooled answer asked without it", async () => {
    const { data } = await ask("influence", { outcome: "tendon" }, demo);
    const [one] = groupOf(data).leftOut;
    const without = await ask("pool", { outcome: "tendon", where: `study!=${one!.name}` }, demo);
    // A correlation that a study lent is lent no longer when its rows are gone, so near and not equal.
    expect((without.data as never as { estimate: number }).estimate).toBeCloseTo(
      one!.answer!.estimate,
      2,
    );
  });

  test("headline, table and data name the same study; Cook's distance is the squared shift in errors", async () => {
    const pooled = await ask("pool", { outcome: "tendon" }, demo);
    const { standardError } = pooled.data as never as { standardError: number };
    const { headline, data, tables } = await ask("influence", { outcome: "tendon" }, demo);
    const { leftOut, movesMost } = groupOf(data);
    const furthest = [...leftOut].sort((a, b) => Math.abs(b.shift!) - Math.abs(a.shift!))[0]!;
    expect(movesMost).toBe(furthest.name);
    expect(headline).toContain(`moves most without ${furthest.name}, to `);
    for (const { cooksDistance, shift } of leftOut)
      expect(cooksDistance!).toBeCloseTo((shift! / standardError) ** 2, 10);
    const rows = tables[0]!.rows;
    expect(rows.map(({ name }) => name)).toEqual(leftOut.map(({ name }) => name));
    expect(rows.map(({ cooksDistance }) => Number(cooksDistance))).toEqual(
      leftOut.map(({ cooksDistance }) => cooksDistance),
    );
    expect(new Set(rows.map(({ estimate }) => estimate)).size).toBe(rows.length);
  });
});

describe("small studies", () => {
  test("a file whose studies are too few or alike is refused in words, group by group", async () => {
    const answer = await ask("small-studies", {}, demo);
    expect(answer.data.refusal).toMatchObject({ kind: "refusal", code: "like-sizes" });
    expect(answer.headline).toContain("not tested, as the studies are of much the same size");
    expect(answer.sentences.join("\n")).toContain(
      "Tendon, before to after: not tested, as 8 studies",
    );
    expect(answer.tables).toEqual([]);
  });

  test("asked by standard errors, slope, interval and end stand in their own columns", async () => {
    const answer = await ask(
      "small-studies",
      { outcome: "strength", smallness: "standard-error" },
      demo,
    );
    const [group] = answer.data.groups as never as {
      slope: { estimate: number; interval: { low: number; high: number }; p: number };
      unlimitedSize: { estimate: number };
      studies: number;
    }[];
    const [row] = answer.tables[0]!.rows;
    expect([
      row!["slopeExact"],
      row!["slopeLow"],
      row!["slopeHigh"],
      row!["pExact"],
      row!["endExact"],
    ]).toEqual(
      [
        group!.slope.estimate,
        group!.slope.interval.low,
        group!.slope.interval.high,
        group!.slope.p,
        group!.unlimitedSize.estimate,
      ].map(String),
    );
    expect(row!["studies"]).toBe(String(group!.studies));
    expect(answer.headline).toContain(`${group!.studies} studies`);
  });
});

test("a verdict without a study is that of a file without its rows", async () => {
  const asked = { outcome: "tendon" } as const;
  const { data } = await ask("influence", { ...asked, verdicts: true }, demo);
  const { verdicts } = data as unknown as {
    verdicts: readonly {
      variable: string;
      verdict: string;
      restsOn: readonly { study: string; becomes: string }[];
    }[];
  };
  expect(verdicts.length).toBeGreaterThan(2);
  const resting = verdicts.find(({ restsOn }) => restsOn.length > 1)!;
  // A name of people who are in one paper alone: the column study has it.
  const { study, becomes } = resting.restsOn.find((one) => one.study.startsWith("Invented"))!;
  const { data: table } = await ask("variables", { ...asked, where: `study!=${study}` }, demo);
  const row = table.rows.find(
    ({ axis }) => (axis as unknown as { label: string }).label === resting.variable,
  );
  expect(becomes).toContain(row?.verdict.verdict ?? "not studied");
});

describe("what stayed unprinted", () => {
  test("every study with a clear gain: not shown, with that reason", async () => {
    const { headline, data } = await ask("small-studies", { outcome: "tendon" }, demo);
    expect(headline).toMatch(
      /What stayed unprinted: not shown, as every one of the 8 studies shows a clear gain/,
    );
    const [group] = data.groups as never as { selection: { kind: string } }[];
    expect(group!.selection.kind).toBe("refusal");
  });

  test("with few on one side only held weights, the same in sentence, table and data", async () => {
    const gains = [22, 30, 12, 41, 18, 3, 26, 15, 2];
    const file = evidenceOf(
      codebookText(gains.map((gain, place) => outcomeRow(`Ash ${place}`, 100 + gain))),
    );
    const { headline, data, tables } = await ask("small-studies", {}, file);
    const [group] = data.groups as never as {
      selection: {
        clear: number;
        estimated: null;
        range: readonly { weight: number; estimate: number }[];
      };
    }[];
    const { selection } = group!;
    expect([selection.clear, selection.estimated]).toEqual([7, null]);
    expect(headline).toContain("7 of 9 studies show a clear gain; four are needed on each side");
    const rows = tables.find(({ id }) => id === "unprinted-studies")!.rows.slice(1);
    expect(rows.map(({ weight }) => Number(weight))).toEqual([0.5, 0.25, 0.1]);
    selection.range.forEach(({ estimate }, place) => {
      const percent = (100 * Math.expm1(estimate)).toFixed(1);
      expect(headline).toContain(`${percent}%`);
      expect(rows[place]!["shown"]).toBe(`${percent}%`);
    });
    expect(selection.range[2]!.estimate).toBeLessThan(selection.range[0]!.estimate);
  });
});

test("that no study changes a conclusion is said once, and of which averages", async () => {
  const { headline, sentences } = await ask(
    "influence",
    {},
    shippedEvidence("published-outcomes.csv"),
  );
  const all = [headline, ...sentences].join("\n");
  expect(all.match(/without any one study/g)).toHaveLength(1);
  expect(headline).toMatch(/^Strength, .* Its conclusion is the same without any one study\./);
  expect(sentences[0]).toBe(
    "That holds of strength, tested moving at fixed speed; tendon as well.",
  );
  const moved = sentences.filter((one) => one.includes("moves most without"));
  expect(moved.filter((one) => /^(Strength, tested moving|Tendon)/.test(one))).toHaveLength(2);
  const one = await ask(
    "influence",
    { outcome: "tendon" },
    shippedEvidence("published-outcomes.csv"),
  );
  expect(one.headline).toContain("Its conclusion is the same without any one study.");
});
