import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { ask } from "../../src/answers/ask.js";
import { openEvidence } from "../../src/answers/evidence.js";
import type { DoseCurve } from "../../src/dose/dose-response.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { readRecords } from "../../src/records/read-records.js";
import { rampSheet } from "../../src/answers/ramp-sheet.js";
import { rampTable } from "../../src/tables/ramp-table.js";
import type { Table } from "../../src/tables/table.js";
import { projectRoot } from "../house/source-tree.js";
import { cellsOf, dropFile, savedBy, shows } from "./page-actions.js";
import { hasBrowser, openPage, type OpenedPage } from "./page-under-test.js";

const demo = openEvidence({
  name: "demo-register.csv",
  fingerprint: "0".repeat(64),
  table: readTable(demoRegisterCsv()),
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
    await shows(page, view);
  };
  const expectTable = async (table: Table): Promise<void> => {
    await page.locator("caption", { hasText: table.title }).first().waitFor();
    expect((await cellsOf(page, table.title)).slice(1)).toEqual(cellsOfTable(table));
  };

  beforeAll(async () => {
    one = await openPage();
    page = one.page;
    await page.getByRole("button", { name: "Invented demonstration" }).click();
    await page.waitForSelector(".file-strip.invented");
  }, 120_000);
  afterAll(async () => {
    await one.close();
  });

  test("a dose's tables, its headline and the curve read by the slider are the answer's", async () => {
    const asked = { on: "holdSeconds", outcome: "strength" };
    await go("dose", "?dose-on=holdSeconds&dose-outcome=strength");
    const answer = await ask("dose", asked, demo);
    for (const table of answer.tables.filter(({ place }) => place === undefined))
      await expectTable(table);
    expect(await page.locator(".headline").textContent()).toBe(answer.headline);
    const { low, high } = (answer.data as never as { answer: DoseCurve }).answer.range;
    await page.locator("#read-at").fill(String(low));
    const read = await ask("dose", { ...asked, at: [low] }, demo);
    const cells = read.tables[1]!.rows.find(({ quantity }) => quantity!.includes("(asked for)"))!;
    await expect
      .poll(() => page.locator(".read-at output").textContent())
      .toBe(`${cells["quantity"]!.replace(" (asked for)", "")}: ${cells["value"]}`);
    expect(high).toBeGreaterThan(low);
  });

  test("without a dose the view says which can be told; a question the file cannot answer says what is missing", async () => {
    await go("dose");
    await expectTable((await ask("dose", {}, demo)).tables[0]!);
    // A press opens a curve; the questions that stand elsewhere are a click away.
    const links = page.locator(".dose a");
    expect(await links.evaluateAll((all) => all.map((one) => one.getAttribute("href")))).toEqual([
      "#/variables?variables-question=joint-angle",
      "#/variables?variables-question=time",
    ]);
    await page.locator(".dose").getByRole("button", { name: "hold length", exact: true }).click();
    const curve = await ask("dose", { on: "holdSeconds", outcome: "strength" }, demo);
    await expect.poll(() => page.locator(".headline").textContent()).toBe(curve.headline);
    await go("dose", "?dose-on=holdSeconds&dose-outcome=symptoms");
    await page.locator(".result-refusal").waitFor();
    const { headline } = await ask("dose", { on: "holdSeconds", outcome: "symptoms" }, demo);
    expect(await page.locator(".result-refusal .headline").textContent()).toBe(headline);
  });

  test("the table of variables and the three questions are the answers'", async () => {
    await go("variables");
    await expectTable((await ask("variables", {}, demo)).tables[0]!);
    for (const id of ["joint-angle", "equal-tension", "time"] as const) {
      await page.getByLabel("Question").selectOption(id);
      const answer = await ask(id, {}, demo);
      await expectTable(answer.tables[0]!);
      expect(await page.locator(".headline").textContent()).toBe(answer.headline);
    }
  });

  test("a working-up is the library's; the sheet to print is saved to the byte; too few weeks are said", async () => {
    const text = "4 × 20 s at 70%, rest 120 s, 3/week, long, knee";
    await go("ramp");
    const plan = rampPlan(parsePrescription(text), { from: "deconditioned", weeks: 24 });
    if (plan.kind === "refusal") throw new Error(plan.reason);
    await expectTable(rampTable(plan));
    const saved = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the sheet to print" }).click(),
    );
    expect(saved.text).toBe(rampSheet(plan));
    await page.getByLabel("Weeks until the protocol itself").fill("2");
    await expect
      .poll(async () => page.locator(".headline").textContent())
      .toContain(`needs ${plan.shortestWeeks} weeks by these rules`);
    expect(await page.locator(".cautions-panel [data-caution]").count()).toBeGreaterThan(8);
    await page.locator("#target").fill("4 × 20 s at 70%, rest 120 s, 3/week, long, kneee");
    expect(await page.locator("#target-problem mark").textContent()).toBe("kneee");
  });

  test("a pooled number is shown with its formula and its numbers, and an effect of a published table too", async () => {
    const published = readFileSync(
      join(projectRoot, "tests/first-wave/published-outcomes.csv"),
      "utf8",
    );
    await go("start");
    await dropFile(page, "h1", "published-outcomes.csv", published);
    await page.waitForSelector(".file-strip:not(.invented)");
    await go("made");
    await page.waitForSelector(".steps");
    const records = readRecords(readTable(published));
    const first = effectsFromRows(records.rows, { scale: "log-ratio-of-means" }).effects[0]!;
    const effects = page.locator(".made label.wish", { hasText: /^Effect/ }).locator("select");
    expect(await effects.locator("option").first().textContent()).toContain(first.study);
    expect(await page.locator(".formula").count()).toBeGreaterThan(3);
    expect(one.complaints()).toEqual([]);
    expect(one.requests()).toEqual([]);
  });

  test("what a table cannot tell apart is not shown as a difference of nothing", async () => {
    await go("protocols");
    // Nearly all arms of the published table train alike, so no predictor tells two protocols apart.
    await expect
      .poll(() => page.locator("#main").textContent(), { timeout: 30_000 })
      .toMatch(/trials of this file average [\d.]+%.*it cannot say which of A and B gives more/s);
    expect(await page.locator(".difference").count()).toBe(0);
  });

  test("of two that differ in weeks alone, sentence and bars give each length the same number", async () => {
    const lasting = (weeks: number) => `4 × 20 s at 70%, rest 60 s, 3/week, ${weeks} weeks, knee`;
    await go(
      "protocols",
      `?${new URLSearchParams({ "protocols-a": lasting(12), "protocols-b": lasting(8) }).toString()}`,
    );
    await expect
      .poll(() => page.locator(".call .headline").textContent(), { timeout: 30_000 })
      .toMatch(/ after 12 weeks \(A\) and .* after 8 weeks \(B\)/);
    const headline = (await page.locator(".call .headline").textContent()) ?? "";
    const said = [...headline.matchAll(/([\d.]+%) \(95% range/g)].map(([, number]) => number);
    expect(new Set(said).size).toBe(2);
    const bars = page.locator(".on-one-axis");
    expect(await bars.locator(".letter").allTextContents()).toEqual(["A", "B"]);
    expect(await bars.locator(".verdict").allTextContents()).toEqual(
      said.map((number) => `average ${number}`),
    );
  });
});
