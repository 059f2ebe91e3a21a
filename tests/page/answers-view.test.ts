import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { readRecords } from "../../src/records/read-records.js";
import { analyse, type Analysis } from "../../src/report/analysis.js";
import { answerSentence } from "../../src/report/answer-sentence.js";
import { pooledTables } from "../../src/report/pooled-tables.js";
import { answerFigures } from "../../src/report/report-figures.js";
import { effectsTable } from "../../src/tables/effects-table.js";
import { runHere } from "../command/run-here.js";
import { fileOf, testFolder } from "../command/test-folder.js";
import { numberDifferences } from "./number-differences.js";
import { cellsOf, savedBy } from "./page-actions.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "./page-under-test.js";

const name = "demo-register.csv";
const content = demoRegisterCsv();

describe.skipIf(!hasBrowser)("answers and report", () => {
  let analysis: Analysis;
  let opened: OpenedPage;
  const reportFolder = join(testFolder, "report");
  const writtenText = (file: string): string => readFileSync(join(reportFolder, file), "utf8");

  beforeAll(async () => {
    analysis = analyse({ name, fingerprint: "", invented: true }, readRecords(readTable(content)));
    const { exitCode } = await runHere("report", fileOf(name, content), "-o", reportFolder);
    expect(exitCode).toBe(0);
    opened = await openPage({
      address: await writePage({ name, content }),
      hash: "/answers",
    });
    await opened.settled();
  }, 180_000);

  test("the page's tables show the library's numbers to the last shown digit", async () => {
    const { page } = opened;
    for (const table of pooledTables(analysis)) {
      const cells = await cellsOf(page, table.title);
      expect(cells.slice(1)).toEqual(
        table.rows.map((row) => table.columns.map(({ key }) => row[key] ?? "")),
      );
    }
    const said = await page.locator(".answers").textContent();
    for (const answer of analysis.answers)
      expect(said).toContain(answerSentence(answer, analysis.confidence));
  });

  test("one answer in depth: its effects, and its figures with all they offer", async () => {
    const { page, settled } = opened;
    const family = analysis.answers.find(({ id }) => id.startsWith("tendon"));
    if (family === undefined) throw new Error("the demonstration has no tendon answer");
    await page
      .locator("label", { hasText: /^Outcome/ })
      .locator("select")
      .selectOption(family.id);
    await page.waitForFunction((id) => location.hash.includes(id), family.id);
    const figures = answerFigures(family, analysis.confidence);
    await page.waitForFunction(
      (count) => document.querySelectorAll("figure img").length === count,
      figures.length,
    );
    await settled();
    await page.locator("summary", { hasText: "Every effect" }).click();
    const table = effectsTable(family.set);
    expect((await cellsOf(page, table.title)).slice(1, 21)).toEqual(
      table.rows.slice(0, 20).map((row) => table.columns.map(({ key }) => row[key] ?? "")),
    );
    const figure = figures[0];
    if (figure === undefined) throw new Error("the answer has no figure");
    const shown = page.locator("figure").first();
    const taken = (button: string) =>
      savedBy(page, () => shown.getByRole("button", { name: button, exact: true }).click());
    const svg = await taken("SVG");
    expect(svg.name).toBe(`${figure.id}.svg`);
    expect(numberDifferences(svg.text, writtenText(`figures/${figure.id}.svg`))).toEqual([]);
    const png = await taken("PNG");
    expect(png.bytes.subarray(1, 4).toString("latin1")).toBe("PNG");
    const width = Number(/ width="(\d+)/.exec(svg.text)?.[1]);
    expect(png.bytes.readUInt32BE(16)).toBe(3 * width);
    const specification = await taken("Specification");
    expect(JSON.parse(specification.text)).toHaveProperty("config");
    expect(numberDifferences(specification.text, writtenText(`figures/${figure.id}.json`))).toEqual(
      [],
    );
    const data = await taken("Data");
    expect(readTable(data.bytes).rows).toHaveLength(figure.data.length);
    expect(numberDifferences(data.text, writtenText(`figures/${figure.id}.csv`))).toEqual([]);
  });

  test("a figure fills the screen, Escape brings the page back, and it is copied as a picture", async () => {
    const { page } = opened;
    await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
    const shown = page.locator("figure").first();
    const button = shown.getByRole("button", { name: "Full screen" });
    await button.click();
    await page.waitForSelector("dialog[open] img");
    const box = await page.locator("dialog[open]").boundingBox();
    expect(box?.width).toBe(1280);
    await page.getByRole("button", { name: "Close" }).click();
    await page.waitForSelector("dialog", { state: "detached" });
    expect(await button.evaluate((element) => element === document.activeElement)).toBe(true);
    await shown.getByRole("button", { name: "Copy as picture" }).click();
    await shown.getByText("Copied as a picture").waitFor();
    const types = await page.evaluate(async () =>
      (await navigator.clipboard.read()).flatMap(({ types: each }) => each),
    );
    expect(types).toContain("image/png");
  });

  test("the report saved from the page is the command line's, to every shown digit", async () => {
    const { page, settled } = opened;
    await page.locator(`nav a[href^="#/report"]`).click();
    await page.getByRole("button", { name: "Save the report" }).waitFor();
    const report = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the report" }).click(),
    );
    expect(numberDifferences(report.text, writtenText("report.html"))).toEqual([]);
    await settled();
    await page.locator(".file-list button").first().waitFor();
    const saved = await savedBy(page, () =>
      page.locator(".file-list button", { hasText: "results.json" }).click(),
    );
    // How many steps a search took is no result, and may differ where the steps differ in a last bit.
    const results = (text: string): string =>
      text.replace(/"(?:iterations|lastChange|gradient)": [^,\n]+/g, "");
    expect(numberDifferences(results(saved.text), results(writtenText("results.json")))).toEqual(
      [],
    );
    const cite = await page.locator(".copy-text p").first().textContent();
    expect(report.text).toContain(cite);
    expect(opened.requests()).toEqual([]);
    expect(opened.complaints()).toEqual([]);
    // Shown in the page, with no script allowed inside.
    await page.getByRole("button", { name: "Read it here" }).click();
    const inside = page.frameLocator("iframe.report");
    await inside.locator("h1").waitFor();
    expect(await inside.locator("figure svg").count()).toBeGreaterThan(5);
  }, 180_000);
});
