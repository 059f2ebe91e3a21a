/** The places of the page: the answer stands on the first screen, and is the question's own. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { firstProtocols } from "../../src/page/views/protocols/use-protocol-texts.js";
import { evidenceOf } from "../answers/evidence-under-test.js";
import { goTo, savedBy } from "./page-actions.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "./page-under-test.js";

const name = "demo-register.csv";
const content = demoRegisterCsv();
const evidence = evidenceOf(content, name);
const height = 740;

describe.skipIf(!hasBrowser)("the places of the page", { timeout: 120_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  beforeAll(async () => {
    one = await openPage({ address: await writePage({ name, content }), width: 360, height });
    page = one.page;
    page.setDefaultTimeout(100_000);
  }, 120_000);
  afterAll(() => one.close());

  const answersFirst = [
    "answers",
    "variables",
    "dose",
    "made",
    "sure",
    "protocols",
    "explore",
    "hold",
    "ramp",
  ];
  test.each(["start", ...answersFirst])(
    "on a phone the first line of the answer is on the first screen of %s",
    async (view) => {
      await goTo(page, view);
      await page.locator("main .headline").first().waitFor();
      await one.settled();
      const { top, bottom } = await page.evaluate(() => {
        scrollTo(0, 0);
        return document.querySelector("main .headline")!.getBoundingClientRect().toJSON() as {
          top: number;
          bottom: number;
        };
      });
      expect(top).toBeGreaterThan(0);
      expect(Math.min(bottom, top + 60)).toBeLessThan(height);
    },
  );

  test("averages on one axis: every number is the table's, every kind without one is named", async () => {
    await goTo(page, "answers");
    await one.settled();
    const { tables, data } = await ask("pool", {}, evidence);
    const rows = tables
      .filter(({ id }) => id.startsWith("averages"))
      .flatMap((table) => table.rows);
    const cells = async (part: string): Promise<readonly string[]> =>
      (await page.locator(`.averages ${part}`).allTextContents()).map((text) =>
        text.replace(/%$/, ""),
      );
    expect(await cells(".large-number")).toEqual(rows.map((row) => row["shown"]));
    expect(await cells(".interval")).toEqual(rows.map((row) => row["shownInterval"]));
    expect(await page.locator(".average-row svg .strip-middle").count()).toBe(rows.length);
    const without = data.groups.filter((group) => "refusal" in group).map(({ group }) => group);
    const said = await page.locator(".answer").first().textContent();
    for (const group of without) expect(said).toContain(group);
  });

  test("beside each average stands how sure it is, in the words of the place that says why", async () => {
    await goTo(page, "sure");
    await page.locator("summary", { hasText: "Confirm or override" }).click();
    const finding = page.locator(".decisions select").first();
    await finding.selectOption({ index: 1 });
    // Another word for one of them.
    await page.getByLabel("Decided, imprecision").selectOption({ index: 1 });
    await page.getByLabel("Reason, imprecision").fill("few people");
    await page.getByText("1 decision.", { exact: true }).waitFor();
    const { text: decisions } = await savedBy(page, () =>
      page.getByRole("button", { name: "Save certainty.csv" }).click(),
    );
    await goTo(page, "answers");
    const { tables, data } = await ask("certainty", { decisions }, evidence);
    const sure = tables.find(({ id }) => id.startsWith("findings"))!.rows.map((row) => row["sure"]);
    const told = data.groups.filter(({ certainty }) => certainty !== null);
    expect(new Set(sure).size).toBeGreaterThan(1);
    const words = page.locator(".averages .sureness");
    await expect
      .poll(() => words.allTextContents())
      .toEqual(sure.map((word) => `Certainty: ${word}`));
    const names = (await page.locator(".averages .outcome").allTextContents()).map((text) =>
      text.toLowerCase(),
    );
    told.forEach(({ group }, at) => expect(names[at]).toContain(group.toLowerCase()));
    // An average that was made otherwise is not called by the rating of the usual one.
    await page.evaluate(() => {
      location.hash = "#/answers?pool-by=muscle_group";
    });
    await page.locator(".averages").first().waitFor();
    await one.settled();
    const otherwise = await words.allTextContents();
    expect(otherwise.length).toBeGreaterThan(sure.length);
    expect(new Set(otherwise)).toEqual(new Set([""]));
    await page.evaluate(() => {
      location.hash = "#/answers";
    });
    await expect.poll(() => words.first().textContent()).not.toBe("");
    await words.nth(1).locator("a").click();
    await page.locator(".sure .headline").waitFor();
    await page.locator("summary", { hasText: "Confirm or override" }).click();
    expect(await finding.inputValue()).toBe(told[1]!.id);
    expect(await page.locator(".sure").textContent()).toContain(sure[1]!);
  });

  test("how sure: a note that many tables have is said once, in sight before folded", async () => {
    const { tables } = await ask("influence", {}, evidence);
    const notes = tables.filter(({ place }) => place !== "file").flatMap((table) => table.notes);
    expect(new Set(notes).size).toBeLessThan(notes.length);
    await page.evaluate(() => {
      location.hash = "#/sure?sure-question=influence";
    });
    const lists = page.locator(".sure .table-notes");
    await lists.first().waitFor({ state: "attached" });
    const said = await page.locator(".sure .table-notes li").allTextContents();
    expect(said.toSorted()).toEqual([...new Set(notes)].toSorted());
    const first = lists.first().locator("xpath=ancestor::details[not(contains(@class, 'notes'))]");
    expect(await first.count()).toBe(0);
    await page.evaluate(() => {
      location.hash = "#/sure";
    });
  });

  test("one session: its headline is the answer's, and a slider moves it", async () => {
    await goTo(page, "hold");
    const headline = page.locator(".call .headline");
    const asked = (protocol: string) => ask("hold", { protocol });
    await expect
      .poll(() => headline.textContent())
      .toBe((await asked("4 × 20 s at 70%, rest 60 s, middle, knee")).headline);
    await page.getByRole("slider", { name: "Length of a hold, s: slider" }).fill("12");
    expect(await page.locator("#session").inputValue()).toMatch(/^4 × 12 s at 70%/);
    await expect
      .poll(() => headline.textContent())
      .toBe((await asked("4 × 12 s at 70%, rest 60 s, middle, knee")).headline);
  });

  test("swap and copy exchange what is written; rows that differ are marked", async () => {
    await goTo(page, "protocols");
    await one.settled();
    const written = () =>
      Promise.all([
        page.locator("#protocol-a").inputValue(),
        page.locator("#protocol-b").inputValue(),
      ]);
    const [a, b] = firstProtocols;
    expect(await written()).toEqual([a, b]);
    const differing = page.locator(".controls tr.differs th");
    const rows = await differing.allTextContents();
    expect(rows.join(" ")).toContain("Length of a hold");
    expect(rows.join(" ")).not.toContain("Weeks");
    await page.getByRole("button", { name: "Swap A and B" }).click();
    expect(await written()).toEqual([b, a]);
    await page.getByRole("button", { name: "Copy A to B" }).click();
    expect(await written()).toEqual([b, b]);
    expect(await differing.count()).toBe(0);
    expect(one.complaints()).toEqual([]);
  });

  test("what was compared goes along to where one protocol is asked about; what is not drawn says why", async () => {
    await goTo(page, "protocols");
    await page.locator("#protocol-a").fill("4 × 30 s at 70%, knee");
    await expect
      .poll(() => page.locator(".compared-picture").textContent())
      .toContain("Not drawn: A: Whether it can be held cannot be said without rest between holds");
    const compared = "5 × 30 s at 65%, rest 90 s, knee";
    await page.locator("#protocol-a").fill(compared);
    await expect.poll(() => page.locator(".compared-picture .refusal").count()).toBe(0);
    for (const [label, field] of [
      ["Work up", "#target"],
      ["Is it real", "#followed"],
    ] as const) {
      await page.getByRole("link", { name: label, exact: true }).click();
      await page.locator(field).waitFor();
      expect(await page.locator(field).inputValue()).toBe(compared);
    }
  });
});
