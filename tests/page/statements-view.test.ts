import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { goTo, savedBy } from "./page-actions.js";
import { hasBrowser, openPage, type OpenedPage } from "./page-under-test.js";

describe.skipIf(!hasBrowser)("statements on the page", { timeout: 180_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  beforeAll(async () => {
    one = await openPage();
    page = one.page;
    await page.getByRole("button", { name: "Invented demonstration" }).click();
    await page.waitForSelector(".file-strip.invented");
  }, 180_000);
  afterAll(async () => {
    await one.close();
  });

  const headline = (words: RegExp) => page.locator(".headline", { hasText: words }).waitFor();

  test("the examples have verdicts, and a sentence of one's own is read, asked about and completed", async () => {
    await goTo(page, "statements");
    await headline(/^Of 20 statements of common practice: 5 supported/);
    await page
      .getByLabel(/^Your statements, one a line/)
      .fill("Isometric training makes people stronger.\nLonger holds are good for strength.");
    await headline(/^Of 2 statements: 1 supported and 1 form not complete/);
    const form = page.locator("details details", { hasText: "Longer holds are good" });
    await form.getByText("Claim: What is claimed").waitFor();
    await form.getByLabel("Where").waitFor();
    // The form is filled in field by field; its words are then the person's own.
    await form.getByLabel("Claim", { exact: true }).fill("no difference");
    await form.getByLabel("Claim", { exact: true }).blur();
    await headline(/^Of 2 statements: 1 supported and 1 \w+\.$/);
    await expect(
      page.locator("details details", { hasText: "makes people stronger" }).first().textContent(),
    ).resolves.toMatch(/read from its words/);
  });

  test("who types slowly goes on typing while the file is asked", async () => {
    const box = page.getByLabel(/^Your statements, one a line/);
    await box.fill("");
    await headline(/^Of 20 statements/);
    await box.click();
    // Slower than a draft rests, so that answers come between the letters.
    await page.keyboard.type("Isometric", { delay: 450 });
    await page.keyboard.type(" training makes people stronger.");
    expect(await box.inputValue()).toBe("Isometric training makes people stronger.");
    expect(await box.evaluate((own) => own === document.activeElement)).toBe(true);
    await headline(/^The statement is supported|^Of 1 statement/);
  });

  test("the page for a lecture is saved", async () => {
    const saved = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the lecturer's page, a line each" }).click(),
    );
    expect(saved.name).toBe("statements.html");
    expect(saved.text).toContain("Isometric training makes people stronger.");
    expect(saved.text).toContain("INVENTED DATA");
  });
});
