import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import type { Table } from "../../src/tables/table.js";
import { evidenceOf } from "../answers/evidence-under-test.js";
import { runHere } from "../command/run-here.js";
import { fileOf, testFolder } from "../command/test-folder.js";
import { numberDifferences } from "./number-differences.js";
import { cellsOf, goTo, savedBy } from "./page-actions.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "./page-under-test.js";

const name = "demo-register.csv";
const content = demoRegisterCsv();
const evidence = evidenceOf(content, name);
const shownCells = ({ rows, columns }: Table): readonly (readonly string[])[] =>
  rows.map((row) => columns.map(({ key }) => row[key] ?? ""));

describe.skipIf(!hasBrowser)("answers and report", () => {
  let opened: OpenedPage;
  let file = "";
  const reportFolder = join(testFolder, "report");
  const writtenText = (path: string): string => readFileSync(join(reportFolder, path), "utf8");
  /** Sets choices in the address, as a person who opens a link does. */
  const go = async (hash: string, before = ""): Promise<void> => {
    await opened.page.evaluate((to) => {
      location.hash = to;
    }, hash);
    if (before !== "")
      await opened.page.waitForFunction(
        (text) => document.querySelector(".headline")?.textContent !== text,
        before,
      );
    await opened.settled();
  };
  const headline = async (): Promise<string> =>
    (await opened.page.locator(".headline").first().textContent()) ?? "";

  beforeAll(async () => {
    file = fileOf(name, content);
    const { exitCode } = await runHere("report", file, "-o", reportFolder);
    expect(exitCode).toBe(0);
    opened = await openPage({
      address: await writePage({ name, content }),
      hash: "/answers",
    });
    await opened.settled();
  }, 180_000);

  test("headline, sentences and table are those of the question, to the last shown digit", async () => {
    const { page } = opened;
    const answer = await ask("pool", {}, evidence);
    expect(await headline()).toBe(answer.headline);
    const said = await page.locator(".answer").first().textContent();
    for (const sentence of answer.sentences) expect(said).toContain(sentence);
    const [averages] = answer.tables;
    expect((await cellsOf(page, averages!.title)).slice(1)).toEqual(shownCells(averages!));
  });

  test("rows, contrast, correlation and confidence are choices of the page, as of the command line", async () => {
    const options = {
      where: "weeks>=10",
      contrast: "against-control",
      correlation: "0.6",
      confidence: "0.9",
    };
    const words = Object.entries(options).flatMap(([option, value]) => [`--${option}`, value]);
    const { out } = await runHere("pool", file, ...words, "--json");
    const { groups } = JSON.parse(out) as { groups: { effects: number; studies: number }[] };
    const before = await headline();
    await go(`#/answers?${new URLSearchParams(options).toString()}`, before);
    const answer = await ask("pool", options, evidence);
    expect(await headline()).toBe(answer.headline);
    expect(answer.headline).toContain(`(90% interval `);
    expect(answer.headline).toContain(
      `${groups[0]!.effects} effects in ${groups[0]!.studies} studies`,
    );
    const line = await opened.page.locator(".asked summary").first().textContent();
    for (const part of ["against no exercise", "90% intervals", "weeks>=10", "correlation 0.6"])
      expect(line).toContain(part);
    // Chosen by hand, and kept in the next view.
    await opened.page.locator(".asked summary").first().click();
    await opened.page
      .locator(".asked label", { has: opened.page.getByText("Contrast", { exact: true }) })
      .locator("select")
      .selectOption({ label: "before to after" });
    await opened.page.waitForFunction(() => !location.hash.includes("contrast"));
    await opened.settled();
    const within = await ask("pool", { ...options, contrast: "change-within-arm" }, evidence);
    expect(await headline()).toBe(within.headline);
    await goTo(opened.page, "made");
    await opened.page.locator(".steps").first().waitFor();
    const made = await ask("made", { ...options, contrast: "change-within-arm" }, evidence);
    expect(await opened.page.locator(".made").textContent()).toContain(made.headline);
    await go("#/answers?confidence=95");
    await opened.page.getByRole("alert").waitFor();
    expect(await opened.page.getByRole("alert").textContent()).toContain("did you mean 0.95?");
    await go("#/answers");
  });

  test("one answer in depth: its effects, and its figures with all they offer", async () => {
    const { page, settled } = opened;
    const answer = await ask("pool", { outcome: "tendon" }, evidence);
    await page
      .locator("label.row", { hasText: /^Outcome/ })
      .locator("select")
      .selectOption("tendon");
    await page.waitForFunction(() => location.hash.includes("pool-outcome=tendon"));
    const figures = answer.figures.flatMap(drawnFigures);
    await page.locator(`#${figures[0]!.id}`).waitFor();
    await settled();
    expect(await page.locator("figure img").count()).toBe(figures.length);
    const table = answer.tables.find(({ id }) => id.startsWith("effects-"))!;
    await page.locator("summary", { hasText: /^Effects:/ }).click();
    expect((await cellsOf(page, table.title)).slice(1, 21)).toEqual(shownCells(table).slice(0, 20));
    const figure = figures[0]!;
    const shown = page.locator("figure").first();
    const taken = (button: string) =>
      savedBy(page, () => shown.getByRole("button", { name: button, exact: true }).click());
    const svg = await taken("SVG");
    expect(svg.name).toBe(`${figure.id}.svg`);
    expect(numberDifferences(svg.text, writtenText(`figures/${figure.id}.svg`))).toEqual([]);
    const png = await taken("PNG");
    expect(png.bytes.subarray(1, 4).toString("latin1")).toBe("PNG");
    const width = Number(/ width="([\d.]+)/.exec(svg.text)?.[1]);
    // A drawing may be so many points and a part; its picture has room for the part.
    expect(png.bytes.readUInt32BE(16)).toBe(Math.ceil(3 * width));
    const specification = await taken("Specification");
    expect(JSON.parse(specification.text)).toHaveProperty("config");
    expect(numberDifferences(specification.text, writtenText(`figures/${figure.id}.json`))).toEqual(
      [],
    );
    const data = await taken("Data");
    expect(readTable(data.bytes).rows).toHaveLength(figure.data.length);
    expect(numberDifferences(data.text, writtenText(`figures/${figure.id}.csv`))).toEqual([]);
    const recipe = await taken("Recipe");
    const again = await runHere("reproduce", fileOf(recipe.name, recipe.text), file);
    expect([again.exitCode, again.err]).toEqual([0, ""]);
    expect(again.out).toMatch(/^The same: /);
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
    await goTo(page, "report");
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
    const cite = await page.locator(".copy-text p").last().textContent();
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
