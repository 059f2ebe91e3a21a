import { expect, test } from "vitest";
import { pooledTable } from "../../src/tables/pooled-table.js";
import { tableToCsv } from "../../src/tables/table-to-csv.js";
import { samplePair, samplePooled } from "./sample-results.js";

const table = pooledTable(
  [
    { group: "strength", result: samplePooled },
    { group: "size", result: samplePair },
  ],
  { scale: "log-ratio-of-means", groupLabel: "Outcome family" },
);

// Hand arithmetic on the sample: ratios 1.1, 1.05, 1.152, 0.98 and 1.235 as percent change.
test("average, interval, prediction interval, heterogeneity", () => {
  expect(table.rows[0]).toMatchObject({
    group: "strength",
    studies: "10",
    effects: "10",
    shown: "10.0",
    shownInterval: "5.0 to 15.2",
    shownPrediction: "\u22122.0 to 23.5",
    onScale: "0.095",
    shownBetween: "0.0123",
    shownISquared: "67%",
    shownP: "<0.001",
  });
});

test("what two studies cannot tell is said, not shown as zero", () => {
  expect(table.rows[1]).toMatchObject({
    shownPrediction: "not estimable",
    shownBetween: "not estimable",
    shownBetweenInterval: "not estimable",
    shownISquared: "not estimable",
    betweenVariance: "",
    predictionLow: "",
  });
});

test("headings name the confidence; a mix of confidences names none", () => {
  expect(table.columns.map((column) => column.label)).toContain("95% range of a further study");
  const mixed = pooledTable(
    [
      { group: "a", result: samplePooled },
      {
        group: "b",
        result: { ...samplePooled, story: { ...samplePooled.story, confidence: 0.9 } },
      },
    ],
    { scale: "log-ratio-of-means" },
  );
  expect(mixed.columns.map((column) => column.label)).toContain("range of a further study");
});

test("a footnote all groups share is written once, another under its group", () => {
  const other = {
    ...samplePooled,
    story: { ...samplePooled.story, assumptions: ["limbs are independent"], notes: [] },
  };
  const { notes } = pooledTable(
    [
      { group: "strength", result: samplePooled },
      { group: "size", result: other },
    ],
    { scale: "log-ratio-of-means" },
  );
  expect(notes.filter((note) => note.startsWith("Model: random effects"))).toHaveLength(1);
  expect(notes).toContain("size: Assumed: limbs are independent.");
  expect(notes).toContain("strength: Elm 2011: One study carries most of the weight.");
});

test("the CSV has bounds apart and every digit", () => {
  const [header = "", cells = ""] = tableToCsv(table).split("\n");
  const at = header.split(",").indexOf("interval_low");
  expect(Number(cells.split(",")[at])).toBe(Math.log(1.05));
});
