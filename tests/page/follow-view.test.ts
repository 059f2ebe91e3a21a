/** Kind of evidence: what a person sees on a phone; a client's log is in no address and no project. */
import { describe, expect, test } from "vitest";
import { axeProblems } from "./axe-problems.js";
import { goTo } from "./page-actions.js";
import { hasBrowser, openPage } from "./page-under-test.js";

describe.skipIf(!hasBrowser)("is a client's change real", { timeout: 180_000 }, () => {
  test("the answer and the picture come first, and nothing of the log is kept", async () => {
    const { page, settled, close } = await openPage({ width: 360 });
    await page.getByRole("button", { name: "Invented demonstration" }).click();
    await page.waitForSelector(".file-strip.invented");
    await goTo(page, "follow");
    const log = page.getByLabel("The client's log");
    await page.getByRole("button", { name: "A blank log" }).click();
    expect(await log.inputValue()).toBe("date,test,value,unit,notes\n");
    // Which protocol is taken and why stands there before anything is told, and it can be changed.
    const taken = page.locator(".taken");
    expect(await taken.textContent()).toMatch(
      /^The protocol taken is an example, since no protocol was written yet: 4 × 10 s at 70%, .*8 weeks/,
    );
    await page.getByRole("button", { name: "An invented example" }).click();
    await page.waitForSelector(".headline");
    await settled();
    // 224 over the root of 181·184: up 22.7% as measured.
    expect(await page.locator(".headline").textContent()).toMatch(
      /^Knee extension after 8 weeks: up \d+\.\d% \(95% interval .*beyond the error of the test/,
    );
    expect(await taken.textContent()).toContain("since no protocol was written yet");
    expect(await page.locator("main").textContent()).not.toMatch(/(^|[\s(])--[a-z]/);
    const picture = await page.locator("main figure, main .figure").first().boundingBox();
    expect(picture!.y).toBeLessThan(800);
    const sideways = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(sideways).toBeLessThanOrEqual(0);
    expect(await axeProblems(page)).toEqual([]);
    expect(decodeURIComponent(page.url())).not.toMatch(/extension|2026/);
    // A line that cannot be used is told with its mend; the others are used.
    await log.fill(`${await log.inputValue()}03/04/2026,knee extension,220,N·m,invented\n`);
    await page.getByText("the date can be read two ways").first().waitFor();
    await taken.getByRole("button").click();
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe("TEXTAREA");
    await page.keyboard.press("Control+A");
    await page.keyboard.type("3 x 30 s at 60%, rest 60 s, 3/week, 9 weeks, knee");
    await taken.waitFor({ state: "detached" });
    await goTo(page, "hold");
    await goTo(page, "follow");
    expect(await log.inputValue()).toBe("");
    await close();
  });
});
