import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { openEvidence } from "../../src/answers/evidence.js";
import { openFiles } from "../../src/answers/several-files.js";
import { readTable } from "../../src/csv/read-table.js";
import { runHere } from "../command/run-here.js";
import { testFolder } from "../command/test-folder.js";
import { codebookText, strengthRow as row } from "./evidence-under-test.js";

const first = codebookText([row("Ash 2001", 11), row("Birch 2002", 17, { doi: "10.1000/b" })]);
/** Other columns, in another order and spelling. */
const second = codebookText([
  { "Sessions per week": 3, ...row("Cedar 2003", 23) },
  { ...row("Birch 2002", 31, { arm: "second arm" }) },
  { ...row("Birch 2002 again", 32, { doi: "10.1000/B" }) },
  { ...row("Ash 2001", 11) },
  { ...row("Elm 2005", 12, { change_percent_spread: "9.5 ± 2" }) },
]);
const file = (name: string, text: string) => ({ name, fingerprint: name, table: readTable(text) });
const both = openFiles([file("a.csv", first), file("b.csv", second)], "ab");

describe("two files as one", () => {
  test("give the answer of one file with the rows of both", async () => {
    const rows = [row("Ash 2001", 11), row("Birch 2002", 17), row("Cedar 2003", 23)];
    const whole = openEvidence(file("whole.csv", codebookText(rows)));
    const parts = openFiles(
      [file("a.csv", codebookText(rows.slice(0, 2))), file("b.csv", codebookText(rows.slice(2)))],
      "",
    );
    const [one, two] = [await ask("pool", {}, whole), await ask("pool", {}, parts)];
    expect(one.headline).toMatch(/3 studies|three studies/);
    expect(two.headline).toBe(one.headline);
    expect(two.data.groups).toEqual(one.data.groups);
  });

  test("unite their columns by the codebook's spelling", () => {
    const { header, rows } = both.table;
    expect(new Set(header).size).toBe(header.length);
    expect(rows.map(({ line }) => line)).toEqual([2, 3, 1002, 1003, 1004, 1005, 1006]);
    expect(both.records.rows.find(({ study }) => study === "Cedar 2003")?.sessionsPerWeek).toBe(3);
  });

  test("name every row by its file", async () => {
    const { tables, data } = await ask("check", {}, both);
    const fates = tables.find(({ id }) => id === "row-fates")!;
    expect(fates.rows.map(({ line }) => line)).toEqual([
      "2 (a.csv)",
      "3 (a.csv)",
      "2 (b.csv)",
      "3 (b.csv)",
      "4 (b.csv)",
      "5 (b.csv)",
      "6 (b.csv)",
    ]);
    expect(fates.rows[5]?.reason).toBe("repeats line 2 of a.csv in every column of the codebook");
    const problems = tables.find(({ id }) => id === "issues")!;
    expect(problems.rows.map(({ line }) => line)).toContain("6 (b.csv)");
    expect(data.files).toEqual([
      { name: "a.csv", above: 0 },
      { name: "b.csv", above: 1000 },
    ]);
  });

  test("the same people in both are told: one study under one name, and papers with one DOI", async () => {
    const { notes } = await ask("check", {}, both);
    const told = notes.filter(({ code }) => code === "study-in-several-files");
    expect(told.map(({ message }) => message)).toEqual([
      "more than one file has rows of Birch 2002: the same people, counted as one study",
      "Birch 2002 and Birch 2002 again have one DOI (10.1000/b): if they are the same people, give them one name in cohort",
    ]);
  });
});

test("invented rows are never mixed with real ones, nor ready effects with outcomes", () => {
  const invented = file("demo.csv", codebookText([row("Invented 07", 12)]));
  expect(() => openFiles([file("a.csv", first), invented], "")).toThrow(
    /all real, or all invented, got invented rows in demo\.csv, beside a\.csv/,
  );
  expect(openFiles([invented, invented], "").source.invented).toBe(true);
  const ready = file("ready.csv", "study,effect,variance\nAsh 2001,0.2,0.01\n");
  expect(() => openFiles([file("a.csv", first), ready], "")).toThrow(
    /ready effects in ready\.csv only/,
  );
});

test("--with on the command line, in any question", async () => {
  const [one, two] = ["first.csv", "second.csv"].map((name) => join(testFolder, name)) as [
    string,
    string,
  ];
  writeFileSync(one, first);
  writeFileSync(two, second);
  const check = await runHere("check", one, "--with", two, "--all");
  expect(check.out).toContain("first.csv with second.csv");
  expect(check.out).toContain("5 (second.csv)");
  const pool = await runHere("pool", one, "--with", two);
  expect(pool.out).toContain("5 effects in 4 studies");
  const demo = await runHere("pool", one, "--with", "data/demo-register.csv");
  expect(demo.exitCode).not.toBe(0);
  expect(demo.err).toContain("never mixed with real ones");
});
