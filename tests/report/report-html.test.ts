import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { escapeHtml } from "../../src/tables/escape-html.js";
import { citationSentence } from "../../src/report/citation-sentence.js";
import { methodsParagraph } from "../../src/report/methods-paragraph.js";
import { figureTextFiles, reportFiles } from "../../src/report/report-files.js";
import { reportHtml } from "../../src/report/report-html.js";
import { placedAnswers, reportFigures } from "../../src/report/report-part.js";
import { reportOn } from "../../src/report/report-parts.js";
import { holdbookVersion } from "../../src/answers/version.js";
import { ask } from "../../src/answers/ask.js";
import type { AnswerTo } from "../../src/answers/question.js";
import type { QuestionOf } from "../../src/answers/question-list.js";
import { firstWave } from "../answers/evidence-under-test.js";
import { evidenceOf, evidenceOfText, reportOf } from "./demo-report.js";

const demo = await reportOf("demo-register.csv");
const { records } = evidenceOf("demo-register.csv");
const figures = reportFigures(demo).map(({ figure }) => figure);
const drawings = new Map(figures.map(({ id }) => [id, `<svg data-id="${id}"></svg>`]));
const html = reportHtml(demo, drawings);

test("version: the report names the version of package.json", () => {
  const { version } = JSON.parse(
    readFileSync(new URL("../../package.json", import.meta.url), "utf8"),
  ) as { version: string };
  expect(holdbookVersion).toBe(version);
});

test("report: every figure stands in the page with one anchor, and the page says that the data are invented", () => {
  const end = html.indexOf("</section>");
  const [brief, rest] = [html.slice(0, end), html.slice(end)];
  for (const { id } of figures) {
    const [inBrief, behind] = [brief, rest].map((part) => part.split(`data-id="${id}"`).length - 1);
    expect(inBrief! + behind!, id).toBeGreaterThan(0);
    expect(Math.max(inBrief!, behind!), id).toBe(1);
    expect(html.split(` id="figure-${id}"`).length - 1, id).toBe(behind);
  }
  expect(html).toMatch(/Invented data/);
});

test("report: every anchor is there once, and so is every file", () => {
  const anchors = [...html.matchAll(/ id="([^"]*)"/g)].map(([, anchor]) => anchor);
  expect(anchors.filter((anchor, place) => anchors.indexOf(anchor) < place)).toEqual([]);
  const names = reportFiles(demo).map(({ name }) => name);
  expect(names.filter((name, place) => names.indexOf(name) < place)).toEqual([]);
});

test("report: every answer is the one the question gives, headline and sentences as they stand", async () => {
  const evidence = evidenceOf("demo-register.csv");
  for (const { id, answer } of placedAnswers(demo)) {
    const { id: asked, options } = answer.data.question;
    const again = await ask(asked as "pool", options, evidence);
    expect(answer.data, id).toEqual(again.data);
    const said =
      again.data.question.id === "brief"
        ? // Laid out goal by goal, out of the data.
          (again.data as unknown as AnswerTo<QuestionOf<"brief">>["data"]).goals.flatMap(
            ({ prescribe, gains }) => [prescribe, gains.join(" ")],
          )
        : [again.headline, ...again.sentences];
    expect(said.length, id).toBeGreaterThan(0);
    for (const sentence of said) expect(html, id).toContain(`>${escapeHtml(sentence)}</p>`);
  }
});

test("report: folded tables are folded, those for the file are only in the file", () => {
  const files = new Set(reportFiles(demo).map(({ name }) => name));
  const full = reportHtml(demo, drawings, { full: true });
  for (const { answer } of placedAnswers(demo))
    for (const { id, place, rows } of answer.tables) {
      expect(files, id).toContain(`tables/${id}.csv`);
      const before = full.split(`data-table="${id}"`)[0] ?? "";
      expect(full.includes(`data-table="${id}"`), id).toBe(place !== "file");
      // Without --full a folded table is named with its file instead.
      expect(html.includes(`data-table="${id}"`), id).toBe(place === undefined);
      if (place === "folded") expect(html, id).toContain(`${id}.csv (${rows.length} row`);
      if (place !== "file")
        expect(before.lastIndexOf("<details>") > before.lastIndexOf("</details>"), id).toBe(
          place === "folded",
        );
    }
});

