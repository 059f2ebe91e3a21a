import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { columnOf, fieldNames, fieldOf } from "../../src/records/codebook.js";
import { views } from "../../src/page/views/view-list.js";
import { savedBy } from "./page-actions.js";
import { hasBrowser, openPage, writePage } from "./page-under-test.js";

const script = `<img src="https://nowhere.invalid/x.png" onerror="globalThis.holdbookHit=1"><script>globalThis.holdbookHit=1</script>`;
const formula = `=HYPERLINK("https://nowhere.invalid","x")`;

/** Two rows that are used, with every text field of the codebook holding something hostile. */
const hostile = (poison: string): string => {
  const sound: Readonly<Record<string, string>> = {
    design: "single group",
    arm_kind: "isometric",
    n_end: "12",
    intensity_percent: "70",
    hold_seconds: "5",
    repetitions: "5",
    sets: "4",
    rest_between_repetitions_seconds: "5",
    rest_between_sets_seconds: "60",
    weeks: "8",
    sessions_per_week: "3",
    outcome_family: "strength",
    statistic: "means at both times",
    pre_mean: "100",
    pre_spread: "20",
    post_mean: "120",
    post_spread: "22",
    spread_kind: "standard deviation",
  };
  // A field that takes any text takes the poison.
  const texts = fieldNames
    .filter((name) => fieldOf(name).schema.safeParse(poison).success)
    .map(columnOf);
  const columns = [...new Set([...texts, ...Object.keys(sound)]), `unknown ${poison}`];
  const quoted = (cell: string): string => `"${cell.replaceAll('"', '""')}"`;
  const lines = [1, 2, 3].map((number) =>
    columns
      .map((column) => sound[column] ?? `${poison} ${number}`)
      .map(quoted)
      .join(","),
  );
  return [columns.map(quoted).join(","), ...lines, ""].join("\n");
};

describe.skipIf(!hasBrowser)("text from the table stays text", () => {
  test.each([
    ["script", script],
    ["formula", formula],
  ])("in every view: %s", async (_kind, poison) => {
    const content = hostile(poison);
    const opened = await openPage({ address: await writePage({ name: "hostile.csv", content }) });
    const { page, settled } = opened;
    for (const { id } of views) {
      await page.evaluate((name) => (location.hash = `/${name}`), id);
      await page.waitForFunction(
        (name) => document.querySelector(`a[aria-current="page"][href^="#/${name}"]`) !== null,
        id,
      );
      await settled();
    }
    expect(await page.evaluate(() => "holdbookHit" in globalThis)).toBe(false);
    expect(await page.locator("main script, main img[onerror]").count()).toBe(0);
    expect(opened.requests()).toEqual([]);
    expect(opened.complaints()).toEqual([]);
    await opened.close();
  });

  test("formulas are guarded in every table that is saved, and come back when read", async () => {
    const content = hostile(formula);
    const { page, settled, close } = await openPage({
      address: await writePage({ name: "hostile.csv", content }),
      hash: "/answers",
    });
    await settled();
    const effects = page.locator("summary", { hasText: /^Effects/ });
    await effects.first().waitFor();
    await effects.first().click();
    const saves = page.locator("button:visible", { hasText: "Save as CSV" });
    const files = [];
    for (const button of await saves.all()) files.push(await savedBy(page, () => button.click()));
    expect(files.length).toBeGreaterThan(1);
    for (const { bytes, name } of files) {
      const raw = bytes.toString("utf8");
      expect(raw, name).not.toMatch(/(^|,|")=HYPERLINK/m);
      expect(readTable(bytes).issues, name).toEqual([]);
    }
    expect(files.some(({ bytes }) => bytes.toString("utf8").includes("'=HYPERLINK"))).toBe(true);
    await close();
  });
});
