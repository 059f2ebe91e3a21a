import { statSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { readProject } from "../../src/page/project-file.js";
import { dropFile, goTo, savedBy, shows } from "./page-actions.js";
import { hasBrowser, openPage, writePage } from "./page-under-test.js";

/** Two sound rows and one to mend, in words that need care on the way to a file and back. */
const table = [
  "study,arm,outcome,outcome_family,statistic,pre_mean,pre_spread,post_mean,post_spread,spread_kind,n_end,notes",
  'Ölund 2001,train,peak isometric torque,strength,means at both times,100,20,120,22,standard deviation,12,"comma, ""quote"" – dash"',
  "Birch 2002,train,peak isometric torque,strength,means at both times,100,20,115,22,standard deviation,14,",
  "Cedar 2003,train,peak isometric torque,strength,means at both times,100,20,110,22,standard deviation,x,",
  "",
].join("\n");

describe.skipIf(!hasBrowser)("the page's frame", () => {
  test("opens from disk, offline, without a request or a complaint", async () => {
    const { page, complaints, requests, settled, close } = await openPage();
    await settled();
    expect(await page.title()).toBe("Start · Holdbook");
    expect(await page.locator("h1").textContent()).toBe("What do trials say about holding still?");
    // The library is open: two sessions to scale, and what it says of them.
    expect(await page.locator(".live .strip").count()).toBe(2);
    expect(await page.locator(".live .headline").textContent()).toMatch(/A and B/);
    // The educator's door: one click from the first screen to answers.
    await page.getByRole("button", { name: "See what the evidence says" }).click();
    await page.waitForSelector(".answer .headline");
    expect(await page.locator(".file-strip").textContent()).toContain("published-outcomes.csv");
    await settled();
    expect(complaints()).toEqual([]);
    expect(requests()).toEqual([]);
    await close();
  });

  test("the file stays under two megabytes, and an old browser is told what it needs", async () => {
    const address = await writePage();
    expect(statSync(fileURLToPath(address)).size).toBeLessThan(2_000_000);
    const { page, close } = await openPage({ address });
    await page.addInitScript("delete globalThis.DecompressionStream");
    await page.reload();
    await page.getByText("This page needs a browser of 2023 or later.").waitFor();
    await close();
  });

  test("choices stand in the address, never the data; a link opens the same view", async () => {
    const address = await writePage({ name: "small.csv", content: table });
    const { page, settled, close } = await openPage({
      address,
      hash: "/answers?scale=raw-mean-difference&nonsense=<b>&answers-one=none",
    });
    await settled();
    await page.locator("details.asked > summary").click();
    const scale = page.locator("details.asked label", { hasText: /^Scale/ }).locator("select");
    expect(await scale.inputValue()).toBe("raw-mean-difference");
    await scale.selectOption("log-variability-ratio");
    await page.waitForFunction(() => location.hash.includes("scale=log-variability-ratio"));
    await goTo(page, "figures");
    await shows(page, "figures");
    expect(page.url()).toContain("scale=log-variability-ratio");
    expect(page.url()).not.toContain("Birch");
    await page.goBack();
    await shows(page, "answers");
    // An address that names no view opens the first.
    await page.evaluate(() => (location.hash = "/%3Cscript%3E"));
    await shows(page, "start");
    await close();
  });

  test("a project holds table, choices and view, and opens where it was saved", async () => {
    const first = await openPage({
      address: await writePage({ name: "small.csv", content: table }),
      hash: "/answers?scale=raw-mean-difference",
    });
    await first.page.waitForSelector("figure img");
    await first.settled();
    const saved = await savedBy(first.page, () =>
      first.page.getByRole("button", { name: "Save project" }).click(),
    );
    expect(saved.name).toBe("small-project.json");
    expect(readProject(saved.text)).toMatchObject({
      view: "answers",
      choices: { scale: "raw-mean-difference" },
      table: { name: "small.csv", form: "text", content: table },
    });
    const before = await first.page.locator("main").textContent();
    await first.close();

    const second = await openPage();
    await dropFile(second.page, ".drop", saved.name, saved.bytes);
    await shows(second.page, "answers");
    await second.page.waitForSelector(".answer .headline");
    await second.page.waitForSelector("figure img");
    await second.settled();
    expect(await second.page.locator("main").textContent()).toBe(before);
    // A damaged project says which field, and what was open stays open.
    const damaged = saved.text.replace('"version": 1', '"version": "one"');
    await dropFile(second.page, "h1", "damaged.json", damaged);
    await second.page.waitForSelector("[role=alert] >> text=version");
    expect(await second.page.locator(".file-strip").textContent()).toContain("small.csv");
    await second.close();
  });

  test("long work shows how far it is and can be cancelled; the page goes on from there", async () => {
    const { page, settled, close, complaints } = await openPage({
      address: await writePage({ name: "demo-register.csv", content: demoRegisterCsv() }),
    });
    await settled();
    await goTo(page, "report");
    await page.getByRole("button", { name: "Cancel" }).click();
    await page.waitForSelector(".busy.idle", { state: "attached" });
    await goTo(page, "data");
    const { rows } = readTable(demoRegisterCsv());
    await page.waitForSelector(`text=/${rows.length} rows: \\d+ averaged/`);
    // The new worker has the table again.
    await goTo(page, "answers");
    await page.waitForSelector(".answer .headline");
    expect(complaints()).toEqual([]);
    await close();
  });

  test("everything is reached with the keyboard alone, in sight, and nothing holds the focus", async () => {
    const { page, settled, close } = await openPage({
      address: await writePage({ name: "small.csv", content: table }),
    });
    await settled();
    const focused = () =>
      page.evaluate(() => {
        const { activeElement } = document;
        const box = activeElement?.getBoundingClientRect();
        return {
          words: (activeElement?.textContent ?? "").trim().slice(0, 60),
          name: activeElement?.tagName ?? "",
          seen: box !== undefined && box.width > 0 && box.bottom > 0 && box.top < innerHeight,
        };
      });
    await page.keyboard.press("Tab");
    expect((await focused()).words).toBe("Skip to the content");
    await page.keyboard.press("Enter");
    expect((await focused()).name).toBe("H1");
    // To the data by its link, then on through a mend, typed and sent with Enter.
    for (let presses = 0; presses < 60; presses += 1) {
      await page.keyboard.press("Shift+Tab");
      if ((await focused()).words === "Data") break;
    }
    await page.keyboard.press("Enter");
    await page.waitForSelector(".mend-item");
    expect(await focused()).toMatchObject({ name: "H1", words: "Data" });
    for (let presses = 0; presses < 20; presses += 1) {
      await page.keyboard.press("Tab");
      if ((await focused()).name === "INPUT") break;
    }
    await page.keyboard.press("Control+a");
    await page.keyboard.type("15");
    await page.keyboard.press("Enter");
    await page.waitForSelector("text=3 rows: 3 averaged");
    // Once round the page: every stop is in sight, and the walk comes back to where it began.
    const stops: string[] = [];
    await page.evaluate(() => {
      document.querySelector<HTMLElement>(".skip")?.focus();
    });
    for (let presses = 0; presses < 120; presses += 1) {
      await page.keyboard.press("Tab");
      const { words, seen, name } = await focused();
      if (name === "BODY") break;
      expect(seen, words).toBe(true);
      stops.push(`${name} ${words}`);
    }
    expect(stops.length).toBeGreaterThan(15);
    expect(stops.length).toBeLessThan(120);
    expect(new Set(stops).has("A Evidence")).toBe(true);
    await close();
  });
});