test("report: nothing is asked of a network and no script runs", () => {
  expect(html).not.toMatch(/<script|<link|<iframe|src="http|url\(http/i);
  expect(html).toContain("default-src 'none'");
});

test("report: no number that is none reaches the page or a file", () => {
  const files = [...reportFiles(demo), ...figures.flatMap(figureTextFiles)];
  for (const { name, content } of [{ name: "page", content: html }, ...files])
    expect(/\bNaN\b|\bundefined\b|\bInfinity\b/.exec(content)?.[0], name).toBe(undefined);
});

test("report: the same input gives the same bytes", async () => {
  const again = await reportOf("demo-register.csv");
  expect(reportHtml(again, drawings)).toBe(html);
  expect(reportFiles(again)).toEqual(reportFiles(demo));
});

test("report: its options go to every question that takes them", async () => {
  const where = "outcome_family=size";
  const some = await reportOf("demo-register.csv", { where, confidence: 0.9, correlation: 0.6 });
  for (const { id, answer } of placedAnswers(some)) {
    const { options } = answer.data.question;
    expect(options["where"], id).toBe(where);
    if (answer.data.confidence !== null) expect(answer.data.confidence, id).toBe(0.9);
    if ("correlation" in options) expect(options["correlation"], id).toBe(0.6);
  }
  const page = reportHtml(some, new Map());
  expect(page).toMatch(/90% interval/);
  // a trial may print a 95% interval of its own, from which its spread is taken
  expect(page).not.toMatch(/(?<!spread of the changes from the )95% interval|Strength,/);
});

test("report: row fates and row uses list every row of the file", () => {
  const file = (name: string) =>
    reportFiles(demo).find((one) => one.name === `tables/${name}.csv`)?.content ?? "";
  expect(file("row-fates").trim().split("\n")).toHaveLength(records.rowsInFile + 1);
  for (const contrast of ["change-within-arm", "against-control"]) {
    const lines = file(`row-uses-${contrast}`).trim().split("\n").slice(1);
    expect(new Set(lines.map((line) => Number(line.split(",")[0])))).toEqual(
      new Set(records.rows.map(({ line }) => line)),
    );
  }
});

test("report: text of the file is never markup, and never a formula in a table", async () => {
  const attack = '<img src=x onerror=alert(1)>"';
  const formula = "=HYPERLINK(1)";
  const csv = [
    "study,citation,arm,arm_kind,outcome,outcome_family,n_end,statistic,pre_mean,pre_spread,post_mean,post_spread,spread_kind,surprise<b>",
    `"${attack.replaceAll('"', '""')}",x,${formula},isometric,${formula},strength,12,means at both times,100,15,120,16,standard deviation,1`,
    `b,x,1,isometric,torque,strength,12,means at both times,100,15,110,16,standard deviation,1`,
  ].join("\n");
  const report = await reportOn(evidenceOfText(csv));
  const page = reportHtml(report, new Map());
  expect(page).not.toContain("<img");
  expect(page).not.toContain("surprise<b>");
  expect(page).toContain("&lt;img");
  for (const { name, content } of reportFiles(report))
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

test("methods: another scale is named in the paragraph with its denominator", async () => {
  const other = await reportOf(firstWave, {
    scale: "standardised-mean-change-baseline-deviation",
  });
  expect(methodsParagraph(other).sentences.join(" ")).toMatch(/standard deviations at baseline/);
});

test("citation: the sentence names tool, version, file and its whole fingerprint", () => {
  expect(citationSentence(demo.source)).toBe(
    `Holdbook ${holdbookVersion}, analysis of demo-register.csv (SHA-256 ${"f".repeat(64)}); the data are invented and are no evidence.`,
  );
  expect(html).toContain(citationSentence(demo.source));
});
