/** The type of every figure on screens between a phone and a desk, as large as a browser shows it. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { goTo } from "./page-actions.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "./page-under-test.js";

const least = 11;

describe.skipIf(!hasBrowser)("type of figures", { timeout: 240_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  beforeAll(async () => {
    const name = "demo-register.csv";
    one = await openPage({ address: await writePage({ name, content: demoRegisterCsv() }) });
    page = one.page;
    page.setDefaultTimeout(100_000);
    // The page may fetch nothing, so what it draws is read where it is made.
    await page.evaluate(() => {
      const kept = new Map<string, Blob>();
      const make = URL.createObjectURL.bind(URL);
      URL.createObjectURL = (made: Blob | MediaSource) => {
        const address = make(made);
        if (made instanceof Blob) kept.set(address, made);
        return address;
      };
      Object.assign(globalThis, { holdbookDrawn: kept });
    });
    await goTo(page, "figures");
    await page.locator("figure.figure").first().waitFor();
  }, 120_000);
  afterAll(() => one.close());

  /** Of every figure: its smallest type and its width on the screen, and the room it stands in. */
  const shown = async () => {
    await one.settled();
    const figures = await page.locator("figure.figure").evaluateAll((all) =>
      Promise.all(
        all.map(async (figure) => {
          const image = figure.querySelector("img")!;
          const kept = (globalThis as unknown as { holdbookDrawn: Map<string, Blob> })
            .holdbookDrawn;
          const svg = await kept.get(image.src)!.text();
          // Type of marks is in units of the view box.
          const [, units = "0"] = /viewBox="0 0 ([\d.]+)/.exec(svg) ?? [];
          const sizes = [...svg.matchAll(/font-size="([\d.]+)px"/g)].map(([, size]) =>
            Number(size),
          );
          const { width } = image.getBoundingClientRect();
          return {
            id: figure.id,
            type: (Math.min(...sizes) * width) / Number(units),
            width,
            room: figure.querySelector(".scroll")!.clientWidth,
            size: figure.querySelector("select")!.value,
          };
        }),
      ),
    );
    expect(figures.length).toBeGreaterThan(12);
    return figures;
  };

  test.each([641, 700, 768, 820, 900, 1024, 1280])(
    "at %d px no type is under 11 px, and nothing stands over its room",
    async (width) => {
      await page.setViewportSize({ width, height: 800 });
      // The figures follow a moment later.
      await page.waitForTimeout(300);
      const figures = await shown();
      expect(figures.filter(({ type }) => !(type >= least - 0.01))).toEqual([]);
      expect(figures.filter((each) => each.width > each.room + 0.5)).toEqual([]);
      // Most of them are pages that fill their room; a column stands where a page has no room, or would be too small.
      const pages = figures.filter(({ size }) => size === "page");
      if (width < 666) expect(pages).toEqual([]);
      else expect(pages.length).toBeGreaterThan(figures.length / 2);
      expect(figures.every(({ size }) => size === "page")).toBe(width >= 1024);
    },
  );

  test("a page that was chosen is as wide as it is saved, whatever the room", async () => {
    await page.setViewportSize({ width: 700, height: 800 });
    await page.waitForTimeout(300);
    const [before] = await shown();
    await page.locator("figure.figure select").first().selectOption("column");
    await page.locator("figure.figure").first().locator(".drawn.column").waitFor();
    await page.locator("figure.figure select").first().selectOption("page");
    await page.locator("figure.figure").first().locator(".drawn.page").waitFor();
    const [chosen] = await shown();
    expect(before!.width).toBeLessThan(701);
    expect(chosen!.width).toBeGreaterThan(before!.width + 30);
    expect(one.complaints()).toEqual([]);
  });

  /** The smallest type of the one picture inside, as large as it is shown. */
  const typeInside = (selector: string) =>
    page.locator(`${selector} img`).evaluate(async (image: HTMLImageElement) => {
      const kept = (globalThis as unknown as { holdbookDrawn: Map<string, Blob> }).holdbookDrawn;
      const svg = await kept.get(image.src)!.text();
      const [, units = "0"] = /viewBox="0 0 ([\d.]+)/.exec(svg) ?? [];
      const sizes = [...svg.matchAll(/font-size="([\d.]+)px"/g)].map(([, size]) => Number(size));
      return (Math.min(...sizes) * image.getBoundingClientRect().width) / Number(units);
    });

  test("on a phone held upright no letter of a figure on the whole screen, or of a card, is under 10 px", async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    await one.settled();
    await page.getByRole("button", { name: "Full screen" }).first().click();
    const said = page.locator(".full-screen [role=status]");
    const types: number[] = [];
    for (;;) {
      await page.locator(".full-screen img").waitFor();
      await expect.poll(() => said.textContent()).toMatch(/^Figure \d+ of/);
      types.push(await typeInside(".full-screen"));
      const before = (await said.textContent()) ?? "";
      const [, at, all] = /^Figure (\d+) of (\d+)/.exec(before) ?? [];
      if (at === all) break;
      await page.keyboard.press("ArrowRight");
      await expect.poll(() => said.textContent()).not.toBe(before);
    }
    expect(types.length).toBeGreaterThan(12);
    expect(Math.min(...types)).toBeGreaterThanOrEqual(10);
    const stage = page.locator(".full-screen .stage");
    expect(await stage.evaluate(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth)).toBe(
      0,
    );
    await page.keyboard.press("Escape");
    for (const [width, height] of [
      [360, 740],
      [1280, 800],
    ] as const) {
      await page.setViewportSize({ width, height });
      await goTo(page, "answers");
      await one.settled();
      await page.locator(".card-button").last().click();
      await page.locator(".card-dialog img").waitFor();
      expect(await typeInside(".card-dialog")).toBeGreaterThanOrEqual(10);
      await page.keyboard.press("Escape");
    }
    expect(one.complaints()).toEqual([]);
  });
});
