import { scaleLabel } from "../effects/scale-label.js";
import type { Figure } from "../figures/figure.js";
import { assumptionsTable } from "../tables/assumptions-table.js";
import { completenessTable } from "../tables/completeness-table.js";
import { escapeHtml } from "../tables/escape-html.js";
import { fatesTable } from "../tables/fates-table.js";
import { heterogeneitySentences } from "../tables/heterogeneity-sentences.js";
import { issuesTable } from "../tables/issues-table.js";
import { multilevelTable } from "../tables/multilevel-table.js";
import { formatCount } from "../tables/number-format.js";
import type { Table } from "../tables/table.js";
import { tableToHtml } from "../tables/table-to-html.js";
import { effectsTable } from "../tables/effects-table.js";
import { varianceTable } from "../tables/variance-table.js";
import type { Analysis, FamilyAnswer } from "./analysis.js";
import { answerFigures, evidenceMapFigure } from "./report-figures.js";
import { answerSentence } from "./answer-sentence.js";
import { citationSentence } from "./citation-sentence.js";
import { methodsParagraph } from "./methods-paragraph.js";
import { pooledTables } from "./pooled-tables.js";
import { shownResult } from "./pooled-answer.js";
import { reportCautions } from "./report-cautions.js";
import type { ReportSection } from "./report-section.js";
import { reportStyle } from "./report-style.js";
import { holdbookVersion } from "./version.js";

/** A figure drawn as SVG, by the figure's id. */
export type Drawings = ReadonlyMap<string, string>;

const paragraph = (text: string): string => `<p>${escapeHtml(text)}</p>`;

const list = (items: readonly string[], kind = ""): string =>
  items.length === 0
    ? ""
    : `<ul${kind === "" ? "" : ` class="${kind}"`}>${items.map((item) => `<li>${escapeHtml(item)}</li>`).join("")}</ul>`;

const folded = (title: string, content: string): string =>
  `<details><summary>${escapeHtml(title)}</summary>\n${content}</details>`;

const wide = (table: Table): string =>
  `<div class="scroll" tabindex="0" role="region" aria-label="${escapeHtml(table.title)}">${tableToHtml(table)}</div>`;

const drawn = (figure: Figure, drawings: Drawings): string => {
  const svg = drawings.get(figure.id);
  if (svg === undefined) return "";
  return `<figure id="figure-${escapeHtml(figure.id)}">
<div class="drawing" role="img" aria-label="${escapeHtml(figure.description)}">${svg}</div>
<figcaption>${escapeHtml(figure.caption)}</figcaption>
</figure>`;
};

