/**
 * A trial typed from the numbers of a published abstract.
 *
 * @source facts of the abstract of Carlson et al. (2016) Medicine (Baltimore) 95, PMC5207598; the sentence is ours
 */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { readTable } from "../../src/csv/read-table.js";
import { readRecords } from "../../src/records/read-records.js";
import { evidenceOf } from "../answers/evidence-under-test.js";
import { axeProblems } from "./axe-problems.js";
import { cellsOf, savedBy } from "./page-actions.js";
import { hasBrowser, openPage, writePage, type OpenedPage } from "./page-under-test.js";

const abstract =
  "Adults with raised pressure (n = 20 in each of two groups) did 4 × 2 min of handgrip at 30% or 5% of MVC, 3 days a week for 8 weeks, with rest of 3 min. At 30%, systolic pressure went from 136 ± 12 to 129 ± 15 (P = 0.04) and mean arterial pressure from 100 ± 8 to 96 ± 11 (P = 0.04).";

const header =
  "study,arm,arm_kind,n_end,outcome,outcome_family,pre_mean,pre_spread,post_mean,post_spread";
const open = [
  header,
  "Ash 2001,grip,isometric,14,systolic blood pressure,blood pressure,141,11,133,12",
  "Birch 2002,grip,isometric,19,systolic blood pressure,blood pressure,128,9,123,10",
  "",
].join("\n");

describe.skipIf(!hasBrowser)("adding a trial", { timeout: 180_000 }, () => {
  let one: OpenedPage;
  let page: OpenedPage["page"];
  /** Keys pressed and places clicked, beyond the pasted text. */
  let presses = 0;
  beforeAll(async () => {
    const address = await writePage({ name: "mine.csv", content: open });
    one = await openPage({ address, hash: "/add" });
    page = one.page;
    page.setDefaultTimeout(60_000);
    await page.waitForSelector(".trial");
  }, 120_000);
  afterAll(() => one.close());

  const key = async (name: string, times = 1): Promise<void> => {
    for (let at = 0; at < times; at += 1) await page.keyboard.press(name);
    presses += times;
  };
  const type = async (text: string): Promise<void> => {
    await page.keyboard.type(text);
    presses += text.length;
  };
  /** Takes the number that the field offers so many presses down, and goes on to the next field. */
  const take = async (downs = 1): Promise<void> => {
    await key("ArrowDown", downs);
    await key("Tab");
  };
  const field = (label: string) => page.getByLabel(label, { exact: true });

  test("a published abstract is entered with at most 120 presses, and nothing is placed unasked", async () => {
    expect(await page.getByLabel("What would be here").innerText()).toContain(
      "No arm has a number yet",
    );
    await page.getByPlaceholder("Paste it here").fill(abstract);
    await page.waitForSelector(".number-mark");
    const blank = await page
      .locator(".trial-form input")
      .evaluateAll((inputs) => inputs.every((input) => (input as HTMLInputElement).value === ""));
    expect(blank).toBe(true);
    await field("Study").click();
    presses += 1;
    await type("Carlson 2016");
    await key("Tab");
    await type("r");
    await key("Tab");
    await type("grip");
    await key("Tab", 2);
    await take();
    await take();
    // Past the fold of further fields, to the first arm.
    await key("Tab");
    await type("30%");
    await key("Tab");
    await type("i");
    await key("Tab");
    await take();
    await take();
    await take();
    await field("Outcome, outcome 1").click();
    presses += 1;
    await type("systolic pressure");
    await key("Tab");
    await type("b");
    await field("Mean before, arm 1, outcome 1").click();
    presses += 1;
    await take();
    await key("Tab");
    await take();
    await key("Tab", 2);
    await take();
    expect(await field("Mean before, arm 1, outcome 1").inputValue()).toBe("136");
    expect(await field("Spread before, arm 1, outcome 1").inputValue()).toBe("12");
    expect(await field("Mean after, arm 1, outcome 1").inputValue()).toBe("129");
    expect(await field("Spread after, arm 1, outcome 1").inputValue()).toBe("15");
    expect(await field("p value, arm 1, outcome 1").inputValue()).toBe("0.04");
    expect(await field("Hold, arm 1").inputValue()).toBe("120");
    expect(await field("Repetitions, arm 1").inputValue()).toBe("4");
    process.stdout.write(`A published abstract took ${presses} presses beyond its text.\n`);
    expect(presses).toBeLessThanOrEqual(120);
  });

  test("the effect, the deviation, and what the averages become are the library's", async () => {
    await page.waitForSelector(".trial-told table");
    const whole = `${open.trim()}\nCarlson 2016,30%,isometric,20,systolic pressure,blood pressure,136,12,129,15\n`;
    const { data, tables } = await ask("pool", {}, evidenceOf(whole));
    const [group] = data.groups;
    const row = tables.find(({ id }) => id.startsWith("averages"))!.rows[0]!;
    const [, cells] = await cellsOf(page, "What the trial does to the averages");
    expect(cells![0]!.toLowerCase()).toBe(group!.group.toLowerCase());
    expect(cells![2]).toBe(`${row["shown"]}% (${row["shownInterval"]}), 3 effects in 3 studies`);
    expect(cells![1]).toContain("2 effects in 2 studies");
    const told = await page.locator(".told", { hasText: "n = 20" }).textContent();
    // t of p 0.04 on 19 degrees of freedom is 2.20: s_c = 7·√20/2.20 = 14.2; r = (144 + 225 − 202)/360 = 0.46 by hand.
    expect(told).toContain("correlate at 0.46 if they are deviations");
    expect(one.complaints()).toEqual([]);
    expect(one.requests()).toEqual([]);
  });

  test("naive words are read, or answered with the reader's mend at the field", async () => {
    await field("Women").fill("men");
    await field("Sessions a week").fill("3x/wk");
    await field("Intensity, arm 1").fill("maximal");
    await field("p value, arm 1, outcome 1").fill("p < .05");
    await field("Mean before, arm 1, outcome 1").fill("136 ± 12");
    expect(await field("Spread before, arm 1, outcome 1").inputValue()).toBe("12");
    await field("People measured, arm 1").fill("about 20");
    const said = page.locator(".entry-field.nEnd .told").first();
    await said.waitFor();
    const named = readRecords(
      readTable("study,arm,outcome,n_end,pre_mean,post_mean\nA 2001,a,b,about 20,1,2\n"),
    ).issues[0]!;
    expect(await said.textContent()).toBe(`${named.message}; ${named.mend}`);
    // A row that is refused has nothing more to tell.
    expect(await page.locator(".trial-form .told").count()).toBe(1);
    await field("People measured, arm 1").fill("20");
    await said.waitFor({ state: "detached" });
  });

  test("a reference fills study, citation, DOI and year", async () => {
    await page.getByText("Study, citation and DOI from a reference").click();
    await page
      .getByLabel("BibTeX or CSL-JSON, pasted")
      .fill(
        "@article{c, author={Carlson, Debra}, year={2016}, title={A title}, journal={Medicine}, doi={10.1000/c}}",
      );
    await page.getByRole("button", { name: "Fill them in" }).click();
    await page.getByText("Filled in: Carlson 2016.").waitFor();
    expect(await field("Study").inputValue()).toBe("Carlson 2016");
  });

  test("the accessibility checker finds nothing, with a list of offers open", async () => {
    await field("Weeks of training").focus();
    await page.keyboard.press("ArrowDown");
    expect(await axeProblems(page)).toEqual([]);
    await page.keyboard.press("Escape");
  });

  test("what was typed is there when the page is opened again, and goes into the file when told to", async () => {
    await page.waitForTimeout(300);
    await page.reload();
    await page.waitForFunction(
      () => document.querySelector<HTMLInputElement>(".study input")?.value === "Carlson 2016",
    );
    await page.getByRole("button", { name: "Add 1 row" }).click();
    await page.waitForSelector("text=3 rows:");
    const saved = await savedBy(page, () =>
      page.getByRole("button", { name: "Save the mended file" }).click(),
    );
    const { rows } = readRecords(readTable(saved.bytes));
    expect(rows.map(({ study }) => study)).toEqual(["Ash 2001", "Birch 2002", "Carlson 2016"]);
    expect(rows[2]).toMatchObject({
      ...{ doi: "10.1000/c", year: 2016, citation: "Carlson D (2016) A title. Medicine" },
      ...{ design: "randomised groups", sessionsPerWeek: 3, weeks: 8, nEnd: 20 },
      ...{ intensityPercent: 100, holdSeconds: 120, repetitions: 4, femalePercent: 0 },
      ...{ preMean: 136, preSpread: 12, pBound: { side: "below", p: 0.05 } },
    });
    expect(one.complaints()).toEqual([]);
  });
});

