import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { longRegister } from "../bench/long-register.js";
import { longestTaskDuring, type LongestTask } from "./main-thread-tasks.js";
import { goTo } from "./page-actions.js";
import { hasBrowser, openPage, pageFolder } from "./page-under-test.js";

const rows = 5000;
const longestAllowed = 100;

describe.skipIf(!hasBrowser)("a long table", () => {
  test(`${rows} rows never hold the page up for more than ${longestAllowed} ms`, async () => {
    const path = join(pageFolder, "long.csv");
    writeFileSync(path, longRegister(rows));
    const { page, settled, close } = await openPage();
    page.setDefaultTimeout(120_000);
    await settled();
    const found: (readonly [string, LongestTask])[] = [];
    const during = async (what: string, act: () => Promise<unknown>): Promise<void> => {
      found.push([what, await longestTaskDuring(page, act)]);
    };
    await during("opening the file", async () => {
      await page.locator("input[type=file]").first().setInputFiles(path);
      await page.waitForSelector(`text=/${rows.toLocaleString("en-GB")} rows: /`);
      await page.waitForSelector(".mend-item");
    });
    await during("turning to more problems and rows", async () => {
      await page.getByRole("button", { name: "Later problems" }).click();
      await page
        .getByRole("button", { name: /^Show (the other \d+|\d+ more) rows/ })
        .first()
        .click();
    });
    await during("going about while answers are computed", async () => {
      await goTo(page, "answers");
      await page.waitForSelector(".busy:not(.idle)");
      await goTo(page, "data");
      await page.waitForSelector(".mend-item");
      await goTo(page, "answers");
      await page.waitForTimeout(500);
    });
    await during("cancelling", async () => {
      await goTo(page, "report");
      await page.getByRole("button", { name: "Cancel" }).click();
      await page.waitForSelector(".busy.idle", { state: "attached" });
    });
    await close();
    const shown = found.map(
      ([what, { processor, clock }]) =>
        `  ${what}: ${processor.toFixed(0)} ms of processor, ${clock.toFixed(0)} ms on the clock`,
    );
    process.stdout.write(`Longest main-thread task at ${rows} rows:\n${shown.join("\n")}\n`);
    // On a busy machine the clock also counts the time others had the processor; a page alone on
    // its machine has no such pauses, so the promise is about the processor.
    for (const [what, { processor }] of found)
      expect(processor, what).toBeLessThanOrEqual(longestAllowed);
  }, 180_000);
});
