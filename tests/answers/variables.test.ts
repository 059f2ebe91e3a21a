/** Kinds of evidence: identities between what is said, tabled and handed over. */
import { describe, expect, test } from "vitest";
import { answerSchema } from "../../src/answers/answer.js";
import { ask } from "../../src/answers/ask.js";
import { effectsOf } from "../../src/answers/evidence.js";
import { headlineGroups } from "../../src/answers/headline-selection.js";
import { variables } from "../../src/answers/variables.js";
import { variableTable, type VariableRow } from "../../src/dose/variable-table.js";
import { percentFromLogRatio } from "../../src/effects/percent-from-log-ratio.js";
import { formatNumber } from "../../src/tables/number-format.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

const demo = shippedEvidence("demo-register.csv");
const percent = (value: number): string => formatNumber(percentFromLogRatio(value), { digits: 1 });
const shown = ({ estimate, interval }: NonNullable<VariableRow["within"]>): string =>
  `${percent(estimate)}% (${percent(interval.low)} to ${percent(interval.high)})`;
const rowsIn = ({ data }: { data: object }): readonly VariableRow[] =>
  (data as { rows: readonly VariableRow[] }).rows;

describe("which variables matter", () => {
  test("the rows are the headline's effects, family by family, with every table's digits", async () => {
    const answer = await ask("variables", {}, demo);
    // pain, a score, has no amount that counts in its points
    const groups = headlineGroups(effectsOf(demo, {})).filter(
      ({ family }) => family !== "symptoms",
    );
    expect(rowsIn(answer)).toEqual(
      JSON.parse(JSON.stringify(groups.flatMap(({ headline }) => variableTable(headline).rows))),
    );
    const table = answer.tables.find(({ id }) => id === "variables-tendon")!;
    const row = rowsIn(answer).find(
      ({ family, axis }) => family === "tendon" && axis.name === "torqueTimePerSession",
    )!;
    const cells = table.rows.find(({ stepShort }) =>
      stepShort!.startsWith("Torque–time in a ses"),
    )!;
    expect(cells).toMatchObject({
      step: "1,000 more %MVC·s in a session",
      span: "2,880 to 11,200 %MVC·s",
      evidence: "5 of 8",
      people: "281",
      within: `${shown(row.within!)} †`,
      between: shown(row.between!),
      spread: `${percent(row.spread!)}%`,
      verdict: "unclear",
    });
    expect(new Set(Object.values(cells)).size).toBeGreaterThan(9);
    expect([cells.evidenceAndPeople, cells.spanShort, cells.betweenAndAgreement]).toEqual([
      "5 of 8; 281",
      "2,880 to 11,200",
      row.agreement === "agree" || row.agreement === "differ"
        ? `${cells.between} ${row.agreement}`
        : cells.between,
    ]);
  });

  test("what is favoured is said with the table's own digits", async () => {
    const answer = await ask("variables", { outcome: "tendon" }, demo);
    const { within } = rowsIn(answer).find(({ axis }) => axis.name === "intensityPercent")!;
    const limits = `${percent(within!.interval.low)} to ${percent(within!.interval.high)}`;
    expect(answer.headline).toContain(
      `intensity (more: ${percent(within!.estimate)}% (95% interval ${limits}%) for 10 more points of MVC)`,
    );
    expect(answer.tables[0]!.rows[0]!.within).toBe(`${percent(within!.estimate)}% (${limits}) †`);
    expect(answer.tables.map(({ id, place }) => [id, place])).toEqual([
      ["variables-tendon", undefined],
      ["variables", "file"],
    ]);
  });

  test("every digit stands in the table that is written", async () => {
    const answer = await ask("variables", {}, demo);
    const data = answer.tables.find(({ id }) => id === "variables")!;
    const rows = rowsIn(answer);
    expect(data.rows).toHaveLength(rows.length);
    rows.forEach((row, index) => {
      const { within, between, difference, family, axis, amount, verdict } = row;
      const text = (value: number | undefined) => (value === undefined ? "" : String(value));
      expect(data.rows[index]).toMatchObject({
        family,
        variable: axis.name,
        withinEstimate: text(within?.estimate),
        withinLow: text(within?.interval.low),
        withinHigh: text(within?.interval.high),
        betweenEstimate: text(between?.estimate),
        differenceEstimate: text(difference?.estimate),
        amount: text(amount),
        verdict: verdict.verdict,
        reason: verdict.reason,
      });
    });
  });

  test("all angles and weeks stand beside the headline", async () => {
    const answer = await ask("variables", { outcome: "strength" }, demo);
    expect(answer.headline).not.toContain("distance between test and training angle");
    expect(answer.sentences[0]).toMatch(
      /^All angles and weeks: arms of one study favour .*distance between test and training angle \(less: /,
    );
  });

  test("the amount that counts: one for all, or one a family; the verdicts follow", async () => {
    const amountsOf = async (amount: unknown) => {
      const answer = await ask("variables", { amount, on: "intensity,hold" }, demo);
      return new Map(rowsIn(answer).map(({ family, amount: used }) => [family, percent(used)]));
    };
    expect(await amountsOf(undefined)).toEqual(
      new Map([
        ["strength", "5.0"],
        ["size", "2.0"],
        ["tendon", "5.0"],
      ]),
    );
    expect((await amountsOf("3")).get("size")).toBe("3.0");
    expect(await amountsOf("strength=4, size=1,5".replace("1,5", "1.5"))).toEqual(
      new Map([
        ["strength", "4.0"],
        ["size", "1.5"],
        ["tendon", "5.0"],
      ]),
    );
    const strict = await ask("variables", { amount: 0.1, outcome: "strength" }, demo);
    expect(rowsIn(strict).every(({ verdict }) => !verdict.verdict.startsWith("no diff"))).toBe(
      true,
    );
    await expect(ask("variables", { amount: "-3" }, demo)).rejects.toThrow(/an amount above 0/);
    await expect(ask("variables", { amount: "strenght=3" }, demo)).rejects.toThrow(
      /did you mean strength/,
    );
  });

  test("raw units have no amount of their own, and say so; one that is given serves", async () => {
    const raw = { scale: "raw-mean-difference", outcome: "strength", on: "intensity" };
    const refused = await ask("variables", raw, demo);
    expect(refused.data.refusal).toMatchObject({ code: "amount-missing" });
    expect(refused.headline).toMatch(/^Strength: no verdict, as no amount that counts is known/);
    const given = await ask("variables", { ...raw, amount: "strength=4" }, demo);
    expect(given.data.refusal).toBeNull();
    expect(rowsIn(given)[0]!.amount).toBe(4);
  });

  test("rows, correlation, confidence and assumptions reach the numbers; plain by its schema", async () => {
    const usual = await ask("variables", { outcome: "size" }, demo);
    for (const options of [
      { confidence: 0.9 },
      { correlation: 0.5 },
      { where: "weeks>=10" },
      { outcomeCorrelations: "none" },
      { contrast: "against-control" },
    ]) {
      const other = await ask("variables", { outcome: "size", ...options }, demo);
      expect(JSON.stringify(rowsIn(other)), JSON.stringify(options)).not.toBe(
        JSON.stringify(rowsIn(usual)),
      );
    }
    expect(structuredClone(usual)).toEqual(usual);
    answerSchema(variables.data).parse(usual);
    expect(usual.notes.at(-1)!.message).toMatch(/^\d+ within-study questions are asked at once/);
  });

  test("a kind of outcome without a comparison says what rows there are", async () => {
    const answer = await ask(
      "variables",
      {},
      evidenceOf(codebookText([outcomeRow("A", 111), outcomeRow("B", 117)])),
    );
    expect(answer.headline).toBe(
      "Strength: no verdict, as no variable can be compared in 2 effects of 2 studies.",
    );
    expect(answer.data.refusal).toMatchObject({ code: "not-told" });
    expect(answer.tables.map(({ id }) => id)).toEqual(["variables"]);
  });
});
