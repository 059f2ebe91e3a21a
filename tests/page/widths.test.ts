/** Every view at four widths: nothing is wider than the screen, and the answer begins on the first one. */
import { describe, expect, test } from "vitest";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { axeProblems } from "./axe-problems.js";
import { goTo } from "./page-actions.js";
import { hasBrowser, openPage, writePage } from "./page-under-test.js";

const views = [
  ...["start", "answers", "variables", "dose", "made", "sure"],
  ...["protocols", "explore", "hold", "ramp", "data", "teach", "report"],
];
const sizes = [
  [360, 740],
  [768, 1024],
  [1280, 800],
  [1920, 1080],
] as const;

describe.skipIf(!hasBrowser)("widths", () => {
  test.each(["light", "dark"] as const)(
    "every view, %s: nothing sideways, and what the checker of contrast finds",
    async (colorScheme) => {
      const address = await writePage({ name: "demo-register.csv", content: demoRegisterCsv() });
      const { page, settled, close, complaints } = await openPage({ address });
      await page.emulateMedia({ colorScheme });
      const found: string[] = [];
      for (const view of views) {
        await goTo(page, view);
        await settled();
        if (view === "dose") {
          await page.locator(".dose select").first().selectOption({ label: "intensity" });
          await page.getByLabel("Read the curve at").waitFor();
          await settled();
        }
        for (const [width, height] of sizes) {
          await page.setViewportSize({ width, height });
          await settled();
          // On a phone a table that has no room lays its cells under one another, once it has been measured.
          await page
            .waitForFunction(
              () =>
                innerWidth >= 500 ||
                [...document.querySelectorAll(".table-block .scroll")].every(
                  (one) => one.scrollWidth <= one.clientWidth + 1,
                ),
              undefined,
              { timeout: 5000 },
            )
            .catch(() => undefined);
          const { sideways, top, head, meeting, scrolled } = await page.evaluate(() => {
            scrollTo(0, 0);
            const { scrollWidth, clientWidth } = document.documentElement;
            // Labels of one axis that touch each other.
            const meeting = [
              ...document.querySelectorAll(".range-marks, .time-marks, .level-marks"),
            ].flatMap((axis) => {
              const shown = [...axis.querySelectorAll("span")].filter(
                (mark) => getComputedStyle(mark).visibility !== "hidden" && mark.offsetWidth > 0,
              );
              return shown.flatMap((one, at) =>
                shown.slice(at + 1).flatMap((other) => {
                  const [a, b] = [one.getBoundingClientRect(), other.getBoundingClientRect()];
                  const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
                  const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
                  return across > -1 && down > 1
                    ? [`${one.textContent} meets ${other.textContent}`]
                    : [];
                }),
              );
            });
            const place = (selector: string) =>
              document.querySelector(selector)?.getBoundingClientRect();
            const scrolled = [...document.querySelectorAll(".table-block .scroll")].flatMap(
              (one) =>
                innerWidth < 500 && one.scrollWidth > one.clientWidth + 1
                  ? [one.getAttribute("aria-label") ?? ""]
                  : [],
            );
            return {
              meeting,
              scrolled,
              sideways: scrollWidth - clientWidth,
              top: place("main .headline")?.top ?? null,
              head: place("header.top")!.height,
            };
          });
          if (sideways > 0) found.push(`${view} ${width}: ${sideways} px wider than the screen`);
          for (const table of scrolled) found.push(`${view} ${width}: "${table}" scrolls sideways`);
          for (const two of meeting) found.push(`${view} ${width}: on an axis ${two}`);
          if (top !== null && top > height - 60) found.push(`${view} ${width}: headline at ${top}`);
          // The places once stood under one another beside a long notice.
          if (head > 150) found.push(`${view} ${width}: a head of ${head} px`);
        }
        for (const problem of await axeProblems(page, "contrast"))
          found.push(`${view}: ${problem}`);
      }
      expect(found).toEqual([]);
      expect(complaints()).toEqual([]);
      await close();
    },
    180_000,
  );
});
