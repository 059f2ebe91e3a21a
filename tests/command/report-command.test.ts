/** The report on disk: whole or not at all, the same bytes twice, and text that stays text. */
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { tableText } from "../records/record-table.js";
import { runHere } from "./run-here.js";
import { holdbook } from "./run-holdbook.js";
import { fileOf, testFolder } from "./test-folder.js";

const filesIn = (directory: string): readonly string[] =>
  readdirSync(directory, { recursive: true, encoding: "utf8" })
    .filter((name) => statSync(join(directory, name)).isFile())
    .sort();

const attack = "<script>alert(1)</script>";
const formula = "=cmd|' /C calc'!A0";
const studies = ["Ashdown 2019", "Brook 2020", attack].map((study, index) => ({
  study,
  outcome: index === 1 ? formula : "peak isometric torque",
  preMean: String(180 + 3 * index),
}));
const file = fileOf("attack.csv", tableText(studies));
const first = join(testFolder, "first");

test("report: the same file gives the same bytes twice, in the files it says", async () => {
  const second = join(testFolder, "second");
  // One by the built program and one here: two processes, and two ways to the same code.
  const ran = holdbook("report", file, "-o", first);
  expect([ran.exitCode, ran.err]).toEqual([0, ""]);
  expect((await runHere("report", file, "-o", second)).exitCode).toBe(0);
  // Only the built program prints, and a PDF holds the time it was made.
  const names = filesIn(first).filter((name) => name !== "brief.pdf");
  for (const name of ["report.html", "results.json"]) expect(names).toContain(name);
  expect(names.some((name) => name.endsWith(".svg"))).toBe(true);
  expect(filesIn(second)).toEqual(names);
  const bytes = (folder: string, name: string): string =>
    readFileSync(join(folder, name), "latin1").replace(
      name === ".holdbook-files" ? "brief.pdf\n" : "",
      "",
    );
  for (const name of names) expect(bytes(first, name) === bytes(second, name), name).toBe(true);
});

test("report: text of the file is neither markup nor a formula in anything written", async () => {
  expect(readFileSync(join(first, "report.html"), "utf8")).toContain("&lt;script&gt;alert(1)");
  for (const name of filesIn(first)) {
    const text = readFileSync(join(first, name), "utf8");
    if (/\.(html|svg)$/.test(name)) expect(text, name).not.toMatch(/<script/i);
    if (!name.endsWith(".csv")) continue;
    const bare = text.split(/[\n,]/).filter((cell) => /^"?=/.test(cell));
    expect(bare, name).toEqual([]);
  }
  // read back, the guard is gone and the text is as it was
  const csv = join(first, "tables", "effects-change-within-arm.csv");
  const cells = readTable(readFileSync(csv)).rows.flatMap((r) => r.cells);
  expect(cells).toContain(attack);
});

test("report: a directory with someone's own file is left as it was", async () => {
  const own = join(testFolder, "own");
  mkdirSync(own);
  writeFileSync(join(own, "thesis.txt"), "mine");
  const ran = await runHere("report", file, "-o", own);
  expect([ran.exitCode, ran.out]).toEqual([2, ""]);
  expect(ran.err).toMatch(/thesis\.txt/);
  expect(filesIn(own)).toEqual(["thesis.txt"]);
});

test("report: a file that cannot be used leaves nothing behind", async () => {
  const target = join(testFolder, "nothing");
  const ran = await runHere("report", fileOf("broken.csv", "study,arm\nA,x\n"), "-o", target);
  expect([ran.exitCode, ran.out]).toEqual([1, ""]);
  expect(ran.err).toMatch(/outcome/);
  expect(existsSync(target)).toBe(false);
});

test("report: figures of another size stand beside those of the page, and change nothing else", async () => {
  const folder = join(testFolder, "slides");
  const { exitCode, err, out } = await runHere("report", file, "-o", folder, "--size", "slide");
  expect([exitCode, err]).toEqual([0, ""]);
  expect(out.replace(/\s+/g, " ")).toContain(`(for a slide in ${folder}/figures-slide)`);
  const names = filesIn(folder);
  const of = (place: string, end: string) =>
    names.filter((name) => name.startsWith(place) && name.endsWith(end));
  const pages = of("figures/", ".svg").map((name) => name.replace("figures/", ""));
  // Averages are drawn; a map of so few studies is a sentence.
  expect(pages.length).toBeGreaterThan(0);
  expect(of("figures-slide/", ".svg").map((name) => name.replace("figures-slide/", ""))).toEqual(
    pages,
  );
  for (const name of pages) {
    const width = (place: string): string =>
      /<svg[^>]* width="([\d.]+)"/.exec(readFileSync(join(folder, place, name), "utf8"))![1]!;
    expect([width("figures"), width("figures-slide")]).toEqual([expect.any(String), "1920"]);
    expect(width("figures")).not.toBe("1920");
  }
  const page = (of: string): string => readFileSync(join(of, "report.html"), "utf8");
  expect(page(folder) === page(first)).toBe(true);
});
