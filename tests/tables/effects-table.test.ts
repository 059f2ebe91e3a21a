import { expect, test } from "vitest";
import { effectsTable } from "../../src/tables/effects-table.js";
import { tableToCsv } from "../../src/tables/table-to-csv.js";
import { tableToText } from "../../src/tables/table-to-text.js";
import { sampleEffect, sampleEffectSet } from "./sample-results.js";

const table = effectsTable(sampleEffectSet);
const row = table.rows[0] ?? {};

test("the scale and the contrast stand in the title", () => {
  expect(table.title).toBe(
    "Effects: training arm against a no-exercise control, log ratio of means (shown as percent change)",
  );
});

test("percent change first, the logarithm beside it", () => {
  const keys = table.columns.map((column) => column.key);
  expect(keys.indexOf("onScale")).toBe(keys.indexOf("interval") + 1);
  expect(row["shown"]).toBe("10.0");
  // Hand arithmetic: ln 1.1 = 0.0953; 1.1·exp(∓1.96·0.05) = 0.9973 and 1.2133.
  expect(row["onScale"]).toBe("0.095");
  expect(row["interval"]).toBe("\u22120.3 to 21.3");
});

test("route, correlation with its source, place and people stand with the effect", () => {
  expect(row).toMatchObject({
    arm: "long holds against no training",
    outcome: "peak isometric torque (60°, week 12)",
    participants: "24",
    correlation: "0.80 default",
    way: "a",
    route: "means and standard deviations at both times",
    line: "2",
  });
});

test("ways are letters, told once below; a correlation has its own column", () => {
  const route = (words: string) => ({ ...sampleEffect, route: words });
  const { rows, notes } = effectsTable({
    ...sampleEffectSet,
    effects: [
      route("means; pre–post correlation 0.80 (stated)"),
      route("percent change"),
      route("means; pre–post correlation 0.70 (stated)"),
    ],
  });
  expect(rows.map(({ way }) => way)).toEqual(["a", "b", "a"]);
  expect(notes).toContain("a: means.");
  expect(notes).toContain("b: percent change.");
});

test("eighty columns hold a line for each effect: who, what, how much, and the way", () => {
  const text = tableToText(table, { width: 80 });
  expect(text).not.toContain("Study: ");
  expect(table.narrowColumns?.map(({ key }) => key)).toEqual([
    "study",
    "arm",
    "outcome",
    "shown",
    "interval",
    "way",
  ]);
  const [heading] = text.split("\n").filter((line) => line.startsWith("Study"));
  expect(heading).toMatch(/^Study +Arm +Outcome +Change +95% interval +Way$/);
});

test("doubts are footnotes, each once", () => {
  expect(table.notes).toContain("One study only.");
  expect(table.notes).toContain("Elm 2011: From medians.");
});

test("a fall is shown as the share that is gone, never above 100%", () => {
  const scale = "log-ratio-of-means-where-lower-is-better" as const;
  const fall = { ...sampleEffect, scale, estimate: Math.log(4), variance: 0.04 };
  const { rows, columns, notes } = effectsTable({ ...sampleEffectSet, scale, effects: [fall] });
  // Hand arithmetic: 1 − 1/4; 1 − e^∓0.392/4 = 0.6300 and 0.8311.
  expect(rows[0]).toMatchObject({ shown: "75.0", interval: "63.0 to 83.1" });
  expect(columns.find(({ key }) => key === "shown")).toMatchObject({ label: "Fall", unit: "%" });
  expect(notes.some((note) => note.includes("a negative one is a rise"))).toBe(true);
  expect(table.notes.some((note) => note.includes("rise"))).toBe(false);
});

test("a standardised scale has no logarithm column and names its denominator", () => {
  const scale = "standardised-mean-change-change-deviation" as const;
  const other = effectsTable({ ...sampleEffectSet, scale, effects: [{ ...sampleEffect, scale }] });
  expect(other.columns.map((column) => column.key)).not.toContain("onScale");
  expect(other.title).toContain("in standard deviations of the changes");
});

test("the CSV has every digit", () => {
  const [header = "", cells = ""] = tableToCsv(table).split("\n");
  const at = header.split(",").indexOf("estimate");
  expect(Number(cells.split(",")[at])).toBe(Math.log(1.1));
  expect(header).toContain("standard_error");
});

test("a ratio of spreads claims no improvement", () => {
  const scale = "log-variability-ratio" as const;
  const spread = effectsTable({ ...sampleEffectSet, scale, effects: [{ ...sampleEffect, scale }] });
  expect(spread.notes.join(" ")).not.toContain("improvement");
  expect(table.notes).toContain("Positive means improvement.");
});
