import { describe, expect, test } from "vitest";
import { axeProblems } from "./axe-problems.js";
import { goTo, shows } from "./page-actions.js";
import { hasBrowser, openPage } from "./page-under-test.js";

const views = ["protocols", "explore", "hold", "ramp", "variables", "dose", "made"];

describe.skipIf(!hasBrowser)("accessibility of the views of practice", () => {
  test(
    "the checker finds nothing, light and dark, on a phone and on a laptop; nothing is wider than the screen",
    { timeout: 300_000 },
    async () => {
      const { page, settled, close } = await openPage();
      const found: string[] = [];
      await page.getByRole("button", { name: "Invented demonstration" }).click();
      await page.waitForSelector(".file-strip.invented");
      for (const view of views) {
        await goTo(page, view);
        await shows(page, view);
        await page.waitForSelector("main table", { state: "attached" });
        await settled();
        // Everything folded away is unfolded, so that it is checked as well.
        await page.evaluate(() => {
          for (const fold of document.querySelectorAll("details")) fold.open = true;
        });
        // Colours do not hang on the width, nor the layout on the colours: two looks hold all four.
        for (const [colorScheme, width] of [
          ["light", 360],
          ["dark", 1280],
        ] as const) {
          await page.emulateMedia({ colorScheme });
          await page.setViewportSize({ width, height: 800 });
          await settled();
          const sideways = await page.evaluate(
            () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
          );
          if (sideways > 0) found.push(`${view} ${width}: ${sideways} px wider than the screen`);
          for (const problem of await axeProblems(page))
            found.push(`${view} ${colorScheme} ${width}: ${problem}`);
        }
      }
      expect(found).toEqual([]);
      await close();
    },
  );
});
