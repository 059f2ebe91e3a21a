/** Kinds of evidence: identities between what is said, tabled and handed over. */
import { describe, expect, test } from "vitest";
import { answerSchema } from "../../src/answers/answer.js";
import { ask } from "../../src/answers/ask.js";
import { effectsOf } from "../../src/answers/evidence.js";
import { headlineGroups } from "../../src/answers/headline-selection.js";
import { variables } from "../../src/answers/variables.js";
import { judged, variableTable, type VariableRow } from "../../src/dose/variable-table.js";
import { percentFromLogRatio } from "../../src/effects/percent-from-log-ratio.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
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
      JSON.parse(
        JSON.stringify(
          judged(
            groups.flatMap(({ headline }) => variableTable(headline).rows),
            0.95,
          ),
        ),
      ),
    );
    const table = answer.tables.find(({ id }) => id === "variables-tendon")!;
    const row = rowsIn(answer).find(
      ({ family, axis }) => family === "tendon" && axis.name === "torqueTimePerSession",
    )!;
    const cells = table.rows.find(({ variable }) => variable!.startsWith("Torque–time"))!;
    expect(cells).toMatchObject({
      compared: "2,880 to 10,500 %MVC·s",
      evidence: "5 of 8",
      people: "281",
      within: `${shown(row.within!)} †`,
      p: formatNumber(row.within!.p, { digits: 3 }),
      between: shown(row.between!),
      spread: `${percent(row.spread!)}%`,
      verdict: "cannot be told",
    });
    expect(new Set(Object.values(cells)).size).toBeGreaterThan(9);
    expect([cells.comparedShort, cells.both]).toEqual([
      "2,880 to 10,500 %MVC·s; 5 of 8",
      `${cells.p}; ${cells.among}`,
    ]);
  });

  test("p is held to the questions of all families together", async () => {
    const [all, tendon] = await Promise.all([
      ask("variables", {}, demo),
      ask("variables", { outcome: "tendon" }, demo),
    ]);
    const intensity = (answer: { data: object }) =>
      rowsIn(answer).find(
        ({ family, axis }) => family === "tendon" && axis.name === "intensityPercent",
      )!;
    const asked = (answer: { data: object }) =>
      rowsIn(answer).filter(({ within }) => within !== undefined).length;
    expect(intensity(all).within).toEqual(intensity(tendon).within);
    // The smallest p of each table is held to the number of its questions.
    expect(intensity(all).adjustedP).toBeCloseTo(asked(all) * intensity(all).within!.p, 12);
    expect(intensity(tendon).adjustedP).toBeCloseTo(asked(tendon) * intensity(all).within!.p, 12);
    expect(asked(all)).toBeGreaterThan(2 * asked(tendon));
    expect(all.notes.at(-1)!.message).toMatch(
      new RegExp(`^${asked(all)} within-study questions are asked at once`),
    );
  });

  test("what is told is said with the table's own digits; an interval that is not to be relied on does not lead", async () => {
    const answer = await ask("variables", { outcome: "tendon" }, demo);
    const { within, adjustedP } = rowsIn(answer).find(
      ({ axis }) => axis.name === "intensityPercent",
    )!;
    const [p, among] = [within!.p, adjustedP!].map((one) => formatNumber(one, { digits: 3 }));
    expect(answer.headline).toContain(
      `worth testing: more intensity (an interval that is not to be relied on; p = ${p}, among all p = ${among})`,
    );
    expect(answer.tables[0]!.rows[0]).toMatchObject({ within: `${shown(within!)} †`, p, among });
    expect(answer.tables.map(({ id, place }) => [id, place])).toEqual([
      ["variables-tendon", undefined],
      ["single-trials-tendon", "folded"],
      ["variables", "file"],
    ]);
  });

  test("what cannot be separated here cannot be there either, on any dose by itself", async () => {
    const rows = rowsIn(await ask("variables", {}, demo)).filter(
      ({ family, inseparable }) => family === "size" && inseparable !== undefined,
    );
    expect(rows.length).toBeGreaterThan(2);
    for (const { axis, verdict } of rows) {
      const { headline, figures } = await ask(
        "dose",
        { on: [axis.name], outcome: "size", draws: 100, shapes: "straight-line" },
        demo,
      );
      expect(headline, axis.name).toContain(`before to after: ${verdict.reason}`);
      expect(drawnFigures(figures[0]!)[0]!.title).toBe(
        // The title says it without the number, which the headline gives.
        `Size: ${axis.label} ${verdict.reason.replace(/ \(r [^)]*\)/u, "")}`,
      );
    }
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

  test("of nested totals the session's stands in the table, the others on demand; a distance of the test is never favoured", async () => {
    const totals = (answer: { data: object }) =>
      new Set(
        rowsIn(answer).flatMap(({ axis, withIt }) => [axis, ...withIt].map((one) => one.name)),
      );
    const usual = totals(await ask("variables", {}, demo));
    expect(usual.has("tensionTimePerSessionSeconds")).toBe(true);
    expect(usual.has("tensionTimePerWeekSeconds") || usual.has("angleDistanceDegrees")).toBe(false);
    const all = await ask("variables", { on: "all" }, demo);
    expect(totals(all).has("tensionTimeProgrammeSeconds")).toBe(true);
    expect(totals(all).has("angleDistanceDegrees")).toBe(true);
    for (const { axis, verdict } of rowsIn(all))
      if (axis.name === "angleDistanceDegrees") expect(verdict.verdict).not.toBe("favoured");
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
    expect(
      rowsIn(strict).every(({ verdict }) => verdict.verdict !== "no difference that counts"),
    ).toBe(true);
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
