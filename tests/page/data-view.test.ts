import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { readRecords } from "../../src/records/read-records.js";
import { readAnyTable } from "../../src/workbook/read-any-table.js";
import { cellsOf, dropFile, goTo, savedBy, shows } from "./page-actions.js";
import { hasBrowser, openPage } from "./page-under-test.js";

const header =
  "study,citation,design,arm,arm_kind,n_end,muscle_group,intensity_percent,hold_seconds,repetitions,sets,weeks,outcome,outcome_family,statistic,pre_mean,pre_spread,post_mean,post_spread,spread_kind,notes";
const row = (study: string, people: string, spread: string, notes = ""): string =>
  `${study},C 2001,single group,train,isometric,${people},knee extensors,70,5,5,4,8,peak isometric torque,strength,means at both times,100,${spread},120,22,standard deviation,${notes}`;
const damaged = [
  header,
  row("Ash 2001", "12", "20"),
  row("Birch 2002", "abc", "-20"),
  "Cedar 2003,too,few",
  "",
].join("\n");

describe.skipIf(!hasBrowser)("the view of the data", () => {
  test("a damaged file shows each problem at its place, is mended there, saved, and taken back", async () => {
    const opened = await openPage();
    const { page, settled } = opened;
    // Beside the drop zone on purpose: a file dropped anywhere is opened, never navigated to.
    await dropFile(page, "h1", "damaged.csv", damaged);
    await page.waitForSelector("text=3 rows: 0 averaged; 1 kept, not averaged; 2 set aside");
    expect(page.url()).toContain("#/data");
    const library = readRecords(readTable(damaged));
    expect(await page.locator(".mend-item").count()).toBe(library.issues.length);
    for (const { message, mend } of library.issues) {
      expect(await page.locator(".mend-list").textContent()).toContain(message);
      expect(await page.locator(".mend-list").textContent()).toContain(mend);
    }
    await page.getByLabel("Cell at Line 3, n_end").fill("14");
    await page.getByLabel("Cell at Line 3, pre_spread").fill("21");
    await page.getByLabel("Line at Line 4").fill(row("Cedar 2003", "9", "18", '"a, b"'));
    await page.getByRole("button", { name: "Check again with 3 changes" }).click();
    await page.waitForSelector("text=3 rows: 3 averaged");
    await settled();
    const saved = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the mended file" }).click(),
    );
    expect(saved.name).toBe("damaged.csv");
    const reread = readRecords(readTable(saved.bytes));
    expect(reread.usable).toBe(true);
    expect(reread.rows.map(({ study, nEnd, preSpread }) => [study, nEnd, preSpread])).toEqual([
      ["Ash 2001", 12, 20],
      ["Birch 2002", 14, 21],
      ["Cedar 2003", 9, 18],
    ]);
    expect(reread.rows[2]?.notes).toBe("a, b");
    await page.getByRole("button", { name: "Take the last mend back" }).click();
    await page.waitForSelector("text=3 rows: 0 averaged; 1 kept, not averaged; 2 set aside");
    expect(opened.complaints()).toEqual([]);
    await opened.close();
  });

  test("the whole text can be edited, and counts stand as the library counts", async () => {
    const { page, close } = await openPage();
    await dropFile(page, ".drop", "damaged.csv", damaged);
    await page.locator("summary", { hasText: "Edit the file as text" }).click();
    const text = page.getByLabel("Text of damaged.csv");
    expect(await text.inputValue()).toBe(damaged);
    const whole = [header, row("Ash 2001", "12", "20"), row("Birch 2002", "14", "21"), ""].join(
      "\n",
    );
    await text.fill(whole);
    await page.getByRole("button", { name: "Check this text" }).click();
    await page.waitForSelector("text=2 rows: 2 averaged");
    const fates = await cellsOf(page, "What became of the 2 rows");
    expect(fates.slice(1).map(([fate, rows]) => [fate, rows])).toEqual([["averaged", "2"]]);
    await close();
  });

  test("without a file there is a blank table, the codebook and the glossary; with one, its titles are filled", async () => {
    const opened = await openPage({ hash: "/data" });
    const { page } = opened;
    const blank = await savedBy(page, () =>
      page.getByRole("button", { name: "Save a blank table with an example row" }).click(),
    );
    const { rows, issues } = readRecords(readTable(blank.bytes));
    expect([rows.length, issues]).toEqual([1, []]);
    await page.getByText("Codebook: what each column means").click();
    await page.getByText("Glossary: what the words mean").click();
    await expect.poll(() => page.locator("dt", { hasText: /^hold_seconds$/ }).count()).toBe(1);
    await expect
      .poll(() => page.locator("dt", { hasText: /^isometric training$/ }).count())
      .toBe(1);
    await dropFile(page, ".drop", "mine.csv", [header, row("Ash 2001", "12", "20"), ""].join("\n"));
    await page.waitForSelector("text=1 row:");
    await page.getByText("Fill titles and DOIs from a list of references").click();
    await page
      .getByLabel("BibTeX or CSL-JSON, pasted")
      .fill(
        "@article{a, author={Ash, Ben}, year={2001}, title={Holds}, journal={J}, doi={10.1000/h}}",
      );
    await page.getByRole("button", { name: "Fill the file" }).click();
    await page.getByText("3 cells filled from 1 work.").waitFor();
    const saved = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the mended file" }).click(),
    );
    expect(readRecords(readTable(saved.bytes)).rows[0]).toMatchObject({
      ...{ citation: "Ash B (2001) Holds. J", doi: "10.1000/h", year: 2001 },
    });
    expect(opened.complaints()).toEqual([]);
    await opened.close();
  });

  test("files that are no tables are explained, and no view fails on them", async () => {
    const strange: readonly (readonly [string, string | Uint8Array])[] = [
      ["empty", ""],
      ["only a header", `${header}\n`],
      ["a picture", Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0, 1, 2, 3])],
      ["a workbook", Uint8Array.from([0x50, 0x4b, 0x03, 0x04, 20, 0, 0, 0])],
      ["no codebook column", "colour,shape\nred,round\n"],
    ];
    const opened = await openPage({ hash: "/data" });
    const { page } = opened;
    for (const [name, content] of strange) {
      await dropFile(page, "h1", `${name}.csv`, content);
      await page.waitForSelector(`dd:text-is("${name}.csv")`);
      await opened.settled();
      const said = (await page.locator("main").textContent()) ?? "";
      expect(said, name).toMatch(/\d rows?: 0 averaged; 0 kept, not averaged/);
      const { issues, notes } = readRecords(
        await readAnyTable(
          typeof content === "string" ? new TextEncoder().encode(content) : content,
        ),
      );
      const reasons = [...issues, ...notes].map(({ message }) => message);
      expect(
        // A note is shown as a sentence, with a capital.
        reasons.some((reason) => said.toLowerCase().includes(reason.toLowerCase())),
        name,
      ).toBe(true);
    }
    // Every other view says that nothing can be shown instead of failing.
    for (const view of ["answers", "figures", "report"]) {
      await goTo(page, view);
      await shows(page, view);
      await opened.settled();
      expect(await page.locator("[role=alert]").count()).toBe(0);
    }
    expect(opened.complaints()).toEqual([]);
    await opened.close();
  });
});
