/** What became of the rows of a file, as every door of the command line and the report prints it. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { methodsParagraph } from "../../src/report/methods-paragraph.js";
import { reportFiles } from "../../src/report/report-files.js";
import { reportHtml } from "../../src/report/report-html.js";
import { reportOn } from "../../src/report/report-parts.js";
import {
  firstWave,
  historicEvidence,
  historicText,
  shippedEvidence,
} from "../answers/evidence-under-test.js";
import { projectRoot } from "../house/source-tree.js";
import { jsonOf, runHere } from "./run-here.js";
import { fileOf, testFolder } from "./test-folder.js";

const counts = {
  published: "54 rows: 32 averaged; 22 kept, not averaged; 0 set aside",
  demo: "311 rows: 308 averaged; 3 kept, not averaged; 0 set aside",
  historic: "466 rows: 137 averaged; 329 kept, not averaged; 0 set aside",
} as const;
const shipped = (name: string): string => join(projectRoot, "data", name);
const oneLine = (text: string): string => text.replace(/\s+/g, " ");

const files = [
  ["published", () => shipped(firstWave)],
  ["demo", () => shipped("demo-register.csv")],
  ["historic", () => fileOf("historic.csv", historicText())],
] as const;

test.each(files)("%s: check and the notebook say the same three counts", async (name, path) => {
  const check = await runHere("check", path());
  expect(oneLine(check.out)).toContain(counts[name]);
  expect((await jsonOf<{ counts: string }>("check", path())).counts).toBe(counts[name]);
  const folder = join(testFolder, `notebook-${name}`);
  expect(oneLine((await runHere("notebook", folder, path())).out)).toContain(`(${counts[name]})`);
  expect(readFileSync(join(folder, "notebook.ipynb"), "utf8")).toContain(
    `showAnswer(await ask(\\"check\\"))`,
  );
});

test("the summary of the main job says them", async () => {
  const folder = join(testFolder, "summary");
  const { out } = await runHere("start", shipped(firstWave), "-o", folder);
  expect(oneLine(out)).toContain(counts.published);
  expect(readFileSync(join(folder, "methods.txt"), "utf8")).toContain(counts.published);
});

test.each([
  ["published", () => shippedEvidence(firstWave), counts.published],
  ["historic", historicEvidence, counts.historic],
  ["published, some rows", () => shippedEvidence(firstWave), undefined],
] as const)("%s: the report's head, its methods and its files", async (name, open, whole) => {
  const options = whole === undefined ? { where: "outcome_family=strength" } : {};
  const report = await reportOn(open(), options);
  const wanted = whole ?? "54 rows: 20 averaged; 10 kept, not averaged; 24 set aside";
  const html = reportHtml(report, new Map());
  expect(html.split(wanted).length - 1, name).toBeGreaterThanOrEqual(3);
  expect(methodsParagraph(report).sentences.join(" ")).toContain(wanted);
  expect(html).not.toMatch(/rows used|could be used/);
  const fates = reportFiles(report).find((file) => file.name === "tables/row-fates.csv")!.content;
  const [averaged = 0, kept = 0, aside = 0] = [...wanted.matchAll(/ (\d+)/g)].map(([, n]) =>
    Number(n),
  );
  const listed = (word: RegExp): number => fates.match(word)?.length ?? 0;
  expect([listed(/^\d+,averaged/gm), listed(/^\d+,"kept/gm), listed(/^\d+,set aside/gm)]).toEqual([
    averaged,
    kept,
    aside,
  ]);
});
