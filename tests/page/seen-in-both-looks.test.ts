/** Small things of the page that an eye must find in either look, as a browser draws them. */
import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { goTo } from "./page-actions.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "./page-under-test.js";

type Colour = readonly [number, number, number];

const channel = (value: number): number =>
  value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;

/** Contrast ratio by the definition in WCAG 2.2, of "rgb(…)" as a browser says it. */
const contrast = (...two: readonly [string, string]): number => {
  const [dark = 0, light = 0] = two
    .map((text) => {
      const [red, green, blue] = text.match(/[\d.]+/g)!.map(Number) as unknown as Colour;
      return (
        0.2126 * channel(red / 255) + 0.7152 * channel(green / 255) + 0.0722 * channel(blue / 255)
      );
    })
    .sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
};

describe.skipIf(!hasBrowser)("seen in both looks", { timeout: 120_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  beforeAll(async () => {
    const content = readFileSync(
      new URL("../../data/published-outcomes.csv", import.meta.url),
      "utf8",
    );
    one = await openPage({
      address: await writePage({ name: "published-outcomes.csv", content }),
      width: 360,
      height: 740,
    });
    page = one.page;
  }, 120_000);
  afterAll(() => one.close());

  test.each(["light", "dark"] as const)(
    "%s: what is tinted has an edge (3 to 1), and words in an empty field are read (4.5 to 1)",
    async (colorScheme) => {
      await page.emulateMedia({ colorScheme });
      await goTo(page, "hold");
      const key = page.locator(".swatch.capacity").first();
      await key.waitFor();
      const [edge, width, ground] = await key.evaluate((swatch) => {
        const { borderTopColor, borderTopWidth } = getComputedStyle(swatch);
        return [
          borderTopColor,
          borderTopWidth,
          getComputedStyle(document.body).backgroundColor,
        ] as const;
      });
      expect(width).toBe("1px");
      expect(contrast(edge, ground)).toBeGreaterThanOrEqual(3);
      await goTo(page, "explore");
      const field = page.locator("input[placeholder]").first();
      await field.waitFor();
      const words = await field.evaluate((input) => getComputedStyle(input, "::placeholder").color);
      expect(contrast(words, ground)).toBeGreaterThanOrEqual(4.5);
    },
  );

  test("a box to tick stands beside its words on a phone, and names of files begin at the left", async () => {
    await goTo(page, "statements");
    const label = page.locator(".written label", { has: page.locator("input[type=checkbox]") });
    await label.waitFor();
    const { box, words } = await label.evaluate((element) => {
      const range = document.createRange();
      range.selectNodeContents(element.lastChild!);
      const first = range.getClientRects()[0]!;
      const input = element.querySelector("input")!.getBoundingClientRect();
      return {
        box: { left: input.left, right: input.right, middle: (input.top + input.bottom) / 2 },
        words: { left: first.left, top: first.top, bottom: first.bottom },
      };
    });
    expect(words.left).toBeGreaterThan(box.right);
    expect(words.left - box.right).toBeLessThan(20);
    expect(box.middle).toBeGreaterThan(words.top);
    expect(box.middle).toBeLessThan(words.bottom);
    await goTo(page, "report");
    const files = page.locator(".file-list button");
    await files.first().waitFor();
    const aligned = await files.evaluateAll((all) => [
      ...new Set(all.map((file) => getComputedStyle(file).textAlign)),
    ]);
    expect(aligned).toEqual(["left"]);
  });
});
