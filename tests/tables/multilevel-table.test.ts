import { expect, test } from "vitest";
import { multilevelTable } from "../../src/tables/multilevel-table.js";
import { sampleMultilevel } from "./sample-results.js";

const table = multilevelTable(sampleMultilevel, { scale: "log-ratio-of-means" });

test("each coefficient stands twice: from the model and cluster-robust", () => {
  expect(table.rows.map((row) => [row["term"], row["inference"]])).toEqual([
    ["intercept", "from the model"],
    ["intercept", "cluster-robust"],
    ["weeks", "from the model"],
    ["weeks", "cluster-robust"],
  ]);
});

test("degrees of freedom tell the normal reference from a corrected one", () => {
  expect(table.rows.map((row) => row["shownDegreesOfFreedom"])).toEqual([
    "normal",
    "6.4",
    "normal",
    "5.1",
  ]);
  expect(table.rows[0]?.["degreesOfFreedom"]).toBe("");
});

test("a small slope keeps its digits on the model's scale", () => {
  // Hand arithmetic: 100·(exp(0.0101) − 1) = 1.0151.
  expect(table.rows[2]).toMatchObject({ onScale: "0.0101", shown: "1.0" });
});

test("without moderators the average is the only term; without clusters there are no robust rows", () => {
  const plain = multilevelTable(
    { ...sampleMultilevel, coefficients: [], robust: null },
    { scale: "log-ratio-of-means" },
  );
  expect(plain.rows).toHaveLength(1);
  expect(plain.rows[0]).toMatchObject({ term: "average", shown: "10.0" });
  expect(plain.notes.some((note) => note.startsWith("Cluster-robust"))).toBe(false);
  expect(table.notes).toContain("Cluster-robust: bias-reduced, 10 clusters.");
});
