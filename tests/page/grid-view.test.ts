import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { readAnyTable } from "../../src/workbook/read-any-table.js";
import { axeProblems } from "./axe-problems.js";
import { longestTaskDuring } from "./main-thread-tasks.js";
import { savedBy } from "./page-actions.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "./page-under-test.js";

const header =
  "study,arm,arm_kind,n_end,intensity_percent,weeks,outcome,outcome_family,pre_mean,pre_spread,post_mean,post_spread,notes";
const line = (study: string, people: string, mean: number): string =>
  `${study},long,isometric,${people},80,8,torque,strength,${mean},20,${mean + 18},21,`;
const small = [header, line("Ash 2001", "12", 100), line("Birch 2002", "abc", 90)].join("\n");

const load = async (one: OpenedPage): Promise<void> => {
  await one.page.waitForSelector(".grid-row");
  await one.page.waitForSelector("button.main:not([disabled])");
  await one.settled();
};

describe.skipIf(!hasBrowser)("the file as a table", { timeout: 180_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  beforeAll(async () => {
    one = await openPage({
      address: await writePage({ name: "small.csv", content: `${small}\n` }),
      hash: "/grid",
    });
    page = one.page;
    page.setDefaultTimeout(60_000);
    await load(one);
    await page.locator(".grid-box").focus();
  }, 120_000);
  afterAll(() => one.close());

  const here = () => page.locator(".grid-row .here").textContent();
  const saved = async (): Promise<readonly (readonly string[])[]> => {
    const { bytes } = await savedBy(page, () =>
      page.getByRole("button", { name: "Save as CSV" }).click(),
    );
    return readTable(bytes).rows.map(({ cells }) => cells);
  };

  test("a problem stands on its cell with the reader's mend, and goes when the cell is mended by keyboard", async () => {
    expect(await page.locator(".grid-row .bad").count()).toBe(1);
    await page.keyboard.press("ArrowDown");
    for (let at = 0; at < 3; at += 1) await page.keyboard.press("ArrowRight");
    expect(await here()).toBe("abc");
    expect(await page.locator(".grid-told").textContent()).toContain("type a whole number");
    await page.keyboard.press("F2");
    await page.keyboard.press("Escape");
    expect(await here()).toBe("abc");
    await page.keyboard.type("14");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => document.querySelector(".grid-row .bad") === null);
    expect((await saved())[1]![3]).toBe("14");
  });

  test("typing and tabs go along a row; undo and redo take steps back and forth", async () => {
    await page.locator(".grid-box").focus();
    await page.keyboard.press("Control+Home");
    await page.keyboard.press("End");
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.type("22");
    await page.keyboard.press("Tab");
    await page.keyboard.type("looked up");
    await page.keyboard.press("Enter");
    expect((await saved())[0]!.slice(-2)).toEqual(["22", "looked up"]);
    await page.locator(".grid-box").focus();
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Control+z");
    expect((await saved())[0]!.slice(-2)).toEqual(["21", ""]);
    await page.locator(".grid-box").focus();
    await page.keyboard.press("Control+y");
    expect((await saved())[0]!.slice(-2)).toEqual(["22", ""]);
  });

  test("a piece of a spreadsheet is pasted below the last row, and copied back the same", async () => {
    await page.locator(".grid-box").focus();
    await page.keyboard.press("Control+End");
    await page.keyboard.press("Home");
    const piece = 'Cedar 2003\tshort\tisometric\t17\nDogwood 2004\t"a\tb"\tdynamic\t19';
    const copied = await page.evaluate((text) => {
      const box = document.querySelector(".grid-box")!;
      const carry = (kind: string, data: DataTransfer) =>
        box.dispatchEvent(
          new ClipboardEvent(kind, { clipboardData: data, bubbles: true, cancelable: true }),
        );
      const there = new DataTransfer();
      there.setData("text/plain", text);
      carry("paste", there);
      return new Promise<string>((give) =>
        setTimeout(() => {
          const back = new DataTransfer();
          carry("copy", back);
          give(back.getData("text/plain"));
        }, 300),
      );
    }, piece);
    expect(copied).toBe("Cedar 2003");
    const rows = await saved();
    expect(rows.length).toBe(4);
    expect(rows[2]!.slice(0, 4)).toEqual(["Cedar 2003", "short", "isometric", "17"]);
    expect(rows[3]!.slice(0, 4)).toEqual(["Dogwood 2004", "a\tb", "dynamic", "19"]);
  });

  test("rows are filtered and put in order without a change of the file", async () => {
    await page.getByLabel("Order").selectOption("pre_mean, rising");
    const first = () => page.locator(".grid-row").first().locator("[role=gridcell]").first();
    expect(await first().textContent()).toBe("Birch 2002");
    await page.getByLabel("Rows that hold").fill("ash");
    expect(await first().textContent()).toBe("Ash 2001");
    expect(await page.locator(".grid-row").count()).toBe(1);
    await page.getByLabel("Rows that hold").fill("");
    await page.getByLabel("Order").selectOption("as in the file");
    expect((await saved()).map(([study]) => study)).toEqual([
      "Ash 2001",
      "Birch 2002",
      "Cedar 2003",
      "Dogwood 2004",
    ]);
  });

  test("the name of a column puts the rows in its order, by mouse and by keyboard, and says so", async () => {
    const box = page.locator(".grid-box");
    const head = page.getByRole("columnheader", { name: "pre_mean" });
    const studies = () =>
      page.locator(".grid-row [role=gridcell][aria-colindex='1']").allTextContents();
    const inFile = ["Ash 2001", "Birch 2002", "Cedar 2003", "Dogwood 2004", ""];
    // Means of 100 and 90, and none in the last two; blank cells stay last.
    await head.click();
    expect(await head.getAttribute("aria-sort")).toBe("ascending");
    expect(await studies()).toEqual(["Birch 2002", "Ash 2001", ...inFile.slice(2)]);
    await head.click();
    expect(await head.getAttribute("aria-sort")).toBe("descending");
    expect(await studies()).toEqual(inFile);
    await head.click();
    expect(await head.getAttribute("aria-sort")).toBe("none");
    await box.focus();
    await page.keyboard.press("Control+Home");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("ArrowRight");
    const active = await box.getAttribute("aria-activedescendant");
    expect(await page.locator(`#${active}`).textContent()).toBe("arm");
    // On a name, no letter and no deletion changes the file.
    await page.keyboard.type("x");
    await page.keyboard.press("Delete");
    await page.keyboard.press("Enter");
    await page.keyboard.press(" ");
    expect(await page.locator(`#${active}`).getAttribute("aria-sort")).toBe("descending");
    expect((await studies())[0]).toBe("Cedar 2003");
    await page.keyboard.press("Enter");
    await page.keyboard.press("ArrowDown");
    expect(await here()).toBe("long");
    expect((await saved()).map(([study, arm]) => `${study}, ${arm}`)).toEqual([
      ...["Ash 2001, long", "Birch 2002, long", "Cedar 2003, short", "Dogwood 2004, a\tb"],
    ]);
  });

  test("a mend that is known is pressed, stands in the cell, and can be taken back", async () => {
    await page.locator(".grid-box").focus();
    await page.keyboard.press("Control+Home");
    for (let at = 0; at < 7; at += 1) await page.keyboard.press("ArrowRight");
    await page.keyboard.type("strenght");
    await page.keyboard.press("Enter");
    await page.keyboard.press("ArrowUp");
    const write = page.getByRole("button", { name: "Write strength" });
    await write.waitFor();
    // The reason and its mend stand on the first screen, above the rows.
    const told = (await page.locator(".grid-told").boundingBox())!;
    expect(told.y + told.height).toBeLessThan(
      (await page.locator(".grid-box").boundingBox())!.y + 1,
    );
    await write.click();
    expect(await here()).toBe("strength");
    await write.waitFor({ state: "detached" });
    expect((await saved())[0]![7]).toBe("strength");
    await page.locator(".grid-box").focus();
    await page.keyboard.press("Control+z");
    expect(await here()).toBe("strenght");
    await page.keyboard.press("Control+z");
    expect((await saved())[0]![7]).toBe("strength");
  });

  test("a workbook saved holds the same cells when it is read again", async () => {
    const { name, bytes } = await savedBy(page, () =>
      page.getByRole("button", { name: "Save as a workbook" }).click(),
    );
    expect(name).toBe("small.xlsx");
    const { header: titles, rows } = await readAnyTable(bytes);
    expect(titles.join()).toBe(header);
    const plain = await saved();
    expect(rows.map(({ cells }) => titles.map((_, at) => cells[at] ?? ""))).toEqual(plain);
  });

  test("the accessibility checker finds nothing; nothing was asked of the network", async () => {
    expect(await axeProblems(page)).toEqual([]);
    expect(one.complaints()).toEqual([]);
    expect(one.requests()).toEqual([]);
  });

  test("what was changed is there when the page is opened again, and is deleted when told to", async () => {
    await page.waitForTimeout(900);
    await page.evaluate(() => (location.hash = "#/start"));
    await page.reload();
    const line = page.locator(".kept-file");
    await line.waitFor();
    expect(await line.textContent()).toContain("small.csv");
    await page.getByRole("button", { name: "Go on with it" }).click();
    await page.waitForSelector("text=4 rows");
    await page.getByRole("button", { name: "Delete it from this machine" }).click();
    await line.waitFor({ state: "detached" });
    await page.reload();
    await page.waitForSelector(".drop");
    await one.settled();
    expect(await line.count()).toBe(0);
  });
});

