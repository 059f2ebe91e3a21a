import { describe, expect, test } from "vitest";
import { longRegister } from "../bench/long-register.js";
import { dropFile } from "./page-actions.js";
import { hasBrowser, openPage } from "./page-under-test.js";

const rows = 5000;
const longestAllowed = 100;

/** The longest main-thread task, in milliseconds, of one walk over a table of 5,000 rows. */
const longestOfWalk = async (content: Uint8Array): Promise<number> => {
  const { page, longTasks, settled, close } = await openPage();
  await settled();
  await longTasks();
  await dropFile(page, ".drop", "long.csv", content);
  await page.waitForSelector(`text=/of ${rows} rows can be used/`);
  await page.waitForSelector(".mend-item");
  await page.getByRole("button", { name: "Later problems" }).click();
  await page.getByRole("button", { name: /^Show \d+ more/ }).click();
  // The answers take long with so much data; meanwhile the page listens, and lets go when told.
  await page.locator('nav a[href^="#/answers"]').click();
  await page.waitForSelector(".busy:not(.idle)");
  await page.locator('nav a[href^="#/data"]').click();
  await page.waitForSelector(".mend-item");
  await page.locator('nav a[href^="#/answers"]').click();
  await page.getByRole("button", { name: "Cancel" }).click();
  await page.waitForSelector(".busy.idle", { state: "attached" });
  const tasks = await longTasks();
  await close();
  return Math.max(0, ...tasks);
};

describe.skipIf(!hasBrowser)("a long table", () => {
  test(`${rows} rows never hold the page up for more than ${longestAllowed} ms`, async () => {
    const content = longRegister(rows);
    const longest: number[] = [];
    // A busy machine stretches every task, so the page has three tries; one good walk shows it can.
    for (let walk = 0; walk < 3; walk += 1) {
      longest.push(await longestOfWalk(content));
      if ((longest.at(-1) ?? 0) <= longestAllowed) break;
    }
    process.stdout.write(
      `Longest main-thread task at ${rows} rows, each walk: ${longest.map((time) => `${time} ms`).join(", ")}\n`,
    );
    expect(Math.min(...longest)).toBeLessThanOrEqual(longestAllowed);
  });
});
