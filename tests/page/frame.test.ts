import { describe, expect, test } from "vitest";
import { hasBrowser, openPage } from "./page-under-test.js";

describe.skipIf(!hasBrowser)("the page's frame", () => {
  test("opens from disk, offline, without a request or a complaint", async () => {
    const { page, complaints, requests, settled, close } = await openPage();
    await settled();
    expect(await page.title()).toBe("Start · Holdbook");
    expect(await page.locator("h1").textContent()).toBe("Holdbook");
    expect(complaints()).toEqual([]);
    expect(requests()).toEqual([]);
    await close();
  });
});