describe.skipIf(!hasBrowser)("a long file as a table", { timeout: 180_000 }, () => {
  test("5,000 rows are scrolled, filtered, ordered and changed without holding the page up", async () => {
    const content = [
      header,
      ...Array.from({ length: 5000 }, (_, at) =>
        line(`Study ${at}`, String(10 + (at % 40)), 90 + (at % 70)),
      ),
      "",
    ].join("\n");
    const one = await openPage({
      address: await writePage({ name: "long.csv", content }),
      hash: "/grid",
    });
    const { page } = one;
    page.setDefaultTimeout(100_000);
    await load(one);
    const { processor } = await longestTaskDuring(page, async () => {
      await page.locator(".grid-box").focus();
      for (let at = 0; at < 12; at += 1) await page.keyboard.press("PageDown");
      await page.mouse.move(600, 500);
      for (let at = 0; at < 12; at += 1) await page.mouse.wheel(0, 4000);
      await page.keyboard.press("Control+End");
      await page.keyboard.press("ArrowUp");
      await page.keyboard.type("changed");
      await page.keyboard.press("Enter");
      await page.getByLabel("Rows that hold").fill("study 49");
      await page.getByLabel("Order").selectOption("pre_mean, falling");
      await page.waitForTimeout(1500);
    });
    process.stdout.write(`The longest task with 5,000 rows took ${processor.toFixed(0)} ms.\n`);
    expect(processor).toBeLessThan(200);
    expect(await page.locator(".grid-row").count()).toBeLessThan(60);
    expect(one.complaints()).toEqual([]);
    await one.close();
  });
});
