/** Kind of evidence: what a person sees; the form about one person is kept nowhere, and the ramp's own inputs reach the plan. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { readProject } from "../../src/page/project-file.js";
import { goTo, savedBy } from "./page-actions.js";
import { hasBrowser, openPage, type OpenedPage } from "./page-under-test.js";

describe.skipIf(!hasBrowser)("cautions for one person", { timeout: 120_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  beforeAll(async () => {
    one = await openPage({ width: 360 });
    page = one.page;
    await page.getByRole("button", { name: "Invented demonstration" }).click();
    await page.waitForSelector(".file-strip.invented");
  }, 120_000);
  afterAll(() => one.close());

  const field = (label: string) =>
    page.locator(".person label.wish", { hasText: new RegExp(`^${label}`) });
  const fill = async (): Promise<void> => {
    await page.getByText("Put first what applies to one person").click();
    await page.getByLabel("Age, years").fill("97");
    await field("Surgery").locator("select").selectOption("shoulder");
    await page.getByLabel("Weeks since surgery").fill("7.5");
    await page.getByLabel("Blood pressure").fill("187/96");
    await field("Pregnancy").locator("select").selectOption("after birth");
  };
  const wide = () =>
    page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
  const first = () =>
    page
      .locator(".person-first > .caution-list > li")
      .evaluateAll((items) => items.map((item) => item.getAttribute("data-caution")));

  test.each(["protocols", "hold", "ramp"])(
    "%s: what applies comes first, ages loudly",
    async (view) => {
      await goTo(page, view);
      await one.settled();
      expect(await page.locator(".person-first").textContent()).toBe("");
      await fill();
      expect(await first()).toEqual([
        "heart-and-vessels-absolute",
        "recent-surgery",
        "injured-site",
        "pregnancy",
        "ask-a-clinician",
      ]);
      const loud = await page.locator(".person-first .loud").textContent();
      expect(loud).toContain("Outside the ages studied: you said 97 years");
      expect(loud!.includes("the groups that trained in the file")).toBe(view === "protocols");
      expect(await page.locator(".person-first").textContent()).toContain("clears nobody");
      expect(await page.locator(".stop-signs").first().textContent()).toContain("chest pain");
      expect(await wide()).toBe(0);
      // Kept nowhere: neither in the address, nor in the browser, nor in a project, nor in the history of the view.
      const spread = await page.evaluate(() =>
        [
          location.href,
          JSON.stringify({ ...localStorage }),
          JSON.stringify({ ...sessionStorage }),
          document.cookie,
          JSON.stringify(history.state),
          document.title,
        ].join(" "),
      );
      expect(spread).not.toMatch(/97|187|7\.5|after%20birth|after\+birth|after birth/);
      const saved = await savedBy(page, () =>
        page.getByRole("button", { name: "Save project" }).click(),
      );
      expect(JSON.stringify(readProject(saved.text).choices)).not.toMatch(/97|187|7\.5|birth/);
      await page.getByLabel("Blood pressure").fill("187");
      expect(await page.locator(".person-first .bad-number").textContent()).toMatch(
        /What is said of the person requires .*in mmHg, got "187"/,
      );
      await page.getByLabel("Blood pressure").fill("");
      expect((await first())[0]).toBe("recent-surgery");
    },
  );

  test("left and come back to, nothing is known; an address cannot fill it in", async () => {
    await goTo(page, "hold");
    expect(await page.locator(".person-first").textContent()).toBe("");
    await page.evaluate(() => {
      location.hash = "#/protocols?compare-profile=97+years&hold-profile=97+years&profile=97+years";
    });
    await one.settled();
    expect(await page.locator("main").textContent()).not.toContain("97 years");
  });

  test("a card made while it stands holds none of it", async () => {
    await goTo(page, "hold");
    await one.settled();
    await fill();
    await page.locator(".card-button").first().click();
    await page.waitForSelector(".card-dialog img");
    const card = await savedBy(page, () =>
      page.getByRole("button", { name: "Save as SVG" }).click(),
    );
    expect(card.text).toContain("holdbook-recipe");
    expect(card.text).not.toMatch(/97 years|187\/96|7\.5 weeks|after birth/);
  });
});

describe.skipIf(!hasBrowser)("working up with its own inputs", { timeout: 120_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  beforeAll(async () => {
    one = await openPage({ width: 360, hash: "/ramp" });
    page = one.page;
    await one.settled();
  }, 120_000);
  afterAll(() => one.close());
  const headline = () => page.locator("main .headline").first().textContent();

  test("own start, greatest angle, step, pain and effort reach plan and sheet as everywhere else", async () => {
    await page.locator("#target").fill("3 × 15 s at 60%, rest 120 s, 3/week, long, knee 90°");
    await page.getByLabel("Where the person is now").selectOption("a session done now");
    await page.locator("#start").fill("2 × 10 s at 35%, 3/week, middle");
    await page.getByLabel("Greatest angle now").fill("85");
    await page.getByLabel("Greatest angle now").blur();
    await page.getByLabel("Step of the angle").fill("5");
    await page.getByLabel("Step of the angle").blur();
    await page.getByLabel("Go on up to this pain").fill("2");
    await page.getByLabel("Go on up to this pain").blur();
    await page.getByLabel("Without equipment").selectOption("true");
    const here = await ask("ramp", {
      protocol: "3 × 15 s at 60%, rest 120 s, 3/week, long, knee 90°",
      from: "2 × 10 s at 35%, 3/week, middle",
      weeks: 24,
      greatestAngle: 85,
      angleStep: 5,
      holdBackAt: 2,
      byEffort: true,
    });
    await expect.poll(headline, { timeout: 30_000 }).toContain(here.headline);
    await one.settled();
    const sheet = await savedBy(page, () => page.getByRole("button", { name: /sheet/i }).click());
    expect(sheet.text).toBe(here.sheets[0]!.html);
    expect(sheet.text).toContain("Up to 2: go on");
    expect(
      await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      ),
    ).toBe(0);
  });

  test("an unreadable own start is mended in place, and the plan before it stands", async () => {
    const before = await headline();
    await page.locator("#start").fill("2 × 10 s at 35%, by");
    await page.waitForTimeout(500);
    expect(await page.locator("#start").getAttribute("aria-invalid")).toBe("true");
    expect(await headline()).toBe(before);
    expect(one.complaints()).toEqual([]);
  });
});
