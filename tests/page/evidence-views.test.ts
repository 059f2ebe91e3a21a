import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { doseResponse } from "../../src/dose/dose-response.js";
import { evaluateCurve } from "../../src/dose/averaged-curve.js";
import { variableTable } from "../../src/dose/variable-table.js";
import { effectSubset } from "../../src/effects/effect-subset.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { readRecords } from "../../src/records/read-records.js";
import { rampSheet } from "../../src/answers/ramp-sheet.js";
import { doseReadOffsTable, doseSlopesTable } from "../../src/tables/dose-table.js";
import { rampTable } from "../../src/tables/ramp-table.js";
import { shownEstimate, shownInterval } from "../../src/tables/scale-display.js";
import type { Table } from "../../src/tables/table.js";
import { variablesTable } from "../../src/tables/variables-table.js";
import { projectRoot } from "../house/source-tree.js";
import { cellsOf, dropFile, savedBy } from "./page-actions.js";
import { hasBrowser, openPage, type OpenedPage } from "./page-under-test.js";

const { rows } = readRecords(readTable(demoRegisterCsv()));
const set = effectsFromRows(rows, {
  scale: "log-ratio-of-means",
  contrast: "change-within-arm",
});

const cellsOfTable = (table: Table): readonly (readonly string[])[] =>
  table.rows.map((row) => table.columns.map(({ key }) => row[key] ?? ""));

describe.skipIf(!hasBrowser)("dose, variables and working up", { timeout: 120_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  const go = async (view: string, choices = ""): Promise<void> => {
    await page.evaluate((hash) => {
      location.hash = hash;
    }, `#/${view}${choices}`);
    await page.waitForSelector(`nav a[aria-current][href^="#/${view}"]`);
  };
  const expectTable = async (table: Table): Promise<void> => {
    await page.locator("caption", { hasText: table.title }).first().waitFor();
    expect((await cellsOf(page, table.title)).slice(1)).toEqual(cellsOfTable(table));
  };

  beforeAll(async () => {
    one = await openPage();
    page = one.page;
    await page.getByRole("button", { name: "Invented demonstration" }).click();
    await page.waitForSelector(".file-strip");
  }, 120_000);
  afterAll(async () => {
    await one.close();
  });

  test("a dose's slopes, its read-offs and the curve read by the slider are the library's", async () => {
    await go("dose", "?dose-on=holdSeconds&dose-outcome=strength");
    const answer = doseResponse(
      effectSubset(set, ({ row }) => row.outcomeFamily === "strength"),
      "holdSeconds",
    );
    if (answer.kind === "refusal") throw new Error(answer.reason);
    await expectTable(doseSlopesTable(answer));
    await expectTable(doseReadOffsTable(answer));
    const { low, high } = answer.range;
    await page.locator("#read-at").fill(String(low));
    const at = evaluateCurve(answer.averaged, low);
    expect(await page.locator(".read-at output").textContent()).toContain(
      `${shownEstimate(at.estimate, set.scale, at.standardError)}% (${shownInterval(at.interval, set.scale, at.standardError)})`,
    );
    expect(high).toBeGreaterThan(low);
  });

  test("a question the table cannot answer is answered with what is missing", async () => {
    await go("dose", "?dose-on=holdSeconds&dose-outcome=rapid+force");
    await page.locator(".result-refusal").waitFor();
    expect(await page.locator(".result-refusal").textContent()).toContain(
      "No curve can be drawn, and that is the answer.",
    );
  });

  test("the table of variables is the library's, with its rules under it", async () => {
    await go("variables");
    const table = variableTable(set);
    await expectTable(variablesTable(table, "strength"));
    expect(await page.locator("h2", { hasText: "Rules of the verdicts" }).count()).toBe(1);
    await page.getByLabel("Question").selectOption("joint angle");
    await page.locator("caption", { hasText: "Carry-over" }).first().waitFor();
    await page.getByLabel("Question").selectOption("equal tension");
    await page.getByLabel("Held equal").waitFor();
  });

  test("a working-up is the library's; the sheet to print is saved to the byte; refusals say what fits", async () => {
    const text = "4 × 30 s at 70 %, rest 120 s, 3/week, long, knee";
    await go("ramp");
    const plan = rampPlan(parsePrescription(text), { from: "deconditioned", weeks: 10 });
    if (plan.kind === "refusal") throw new Error(plan.reason);
    await expectTable(rampTable(plan));
    const saved = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the sheet to print" }).click(),
    );
    expect(saved.text).toBe(rampSheet(plan));
    await page.getByLabel("Weeks until the protocol itself").fill("2");
    await page.locator(".result-refusal").waitFor();
    expect(await page.locator(".result-refusal").textContent()).toContain("What would fit");
    expect(await page.locator(".cautions-panel [data-caution]").count()).toBeGreaterThan(8);
    await page.locator("#target").fill("4 × 30 s at 70 %, rest 120 s, 3/week, long, kneee");
    expect(await page.locator("#target-problem mark").textContent()).toBe("kneee");
  });

  test("a pooled number is shown with its formula and its numbers, and an effect of a published table too", async () => {
    const published = readFileSync(join(projectRoot, "data/published-outcomes.csv"), "utf8");
    await go("start");
    await dropFile(page, "h1", "published-outcomes.csv", published);
    await page.waitForSelector(".file-strip:not(.invented)");
    await go("made");
    await page.waitForSelector(".steps");
    const records = readRecords(readTable(published));
    const first = effectsFromRows(records.rows, { scale: "log-ratio-of-means" }).effects[0]!;
    const effects = page.locator(".made .wish select").last();
    expect(await effects.locator("option").first().textContent()).toContain(first.study);
    expect(await page.locator(".formula").count()).toBeGreaterThan(3);
    expect(one.complaints()).toEqual([]);
    expect(one.requests()).toEqual([]);
  });

  test("what a table cannot tell apart is not shown as a difference of nothing", async () => {
    await go("protocols");
    await page.waitForSelector(".difference");
    // Nearly all arms of the published table train alike, so no predictor tells the two protocols apart.
    expect(await page.locator(".difference dd").first().textContent()).toBe("cannot be told");
    expect(await page.locator(".difference").textContent()).toContain(
      "no evidence that they are equal",
    );
    await page.locator("#protocol-b").fill(await page.locator("#protocol-a").inputValue());
    expect(await page.locator(".difference").textContent()).toContain(
      "They are the same protocol.",
    );
  });
});
