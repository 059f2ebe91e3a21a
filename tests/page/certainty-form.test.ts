import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { codebookText, evidenceOf, outcomeRow } from "../answers/evidence-under-test.js";
import { runHere } from "../command/run-here.js";
import { axeProblems } from "./axe-problems.js";
import { dropFile, goTo, savedBy } from "./page-actions.js";
import { hasBrowser, openPage, pageFolder, type OpenedPage } from "./page-under-test.js";

const text = codebookText(
  [12, 13, 11, 12.5].map((gain, place) =>
    outcomeRow(`Ash ${place}`, 100 + gain, { risk_measurement: place < 2 ? "high" : "low" }),
  ),
);
const evidence = evidenceOf(text, "trials.csv");

describe.skipIf(!hasBrowser)("the form for certainty", { timeout: 120_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  beforeAll(async () => {
    one = await openPage();
    page = one.page;
    await dropFile(page, "h1", "trials.csv", text);
    await page.waitForSelector("text=4 rows: 4 averaged");
  }, 120_000);
  afterAll(async () => {
    await one.close();
  });
  const headline = () => page.locator(".answer .headline").first().textContent();
  let saved: Readonly<{ name: string; text: string }>;

  test("is filled in by keyboard, keeps what is half typed, and its decisions are used at once", async () => {
    await goTo(page, "sure");
    await expect.poll(headline).toBe((await ask("certainty", {}, evidence)).headline);
    await page.locator("summary", { hasText: "Confirm or override" }).focus();
    await page.keyboard.press("Enter");
    await page.getByLabel("Who decides").fill("AB");
    const levels = page.getByLabel("Decided, imprecision");
    await levels.focus();
    await page.keyboard.press("ArrowDown");
    await page.waitForSelector("text=Waits for a reason: until then the proposal stands.");
    await page.keyboard.press("Tab");
    await page.keyboard.type("few ");
    // The answer comes while one types; neither the words nor the place are lost.
    await expect.poll(headline).toContain("as proposed, confirmed");
    await page.keyboard.type("people");
    const reason = page.getByLabel("Reason, imprecision");
    expect(await reason.inputValue()).toBe("few people");
    expect(await reason.evaluate((own) => own === document.activeElement)).toBe(true);
    await page.getByText("1 decision.", { exact: true }).waitFor();
    await expect
      .poll(() => page.locator("main").textContent())
      .toContain("overridden by AB: lowered by one level, few people");
  });

  test("the saved file, handed to the command, gives the page's answer; opened again it fills the form", async () => {
    saved = await savedBy(page, () =>
      page.getByRole("button", { name: "Save certainty.csv" }).click(),
    );
    expect(saved.name).toBe("certainty.csv");
    const [file, decisions] = [join(pageFolder, "trials.csv"), join(pageFolder, "certainty.csv")];
    writeFileSync(file, text);
    writeFileSync(decisions, saved.text);
    const ran = await runHere("certainty", file, "--decisions", decisions);
    const shown = await headline();
    expect(ran.out.replaceAll(/\s+/g, " ")).toContain(shown!);
    expect(shown).toBe((await ask("certainty", { decisions: saved.text }, evidence)).headline);
    await page.getByRole("button", { name: "Put all decisions away" }).click();
    await expect.poll(headline).toBe((await ask("certainty", {}, evidence)).headline);
    expect(await page.getByLabel("Reason, imprecision").inputValue()).toBe("");
    const chooser = page.locator('input[aria-label="A file of decisions"]');
    await chooser.setInputFiles(decisions);
    await expect.poll(headline).toBe(shown);
    expect(await page.getByLabel("Reason, imprecision").inputValue()).toBe("few people");
  });

  test("the report has the decisions too; a file that cannot be read is told with its place", async () => {
    const wrong = join(pageFolder, "wrong.csv");
    writeFileSync(wrong, saved.text.replace("imprecision", "precision"));
    await page.locator('input[aria-label="A file of decisions"]').setInputFiles(wrong);
    await page.getByRole("alert").filter({ hasText: "line 2, column domain" }).waitFor();
    expect(await page.getByLabel("Reason, imprecision").inputValue()).toBe("few people");
    await goTo(page, "report");
    const report = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the report" }).click(),
    );
    expect(report.text).toContain("few people");
    expect(one.complaints()).toEqual([]);
  });

  test("nothing is wider than the screen, and the checker finds nothing, light and dark", async () => {
    await goTo(page, "sure");
    await page.locator("summary", { hasText: "Confirm or override" }).click();
    const found: string[] = [];
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      for (const width of [360, 1280]) {
        await page.setViewportSize({ width, height: 800 });
        await one.settled();
        const sideways = await page.evaluate(
          () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
        );
        if (sideways > 0) found.push(`${width}: ${sideways} px wider than the screen`);
        for (const problem of await axeProblems(page, "everything"))
          found.push(`${colorScheme} ${width}: ${problem}`);
      }
    }
    expect(found).toEqual([]);
  });
});
