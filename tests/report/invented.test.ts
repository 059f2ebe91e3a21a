/** Invented data are called invented wherever something of them can be taken away. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { figureRecipe } from "../../src/answers/figure-recipe.js";
import { openEvidence } from "../../src/answers/evidence.js";
import { readTable } from "../../src/csv/read-table.js";
import { drawFigure } from "../../src/host/draw-figure.js";
import { citationSentence } from "../../src/report/citation-sentence.js";
import { methodsParagraph } from "../../src/report/methods-paragraph.js";
import { figureTextFiles, reportFiles } from "../../src/report/report-files.js";
import { reportHtml } from "../../src/report/report-html.js";
import { placedAnswers, reportFigures, type Report } from "../../src/report/report-part.js";
import { firstWave, shippedEvidence, shippedText } from "../answers/evidence-under-test.js";
import { runHere } from "../command/run-here.js";
import { fileOf, testFolder } from "../command/test-folder.js";
import { reportOf } from "./demo-report.js";

const demo = await reportOf("demo-register.csv");
const real = await reportOf(firstWave);
const says = /INVENTED DATA|[Ii]nvented/;

const evidenceOf = (text: string) =>
  openEvidence({ name: "a.csv", fingerprint: "0".repeat(64), table: readTable(text) });

test("the methods paragraph says it first, the citation too; those of real trials do not", () => {
  expect(methodsParagraph(demo).sentences[0]).toMatch(/^All trials analysed here were invented/);
  expect(citationSentence(demo.source)).toMatch(/\); the data are invented and are no evidence\.$/);
  const cited = [...methodsParagraph(real).sentences, citationSentence(real.source)].join(" ");
  expect(cited).not.toMatch(says);
  const texts = Object.fromEntries(reportFiles(demo).map(({ name, content }) => [name, content]));
  expect(texts["methods.txt"]).toMatch(says);
  expect((JSON.parse(texts["results.json"]!) as { cite: string }).cite).toMatch(says);
  expect(reportHtml(demo, new Map())).toContain("All trials analysed here were invented");
});

const subtitleOf = (report: Report) =>
  reportFigures(report).map(({ figure }) => ({
    figure,
    title: JSON.stringify(figure.specification.title),
  }));

test("every figure says it inside its drawing, in caption, description and specification", async () => {
  const figures = subtitleOf(demo);
  expect(figures.length).toBeGreaterThan(10);
  for (const { figure, title } of figures) {
    expect(title, figure.id).toContain("INVENTED DATA");
    expect(figure.caption, figure.id).toContain("INVENTED DATA");
    expect(figure.description, figure.id).toContain("INVENTED DATA");
    expect(figureTextFiles(figure)[0]!.content).toContain("INVENTED DATA");
  }
  const byKind = new Map(
    reportFigures(demo).map(({ figure, from }) => [from.named.name, figure] as const),
  );
  for (const [name, figure] of byKind) {
    const { svg } = await drawFigure(figure);
    const drawing = svg.replace(/<title.*?<\/title>|<desc.*?<\/desc>/gs, "");
    expect(drawing, name).toContain("INVENTED DATA");
  }
  for (const { figure, title } of subtitleOf(real))
    expect(title + figure.caption + figure.description, figure.id).not.toMatch(says);
});

test("on paper, where grounds are left out, the words are black in a frame", () => {
  const html = reportHtml(demo, new Map());
  const print = /@media print \{.*?\n\}/s.exec(html)?.[0] ?? "";
  expect(print).toMatch(/\.invented \{ background: #ffffff; color: #000000; border: 2px solid/);
  expect(html).toContain('<p class="invented">Invented data.');
});

test("a figure's recipe carries it", () => {
  const [first] = placedAnswers(demo).filter(({ answer }) => answer.figures.length > 0);
  const recipe = figureRecipe(first!.answer, first!.answer.figures[0]!);
  expect([recipe.file?.invented, recipe.figure.data["invented"]]).toEqual([true, true]);
});

test("a notebook made from the register says it before anything else, and so does what is pasted on", async () => {
  const made = async (path: string, name: string): Promise<string> => {
    const folder = join(testFolder, name);
    await runHere("notebook", folder, path);
    return readFileSync(join(folder, "notebook.ipynb"), "utf8");
  };
  const ofDemo = await made(fileOf("mine.csv", shippedText("demo-register.csv")), "of-demo");
  expect(ofDemo.indexOf("INVENTED DATA")).toBeGreaterThan(0);
  expect(ofDemo.indexOf("INVENTED DATA")).toBeLessThan(ofDemo.indexOf("Run the cells"));
  const ofReal = await made(fileOf("real.csv", shippedText(firstWave)), "of-published");
  expect(ofReal).not.toMatch(says);
});

test("one invented row is enough, refused or in a table of effects made of the register", async () => {
  const [header = "", ...rows] = shippedText("demo-register.csv").trim().split("\n");
  const broken = rows[0]!.replace(/,isometric,\d+/, ",isometric,many");
  expect(evidenceOf([header, broken].join("\n")).source.invented).toBe(true);
  const { data } = await ask("effects", {}, shippedEvidence("demo-register.csv"));
  const ready = [
    "study,effect,variance",
    ...data.effects.slice(0, 5).map((one) => `${one.study},${one.estimate},${one.variance}`),
  ].join("\n");
  expect(evidenceOf(ready).kind).toBe("ready effects");
  expect(evidenceOf(ready).source.invented).toBe(true);
  expect(evidenceOf("study,effect,variance\nAsh 2001,1,0.2\n").source.invented).toBe(false);
});
