import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { readRecords } from "../../src/records/read-records.js";
import { codebookText, outcomeRow } from "../answers/evidence-under-test.js";
import { dropFile, savedBy, shows } from "./page-actions.js";
import { hasBrowser, openPage } from "./page-under-test.js";

const text = codebookText([
  outcomeRow("Ash", 112, { risk_measurement: "high" }),
  outcomeRow("Birch", 118),
]);

describe.skipIf(!hasBrowser)("the form for risk of bias", () => {
  test("a judgement is saved with its rows, and used by the answers", async () => {
    const opened = await openPage();
    const { page } = opened;
    await dropFile(page, "h1", "trials.csv", text);
    await page.waitForSelector("text=2 rows: 2 averaged");
    await page.locator('.within a[href^="#/risk"]').click();
    await shows(page, "risk");
    await page.getByLabel("How the outcome was measured").selectOption("some concerns");
    await page.getByLabel("Reason").fill("assessors knew");
    const saved = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the changed rows" }).click(),
    );
    const [row, ...others] = readRecords(readTable(saved.bytes)).rows;
    expect([row!.study, row!.riskMeasurement, row!.riskReason, others]).toEqual([
      "Ash",
      "some concerns",
      "assessors knew",
      [],
    ]);
    await page.getByRole("button", { name: "Use these judgements" }).click();
    await page.waitForSelector("text=0 studies changed");
    await page.waitForFunction(
      `[...document.querySelectorAll("select")].some((one) => one.value === "some concerns")`,
    );
    expect(opened.complaints()).toEqual([]);
    await opened.close();
  });
});
