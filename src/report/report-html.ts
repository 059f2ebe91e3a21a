/** A report laid out as one page. */
import { scaleOption } from "../answers/effect-options.js";
import { valueLabel } from "../answers/option.js";
import { drawnFigures } from "../figures/figure-list.js";
import type { Figure } from "../figures/figure.js";
import { cautionsToHtml } from "../tables/cautions-block.js";
import { escapeHtml } from "../tables/escape-html.js";
import { noteLines } from "../tables/note-lines.js";
import type { Table } from "../tables/table.js";
import { tableToHtml } from "../tables/table-to-html.js";
import { citationSentence } from "./citation-sentence.js";
import { methodsParagraph } from "./methods-paragraph.js";
import { reportCautions } from "./report-cautions.js";
import { answersTo, type PlacedAnswer, type Report, type ReportPart } from "./report-part.js";
import { reportStyle } from "./report-style.js";
import { holdbookVersion } from "../answers/version.js";

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
</figure>`;
};

/** Every answer is laid out the same: headline, sentences, figures, tables, doubts, cautions. */
const answerHtml = ({ id, title, answer }: PlacedAnswer, drawings: Drawings): string =>
  [
    `<section id="${escapeHtml(id)}">`,
    `<h3>${escapeHtml(title)}</h3>`,
    `<p class="headline">${escapeHtml(answer.headline)}</p>`,
    ...answer.sentences.map(paragraph),
    ...answer.figures.flatMap(drawnFigures).map((figure) => drawn(figure, drawings)),
    ...answer.tables.flatMap((table) =>
      table.place === "file"
        ? []
        : [table.place === "folded" ? folded(table.title, wide(table)) : wide(table)],
    ),
    ...(answer.notes.length === 0
      ? []
      : [folded("Doubts and notes", list(noteLines(answer.notes), "notes"))]),
    ...(answer.cautions === null ? [] : [cautionsToHtml(answer.cautions)]),
    "</section>",
  ].join("\n");

const partHtml = (part: ReportPart, drawings: Drawings): string =>
  [
    `<section id="${escapeHtml(part.id)}"><h2>${escapeHtml(part.title)}</h2>`,
    ...part.lead.map(paragraph),
    ...part.answers.map((answer) => answerHtml(answer, drawings)),
    "</section>",
  ].join("\n");

/** What was used, on which scale. */
const extent = (report: Report): string => {
  const [file] = answersTo(report, "check");
  const [set] = answersTo(report, "effects");
  return `${file === undefined ? "" : `${file.data.counts}. `}Effects on the ${set === undefined ? "chosen scale" : valueLabel(scaleOption, set.data.scale)}. Positive means improvement.`;
};

/**
 * The report as one self-contained HTML page: its parts in their order, methods to copy, cautions, how to cite.
 *
 * The page makes no request and runs no script; text from the file is escaped wherever it stands. The
 * same report and drawings give the same bytes.
 *
 * @param drawings the figures of `reportFigures`, drawn
 * @param type style sheet that holds the type it is set in
 */
export const reportHtml = (report: Report, drawings: Drawings, type = ""): string => {
  const { source, parts } = report;
  const title = `Isometric training outcomes: ${source.name}`;
  const methods = methodsParagraph(report);
  const contents = [
    ...parts.map(({ id, title: name }) => [id, name]),
    ["methods", "Methods, to copy"],
    ["cautions", "Cautions"],
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
    paragraph(extent(report)),
    `<nav aria-label="Contents"><ul>${contents.map(([id, name]) => `<li><a href="#${escapeHtml(id ?? "")}">${escapeHtml(name ?? "")}</a></li>`).join("")}</ul></nav>`,
    `</header>`,
    `<main>`,
    ...parts.map((part) => partHtml(part, drawings)),
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
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:">`,
    `<meta name="generator" content="Holdbook ${holdbookVersion}">`,
    `<title>${escapeHtml(title)}</title>`,
    ...(type === "" ? [] : [`<style>${type}</style>`]),
    `<style>${reportStyle}</style>`,
    "</head>",
    "<body>",
    ...body,
    "</body>",
    "</html>",
    "",
  ].join("\n");
};
