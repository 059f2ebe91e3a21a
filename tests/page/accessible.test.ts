import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { projectRoot } from "../house/source-tree.js";
import { axeProblems } from "./axe-problems.js";
import { dropFile, goTo, shows } from "./page-actions.js";
import { hasBrowser, openPage } from "./page-under-test.js";

const views = ["start", "data", "answers", "figures", "teach", "report"];
const published = readFileSync(
  join(projectRoot, "tests/first-wave/published-outcomes.csv"),
  "utf8",
);
/** Some real rows and a spoiled one, so that problems and their mends are on the screen as well. */
const { header, rows } = readTable(published);
const some = rows.slice(0, 24).map(({ cells }) => cells);
const spoiled = `${writeTable(header, some)}Nobody 2001,too,few\n`;

describe.skipIf(!hasBrowser)("accessibility", () => {
  test("the checker finds nothing in any view, light and dark, on a phone and on a laptop", async () => {
    const { page, settled, close } = await openPage();
    const found: string[] = [];
    for (const view of views) {
      if (view === "data") {
        await dropFile(page, "h1", "published.csv", spoiled);
        await page.waitForSelector(".mend-item");
      } else await goTo(page, view);
      await shows(page, view);
      await settled();
      // Everything folded away is unfolded, so that it is checked as well.
      await page.evaluate(() => {
        for (const fold of document.querySelectorAll("details")) fold.open = true;
      });
      for (const colorScheme of ["light", "dark"] as const) {
        await page.emulateMedia({ colorScheme });
        for (const width of [360, 1280]) {
          await page.setViewportSize({ width, height: 800 });
          await settled();
          const sideways = await page.evaluate(
            () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
          );
          if (sideways > 0) found.push(`${view} ${width}: ${sideways} px wider than the screen`);
          for (const problem of await axeProblems(
            page,
            colorScheme === "light" ? "everything" : "contrast",
          ))
            found.push(`${view} ${colorScheme} ${width}: ${problem}`);
        }
      }
    }
    expect(found).toEqual([]);
    await close();
  }, 180_000);
});
