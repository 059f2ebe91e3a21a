/** An answer taken as a card, a row of a figure opened, and figures gone through on the whole screen. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { evidenceOf } from "../answers/evidence-under-test.js";
import { runHere } from "../command/run-here.js";
import { fileOf } from "../command/test-folder.js";
import { axeProblems } from "./axe-problems.js";
import { goTo, savedBy } from "./page-actions.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "./page-under-test.js";

const name = "demo-register.csv";
const content = demoRegisterCsv();
const evidence = evidenceOf(content, name);

describe.skipIf(!hasBrowser)("cards and lectures", { timeout: 120_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  beforeAll(async () => {
    one = await openPage({ address: await writePage({ name, content }) });
    page = one.page;
    page.setDefaultTimeout(60_000);
  }, 120_000);
  afterAll(() => one.close());

  test("a card says what the page says, is confirmed by the command line, and comes as a PNG too", async () => {
    await goTo(page, "variables");
    await one.settled();
    const headline = await page.locator("main .headline").first().textContent();
    await page.locator(".card-button").first().click();
    const picture = page.locator(".card-dialog img");
    await picture.waitFor();
    expect(await picture.getAttribute("alt")).toContain(headline);
    expect(await axeProblems(page)).toEqual([]);
    const svg = await savedBy(page, () =>
      page.getByRole("button", { name: "Save as SVG" }).click(),
    );
    expect(svg.name).toBe("card-variables-strength.svg");
    const file = fileOf(name, content);
    const said = await runHere("verify", fileOf("from-page.svg", svg.text), file);
    expect([said.exitCode, said.out.replace(/\s+/g, " ")]).toEqual([
      0,
      expect.stringContaining(`The same: all`),
    ]);
    expect(said.out.replace(/\s+/g, " ")).toContain(headline);
    const png = await savedBy(page, () =>
      page.getByRole("button", { name: "Save as PNG" }).click(),
    );
    expect(png.name).toBe("card-variables-strength.png");
    const [, width] = /<svg[^>]* width="([\d.]+)"/.exec(svg.text)!;
    // A PNG says its width in the bytes 16 to 19.
    expect(png.bytes.readUInt32BE(16)).toBe(Math.ceil(Number(width)));
    await page.keyboard.press("Escape");
    await picture.waitFor({ state: "detached" });
    expect(await page.evaluate(() => document.activeElement?.textContent)).toMatch(/^Card/);
  });

  test.each(["a click", "Enter"])(
    "%s on a row opens the curve and the single trials, with an address",
    async (how) => {
      await goTo(page, "variables");
      await one.settled();
      const row = page.getByRole("link", { name: /^Hold length: the curve/ }).first();
      if (how === "Enter") {
        await row.focus();
        await page.keyboard.press("Enter");
      } else {
        const { x, y, width, height } = (await row.boundingBox())!;
        expect(height).toBeGreaterThanOrEqual(24);
        await page.mouse.click(x + width / 2, y + height / 2);
      }
      await page.waitForURL(/variables-row=strength\.holdSeconds/);
      const asked = { on: "holdSeconds", outcome: "strength" };
      const [curve, trials] = [
        await ask("dose", asked, evidence),
        await ask("single-trials", asked, evidence),
      ];
      const headlines = page.locator("main .headline");
      await expect
        .poll(() => headlines.allTextContents(), { timeout: 30_000 })
        .toEqual([curve.headline, trials.headline]);
      await one.settled();
      for (const id of [curve.figures[0]!.data.id, trials.figures[0]!.data.id])
        expect(await page.locator(`figure[id^="${id}"]`).count()).toBeGreaterThan(0);
      await page.getByRole("link", { name: "All variables" }).click();
      await page.waitForURL((url) => !url.hash.includes("variables-row"));
    },
  );

  test("rows stand over their own words, in a column as well", async () => {
    for (const width of [360, 1280]) {
      await page.setViewportSize({ width, height: 800 });
      await goTo(page, "variables");
      await one.settled();
      const { text: svg } = await savedBy(page, () =>
        page.getByRole("button", { name: "SVG", exact: true }).first().click(),
      );
      const [svgRows, links] = await page.evaluate((text) => {
        const image = document.querySelector<HTMLImageElement>(".drawn img")!;
        const holder = document.createElement("div");
        holder.innerHTML = text.replace(/<style>.*?<\/style>/s, "");
        holder.style.cssText = "position:absolute;top:0;left:0";
        document.body.append(holder);
        const whole = holder.firstElementChild!.getBoundingClientRect();
        const words = [...holder.querySelectorAll(".labels_marks text")].map((one) => {
          const box = one.getBoundingClientRect();
          return [
            one.textContent,
            ((box.top + box.bottom) / 2 - whole.top) / whole.height,
          ] as const;
        });
        holder.remove();
        const around = image.getBoundingClientRect();
        const rows = [...document.querySelectorAll(".drawn")][0]!.querySelectorAll(".figure-row");
        return [
          words,
          [...rows].map((one) => {
            const box = one.getBoundingClientRect();
            return [
              one.textContent,
              (box.top - around.top) / around.height,
              (box.bottom - around.top) / around.height,
            ] as const;
          }),
        ] as const;
      }, svg);
      expect(links.length).toBeGreaterThan(5);
      for (const [words, top, bottom] of links.slice(0, 4)) {
        const label = words.split(":")[0]!;
        const inside = svgRows.filter(([, at]) => at > top && at < bottom).map(([text]) => text);
        expect(inside.join(" "), `${width}: ${label}`).toContain(label);
      }
    }
    await page.setViewportSize({ width: 1280, height: 900 });
  });

  test("arrow keys go through every figure on the whole screen, and each is announced", async () => {
    await goTo(page, "figures");
    await one.settled();
    await page.locator("main figure").first().waitFor();
    await one.settled();
    const options = await page.locator("select:has(option[value=all]) option").allTextContents();
    expect(new Set(options).size).toBe(options.length);
    const figures = options.length - 1;
    await page.getByRole("button", { name: "Full screen" }).first().click();
    const said = page.locator(".full-screen [role=status]");
    const picture = page.locator(".full-screen img");
    await picture.waitFor();
    await expect.poll(() => said.textContent()).toMatch(new RegExp(`^Figure 1 of ${figures}\\b`));
    const [width, height] = await picture.evaluate((image: HTMLImageElement) => [
      image.naturalWidth,
      image.naturalHeight,
    ]);
    expect([width, height]).toEqual([1920, 1080]);
    expect(await axeProblems(page)).toEqual([]);
    const seen = new Set<string>();
    for (let step = 0; step < 3 * figures; step += 1) {
      const [, at = ""] = /^Figure (\d+) of/.exec((await said.textContent()) ?? "") ?? [];
      seen.add(at);
      if (at === String(figures)) break;
      const before = await said.textContent();
      await page.keyboard.press("ArrowRight");
      await expect.poll(() => said.textContent()).not.toBe(before);
      await picture.waitFor();
    }
    expect(seen.size).toBe(figures);
    await page.keyboard.press("ArrowLeft");
    await expect
      .poll(() => said.textContent())
      .toMatch(new RegExp(`^Figure (${figures - 1}|${figures}) of`));
    await page.keyboard.press("Home");
    await expect.poll(() => said.textContent()).toMatch(/^Figure 1 of/);
    await page.keyboard.press("Escape");
    await picture.waitFor({ state: "detached" });
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Full screen");
    expect(one.complaints()).toEqual([]);
  });
});