describe.skipIf(!hasBrowser)("two arms of one abstract", { timeout: 120_000 }, () => {
  test("the arm's own people come first, the hold is not offered as the rest, and choices explain themselves", async () => {
    // Invented.
    const text =
      "Twenty-six active adults (15 women) trained at long (n = 14) or short (n = 12) muscle length: 5 sets of 4 contractions of 6 s, with 75 s of rest between sets.";
    const one = await openPage({
      address: await writePage({ name: "mine.csv", content: open }),
      hash: "/add",
    });
    const { page } = one;
    page.setDefaultTimeout(60_000);
    const field = (label: string) => page.getByLabel(label, { exact: true });
    const offered = async (label: string): Promise<string[]> => {
      await field(label).focus();
      await page.keyboard.press("ArrowDown");
      return page.locator(".offers li").allTextContents();
    };
    await page.getByPlaceholder("Paste it here").fill(text);
    await page.waitForSelector(".number-mark");
    // What was pasted into is gone, and the first field has the cursor.
    await page.keyboard.type("Elm 2026");
    expect(await field("Study").inputValue()).toBe("Elm 2026");
    expect(await offered("People measured, arm 1")).toEqual([
      ...["14 (people)", "12 (people)", "26 (people)", "15 (people)"],
    ]);
    await page.keyboard.press("Enter");
    expect((await offered("People measured, arm 2"))[0]).toBe("12 (people)");
    await page.keyboard.press("Escape");
    expect(await offered("Hold, arm 1")).toEqual(["6 (seconds)", "75 (seconds)"]);
    await page.keyboard.press("Enter");
    // No share of women is said, so none is offered.
    expect(await offered("Women")).toEqual([]);
    await offered("Rest between sets, arm 1");
    await page.keyboard.press("Enter");
    // Both numbers are placed by now: the rest of the other arm goes before its hold.
    expect(await offered("Rest between sets, arm 2")).toEqual(["75 (seconds)", "6 (seconds)"]);
    await page.keyboard.press("Enter");
    expect(await field("Rest between sets, arm 2").inputValue()).toBe("75");
    for (const [label, words] of [
      ["Outcome family, outcome 1", /outcomes of one family may be pooled/],
      ["Kind of spread, outcome 1", /Blank: standard deviation/],
    ] as const) {
      await field(label).focus();
      const help = page.locator(".field-help");
      expect(await help.textContent()).toMatch(words);
      expect(await field(label).getAttribute("aria-describedby")).toContain(
        await help.getAttribute("id"),
      );
    }
    expect(await axeProblems(page)).toEqual([]);
    await one.close();
  });
});
