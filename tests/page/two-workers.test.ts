import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { evidenceOf, shippedText } from "../answers/evidence-under-test.js";
import { hasBrowser, openPage, writePage } from "./page-under-test.js";

const name = "published-outcomes.csv";

describe.skipIf(!hasBrowser)("a sweep on the page", () => {
  test("two workers share it, say how far they are, and give what one gives; Cancel leaves the last answer", async () => {
    const content = shippedText(name);
    const alone = await ask("sweep", { outcome: "strength" }, evidenceOf(content, name));
    const { page, settled, close, complaints } = await openPage({
      address: await writePage({ name, content }),
      hash: "/sure?sure-question=influence",
    });
    await settled();
    // Every line of progress, as it is read.
    await page.evaluate(() => {
      const seen: string[] = [];
      Object.assign(globalThis, { seen });
      new MutationObserver(() =>
        seen.push(document.querySelector(".busy span")?.textContent ?? ""),
      ).observe(document.querySelector(".busy")!, {
        subtree: true,
        childList: true,
        characterData: true,
      });
    });
    const lines = (): Promise<readonly string[]> =>
      page.evaluate(() => (globalThis as unknown as { seen: string[] }).seen.splice(0));
    const goBy = (hash: string) => page.evaluate((next) => void (location.hash = next), hash);
    const headline = page.locator(".answer .headline").first();

    await goBy("/sure?sure-question=sweep&sweep-outcome=strength");
    await headline.getByText(alone.headline, { exact: true }).waitFor();
    await settled();
    const counts = (await lines()).flatMap((line) => {
      const [, done, all] = /: strength: (\d+) of (\d+) ways$/.exec(line) ?? [];
      return all === undefined ? [] : [[Number(done), Number(all)]];
    });
    const { ways } = (alone.data.groups[0] as unknown as { all: { ways: number } }).all;
    expect(counts.at(-1)).toEqual([ways, ways]);
    expect(counts.length).toBeGreaterThan(5);
    expect(counts.map(([done]) => done)).toEqual(
      counts.map(([done]) => done!).toSorted((a, b) => a - b),
    );
    // What stands on the page is the same in every sentence.
    const told = await page.locator(".answer .sentences p").allTextContents();
    expect(told).toEqual(alone.sentences);

    // One that asks, one that draws; the second of the sweep ended with it.
    await page.locator("figure img").first().waitFor();
    await expect.poll(() => page.workers().length).toBe(2);
    // Asked of every kind of outcome, and cancelled while it runs.
    let begun = 0;
    page.on("worker", () => (begun += 1));
    await goBy("/sure?sure-question=sweep");
    await page.locator(".busy", { hasText: /\d+ of \d+ ways/ }).waitFor();
    // The line grows with its numbers, and the button moves with it.
    await page.getByRole("button", { name: "Cancel" }).dispatchEvent("click");
    await page.getByText("Cancelled. What follows is the last answer").waitFor();
    expect(await headline.textContent()).toBe(alone.headline);
    expect(await page.locator(".busy.idle").count()).toBe(1);
    // A second for the sweep and a new first were begun; old first and second are gone.
    await expect.poll(() => begun).toBe(2);
    await expect.poll(() => page.workers().length).toBe(2);
    await lines();
    await new Promise((resume) => setTimeout(resume, 300));
    expect(await lines()).toEqual([]);

    // Asked again, the new worker has the table.
    await page.getByRole("button", { name: "Compute it" }).click();
    await page.locator(".busy", { hasText: /\d+ of \d+ ways/ }).waitFor();
    await page.locator(".busy.idle").waitFor({ state: "attached" });
    await page
      .locator(".answer .sentences p", { hasText: "Size, before to after: of" })
      .waitFor({ state: "attached" });
    expect(complaints()).toEqual([]);
    await close();
  });
});
