/** Kinds of evidence: identities between the tables and the answer, on rows made by hand. */
import { expect, test } from "vitest";
import { equalTension } from "../../src/dose/equal-tension.js";
import { equalTensionPairsTable, equalTensionTable } from "../../src/tables/equal-tension-table.js";
import { handMadeSet, sessionOf, type WrittenEffect } from "../dose/hand-made-set.js";

const pair = (study: string, difference: number): readonly WrittenEffect[] =>
  [sessionOf(4, 10, 3), sessionOf(4, 1, 30)].map((row, place) => ({
    study,
    arm: place === 0 ? "short" : "long",
    estimate: 0.1 + place * difference,
    variance: 0.002,
    row,
  }));

const result = equalTension(
  handMadeSet(["A", "B", "C", "D", "E", "F"].flatMap((study) => pair(study, Math.log(1.1)))),
);

test("an average is shown in percent with its counts, a refusal with its reason", () => {
  const { rows, notes } = equalTensionTable(result, "log-ratio-of-means");
  expect(rows[0]).toMatchObject({
    question: "longer against shorter holds",
    family: "strength",
    pairs: "6 of 6; 6 of 6 studies",
  });
  expect(rows[0]!.average).toMatch(/^10\.0% \(/);
  expect(rows[1]).toMatchObject({ question: "higher against lower intensity", pairs: "none" });
  expect(rows[1]!.average).toMatch(/^not told: no study compares arms of equal tension time/);
  expect(notes[0]).toContain("within 10%");
});

test("every pair is listed, exact in the CSV and rounded to read", () => {
  const table = equalTensionPairsTable(result, "log-ratio-of-means");
  expect(table.rows).toHaveLength(6);
  expect(table.rows[0]).toMatchObject({ more: "30 s", less: "3 s", averaged: "yes", remarks: "" });
  expect(Number(table.rows[0]!.estimate)).toBeCloseTo(Math.log(1.1), 12);
  // 0.002 + 0.002, nobody shared
  expect(Number(table.rows[0]!.variance)).toBeCloseTo(0.004, 12);
  expect(table.csvColumns!.every(({ key }) => table.rows[0]![key] !== undefined)).toBe(true);
});

test("few studies are marked", () => {
  const few = equalTension(
    handMadeSet([...pair("A", 0.1), ...pair("B", 0.12), ...pair("C", 0.05)]),
  );
  const { rows, notes } = equalTensionTable(few, "log-ratio-of-means");
  expect(rows[0]!.average).toMatch(/†$/);
  expect(notes.some((note) => note.startsWith("†"))).toBe(true);
});
