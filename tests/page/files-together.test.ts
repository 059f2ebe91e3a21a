import { describe, expect, test } from "vitest";
import { readProject } from "../../src/page/project-file.js";
import { codebookText, strengthRow as row } from "../answers/evidence-under-test.js";
import { textRow, workbookOf } from "../workbook/workbook-under-test.js";
import { cellsOf, dropFile, goTo, savedBy } from "./page-actions.js";
import { hasBrowser, openPage, writePage } from "./page-under-test.js";

/** As a mended file is written: without quotation marks that nothing needs. */
const plain = (text: string): string => `${text.replaceAll('"', "")}\n`;
const first = plain(codebookText([row("Ash 2001", 11), row("Birch 2002", 17)]));
const second = plain(
  codebookText([
    { weeks: 8, ...row("Cedar 2003", 23) },
    { ...row("Ash 2001", 11.5, { arm: "second arm" }) },
    { ...row("Elm 2005", 12, { n_end: "twelve" }) },
  ]),
);

/** The cells of a text in the codebook's columns as a sheet, one row lower for the title above. */
const sheetOf = (text: string) => ({
  rows: [
    textRow(1, "Table 2"),
    ...text
      .trim()
      .split("\n")
      .map((line, at) => textRow(at + 2, ...line.split(","))),
  ].join(""),
});
const workbook = workbookOf([
  { name: "Read me", rows: textRow(1, "nothing", "here") + textRow(2, "a", "b") },
  { name: "Trials", ...sheetOf(second) },
]);

const add = (
  page: Awaited<ReturnType<typeof openPage>>["page"],
  name: string,
  content: string | Uint8Array,
) =>
  page
    .getByLabel("Table to add")
    .setInputFiles({ name, mimeType: "text/csv", buffer: Buffer.from(content) });

describe.skipIf(!hasBrowser)("several files on the page", () => {
  test("are one: named everywhere, mended apart, kept in the project, taken out again", async () => {
    const opened = await openPage({
      address: await writePage({ name: "first.csv", content: first }),
      hash: "/data",
      width: 360,
    });
    const { page, settled } = opened;
    await page.waitForSelector("text=2 rows: 2 averaged");
    await add(page, "second.csv", second);
    await page.waitForSelector("text=/5 rows: /");
    await settled();
    expect(await page.locator(".file-strip").textContent()).toContain(
      "first.csv with second.csv, 5 rows",
    );
    const text = async () => (await page.locator("main").textContent()) ?? "";
    expect(await text()).toContain(
      "more than one file has rows of Ash 2001: the same people, counted as one study".slice(1),
    );
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
      360,
    );

    // The problem is named by its file, and its mend changes that file alone.
    await page.getByLabel("Cell at Line 4 of second.csv, n_end").fill("14");
    await page.getByRole("button", { name: "Check again with 1 change" }).click();
    await page.waitForSelector("text=/5 rows: 5 averaged/");
    const mended = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the mended file" }).click(),
    );
    expect(mended.name).toBe("second.csv");
    expect(mended.text).toBe(second.replace("twelve", "14"));

    const project = await savedBy(page, () =>
      page.getByRole("button", { name: "Save project" }).click(),
    );
    expect(readProject(project.text)).toMatchObject({
      table: { name: "first.csv", content: first },
      others: [{ name: "second.csv", content: second.replace("twelve", "14") }],
    });
    await page.getByRole("button", { name: "Take out second.csv" }).click();
    await page.waitForSelector("text=2 rows: 2 averaged");
    expect(opened.complaints()).toEqual([]);

    await dropFile(page, "h1", project.name, project.bytes);
    await page.waitForSelector("text=/5 rows: 5 averaged/");
    await goTo(page, "answers");
    await page.waitForSelector(".answer .headline");
    await settled();
    expect(await text()).toContain("5 effects in 4 studies");
    await opened.close();
  });

  test("invented rows are never mixed with real ones, and what was open stays open", async () => {
    const { page, close } = await openPage({
      address: await writePage({ name: "first.csv", content: first }),
      hash: "/data",
    });
    await page.waitForSelector("text=2 rows: 2 averaged");
    await add(
      page,
      "made-up.csv",
      codebookText([{ ...row("Invented 01", 9), citation: "Invented for demonstration" }]),
    );
    await page.waitForSelector("[role=alert] >> text=never mixed with real ones");
    expect(await page.locator("[role=alert]").textContent()).not.toContain("--");
    expect(await page.locator(".file-strip").textContent()).toContain("first.csv, 2 rows");
    await close();
  });

  test("a workbook opens, by the sheet that is chosen, and its rows have the sheet's numbers", async () => {
    const opened = await openPage({ hash: "/data", width: 360 });
    const { page, settled } = opened;
    await dropFile(page, "h1", "trials.xlsx", workbook);
    await page.waitForSelector('.file-strip >> text="trials.xlsx (sheet Read me)"');
    await page.getByLabel("Sheet").selectOption("Trials");
    await page.waitForSelector('.file-strip >> text="trials.xlsx (sheet Trials)"');
    await page.waitForSelector("text=/3 rows: /");
    await settled();
    expect((await cellsOf(page, "What became of the 3 rows")).length).toBeGreaterThan(1);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
      360,
    );
    await page.getByLabel("Cell at Line 5, n_end").fill("14");
    await page.getByRole("button", { name: "Check again with 1 change" }).click();
    await page.waitForSelector("text=/3 rows: 3 averaged/");
    const mended = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the mended file" }).click(),
    );
    expect(mended.name).toBe("trials (sheet Trials).csv");
    expect(mended.text).toBe(second.replace("twelve", "14"));
    await page.getByRole("button", { name: "Take the last mend back" }).click();
    await page.waitForSelector('.file-strip >> text="trials.xlsx (sheet Trials)"');
    expect(opened.complaints()).toEqual([]);
    await opened.close();
  });
});