const answerSection = (family: FamilyAnswer, analysis: Analysis, drawings: Drawings): string => {
  const result = shownResult(family.answer);
  const figures = answerFigures(family, analysis.confidence);
  const scale = family.set.scale;
  return [
    `<section id="${escapeHtml(family.id)}">`,
    `<h3>${escapeHtml(capital(family.label))}</h3>`,
    paragraph(answerSentence(family, analysis.confidence)),
    ...(result === undefined ? [] : heterogeneitySentences(result, { scale }).map(paragraph)),
    ...figures.map((figure) => drawn(figure, drawings)),
    ...(family.answer.kind === "multilevel"
      ? [
          folded(
            "The model, with and without cluster-robust errors",
            wide(multilevelTable(family.answer.model, { scale })) +
              wide(varianceTable(family.answer.model)),
          ),
        ]
      : []),
    ...(result === undefined
      ? []
      : [
          folded(
            "What this rests on",
            list(result.story.assumptions) +
              list(
                result.story.notes.map(({ message }) => message),
                "notes",
              ),
          ),
        ]),
    folded(
      `All ${formatCount(family.set.effects.length)} effects, with the route of each`,
      wide(effectsTable(family.set)),
    ),
    "</section>",
  ].join("\n");
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * The report as one self-contained HTML page: answers first, then the data, the figures, how each number
 * was made, methods to copy, cautions, and every row's fate.
 *
 * The page makes no request and runs no script; text from the file is escaped wherever it stands. The
 * same analysis and drawings give the same bytes.
 *
 * @param analysis  from `analyse`
 * @param drawings  the figures of `reportFigures` and of `more`, drawn
 * @param more      sections of other rooms, placed after the pooled answers
 */
export const reportHtml = (
  analysis: Analysis,
  drawings: Drawings,
  more: readonly ReportSection[] = [],
): string => {
  const { source, records, answers, sets } = analysis;
  const title = `Isometric training outcomes: ${source.name}`;
  const methods = methodsParagraph(analysis);
  const map = evidenceMapFigure(analysis);
  const used = records.fates.filter(({ fate }) => fate.startsWith("used")).length;
  const contents = [
    ["answers", "Answers"],
    ["data", "The data"],
    ["pooled", "Pooled answers and their figures"],
    ...more.map(({ id, title: name }) => [id, name]),
    ["methods", "Methods, to copy"],
    ["cautions", "Cautions"],
    ["rows", "Every row's fate"],
    ["cite", "How to cite"],
  ];
  const body = [
    `<header class="top">`,
    ...(source.invented
      ? [
          `<p class="invented">Invented data. Every trial in this file was made up to show what the program does; nothing here is evidence.</p>`,
        ]
      : []),
    `<h1>${escapeHtml(title)}</h1>`,
    paragraph(
      `${formatCount(used)} of ${formatCount(records.rowsInFile)} rows used; effects on the ${sets[0] === undefined ? "chosen scale" : scaleLabel(sets[0].scale)}. Positive means improvement.`,
    ),
    `<nav aria-label="Contents"><ul>${contents.map(([id, name]) => `<li><a href="#${escapeHtml(id ?? "")}">${escapeHtml(name ?? "")}</a></li>`).join("")}</ul></nav>`,
    `</header>`,
    `<main>`,
    `<section id="answers"><h2>Answers</h2>`,
    answers.length === 0
      ? paragraph("No row reached the scale, so there is no answer; the rows' fates below say why.")
      : `<ul class="answers">${answers.map((answer) => `<li><strong>${escapeHtml(capital(answer.label))}</strong>${escapeHtml(answerSentence(answer, analysis.confidence))}</li>`).join("\n")}</ul>`,
    paragraph(
      "A change within an arm contains learning, expectation and time as well as training; the answer against a no-exercise control leaves those out. The interval is about the average of such studies; where a new study would fall is the second range.",
    ),
    `</section>`,
    `<section id="data"><h2>The data</h2>`,
    wide(fatesTable(records.fates)),
    ...(map === undefined ? [] : [drawn(map, drawings)]),
    ...(records.issues.length === 0
      ? [paragraph("No problem was found in the file.")]
      : [
          folded(
            `Problems found: ${formatCount(records.issues.length)}`,
            wide(issuesTable(records.issues)),
          ),
        ]),
    ...(records.notes.length === 0
      ? []
      : [folded("Notes from reading", list(records.notes.map(({ message }) => message)))]),
    ...(records.unknownColumns.length === 0
      ? []
      : [
          paragraph(
            `Columns the codebook does not know, kept as the file's own: ${records.unknownColumns.join(", ")}.`,
          ),
        ]),
    folded("How completely each field is coded", wide(completenessTable(records.completeness))),
    `</section>`,
    `<section id="pooled"><h2>Pooled answers and their figures</h2>`,
    ...pooledTables(analysis).map(wide),
    ...sets
      .filter(({ assumptions }) => assumptions.length > 0)
      .slice(0, 1)
      .map(({ assumptions }) => wide(assumptionsTable(assumptions))),
    ...answers.map((answer) => answerSection(answer, analysis, drawings)),
    `</section>`,
    ...more.map(
      (section) =>
        `<section id="${escapeHtml(section.id)}"><h2>${escapeHtml(section.title)}</h2>\n${[
          ...section.sentences.map(paragraph),
          ...section.figures.map((figure) => drawn(figure, drawings)),
          ...section.tables.map(wide),
        ].join("\n")}</section>`,
    ),
    `<section id="methods"><h2>Methods, to copy</h2>`,
    paragraph(methods.sentences.join(" ")),
    paragraph(
      "Add how the studies were searched for and chosen, and who coded and checked them: no program can know that.",
    ),
    list(
      methods.sources.map(
        ({ citation, doi }) => `${citation}${doi === undefined ? "" : `. https://doi.org/${doi}`}`,
      ),
    ),
    `</section>`,
    `<section id="cautions"><h2>Cautions</h2>`,
    list(reportCautions),
    `</section>`,
    `<section id="rows"><h2>Every row's fate</h2>`,
    paragraph(
      "The table above counts fates; the file tables/row-fates.csv lists every row, and tables/row-uses.csv what became of it on the way to effects.",
    ),
    `</section>`,
    `<section id="cite"><h2>How to cite</h2>`,
    paragraph(citationSentence(source)),
    `</section>`,
    `</main>`,
  ];
  return [
    "<!doctype html>",
    `<html lang="en-GB">`,
    "<head>",
    `<meta charset="utf-8">`,
    `<meta name="viewport" content="width=device-width, initial-scale=1">`,
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`,
    `<meta name="generator" content="Holdbook ${holdbookVersion}">`,
    `<title>${escapeHtml(title)}</title>`,
    `<style>${reportStyle}</style>`,
    "</head>",
    "<body>",
    ...body,
    "</body>",
    "</html>",
    "",
  ].join("\n");
};
