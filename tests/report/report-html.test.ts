import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { citationSentence } from "../../src/report/citation-sentence.js";
import { methodsParagraph } from "../../src/report/methods-paragraph.js";
import { reportFigures } from "../../src/report/report-figures.js";
import { reportFiles } from "../../src/report/report-files.js";
import { reportHtml } from "../../src/report/report-html.js";
import { holdbookVersion } from "../../src/report/version.js";
import { analysisOf, analysisOfText } from "./demo-analysis.js";

const demo = analysisOf("demo-register.csv");
const figures = reportFigures(demo);
const drawings = new Map(figures.map(({ id }) => [id, `<svg data-id="${id}"></svg>`]));
const html = reportHtml(demo, drawings);

test("version: the report names the version of package.json", () => {
  const { version } = JSON.parse(
    readFileSync(new URL("../../package.json", import.meta.url), "utf8"),
  ) as { version: string };
  expect(holdbookVersion).toBe(version);
});

test("report: every figure stands in the page once, and the page says that the data are invented", () => {
  for (const { id } of figures) expect(html.split(`data-id="${id}"`)).toHaveLength(2);
  expect(html).toMatch(/Invented data/);
});

test("report: every anchor is there once, though a section, its figure and its table share a name", () => {
  const { id } = figures[0]!;
  const table = { id, title: id, columns: [], rows: [], notes: [] };
  const section = { id, title: id, sentences: [], figures: figures.slice(0, 1), tables: [table] };
  const page = reportHtml(demo, drawings, [section]);
  const anchors = [...page.matchAll(/ id="([^"]*)"/g)].map(([, anchor]) => anchor);
  expect(anchors.filter((anchor, place) => anchors.indexOf(anchor) < place)).toEqual([
    // The first figure stands twice, because this test puts it into a section of its own.
    `figure-${id}`,
  ]);
});

test("report: nothing is asked of a network and no script runs", () => {
  expect(html).not.toMatch(/<script|<link|<iframe|src="http|url\(http/i);
  expect(html).toContain("default-src 'none'");
});

test("report: no number that is none reaches the page or a file", () => {
  const files = reportFiles(demo, figures);
  for (const { name, content } of [{ name: "page", content: html }, ...files])
    expect(/\bNaN\b|\bundefined\b|\bInfinity\b/.exec(content)?.[0], name).toBe(undefined);
});

test("report: the same input gives the same bytes", () => {
  const again = analysisOf("demo-register.csv");
  expect(reportHtml(again, drawings)).toBe(html);
  expect(reportFiles(again, reportFigures(again))).toEqual(reportFiles(demo, figures));
});

test("report: row fates and row uses list every row of the file", () => {
  const file = (name: string) =>
    reportFiles(demo, figures).find((one) => one.name === `tables/${name}.csv`)?.content ?? "";
  expect(file("row-fates").trim().split("\n")).toHaveLength(demo.records.rowsInFile + 1);
  expect(file("row-uses").trim().split("\n").length).toBeGreaterThan(demo.records.rows.length);
});

test("report: text of the file is never markup, and never a formula in a table", () => {
  const attack = '<img src=x onerror=alert(1)>"';
  const formula = "=HYPERLINK(1)";
  const csv = [
    "study,citation,arm,arm_kind,outcome,outcome_family,n_end,statistic,pre_mean,pre_spread,post_mean,post_spread,spread_kind,surprise<b>",
    `"${attack.replaceAll('"', '""')}",x,${formula},isometric,${formula},strength,12,means at both times,100,15,120,16,standard deviation,1`,
    `b,x,1,isometric,torque,strength,12,means at both times,100,15,110,16,standard deviation,1`,
  ].join("\n");
  const analysis = analysisOfText(csv);
  const page = reportHtml(analysis, new Map());
  expect(page).not.toContain("<img");
  expect(page).not.toContain("surprise<b>");
  expect(page).toContain("&lt;img");
  for (const { name, content } of reportFiles(analysis, reportFigures(analysis)))
    if (name.endsWith(".csv")) expect(content, name).not.toMatch(/(^|,)"?=HYPERLINK/m);
});

test("methods: the paragraph says what was computed and cites it", () => {
  const { sentences, sources } = methodsParagraph(demo);
  const text = sentences.join(" ");
  expect(text).toMatch(/log ratio of means/);
  expect(text).toMatch(/restricted maximum likelihood/);
  expect(text).toMatch(/Satterthwaite/);
  expect(text).toContain(`Holdbook ${holdbookVersion}`);
  for (const { key } of sources) expect(text).toContain(key);
  for (const { doi } of sources) expect(doi).toMatch(/^10\.\d{4,}\//);
});

test("methods: another scale is named in the paragraph with its denominator", () => {
  const other = analysisOf("published-outcomes.csv", {
    effects: { scale: "standardised-mean-change-baseline-deviation" },
  });
  expect(methodsParagraph(other).sentences.join(" ")).toMatch(/standard deviations at baseline/);
});

test("citation: the sentence names tool, version, file and its whole fingerprint", () => {
  expect(citationSentence(demo.source)).toBe(
    `Holdbook ${holdbookVersion}, analysis of demo-register.csv (SHA-256 ${"f".repeat(64)}).`,
  );
  expect(html).toContain(citationSentence(demo.source));
});
