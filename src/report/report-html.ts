/** A report laid out as one page. */
import { scaleOption } from "../answers/effect-options.js";
import { valueLabel } from "../answers/option.js";
import { drawnFigures } from "../figures/figure-list.js";
import type { Figure } from "../figures/figure.js";
import { cautionsToHtml } from "../tables/cautions-block.js";
import { escapeHtml } from "../tables/escape-html.js";
import { counted } from "../tables/number-format.js";
import { noteLines } from "../tables/note-lines.js";
import type { Table } from "../tables/table.js";
import { tableToHtml } from "../tables/table-to-html.js";
import { briefHtml } from "./brief-html.js";
import { citationSentence } from "./citation-sentence.js";
import { methodsParagraph } from "./methods-paragraph.js";
import { reportCautions } from "./report-cautions.js";
import { answersTo, type PlacedAnswer, type Report, type ReportPart } from "./report-part.js";
import { reportingTable } from "./reporting-items.js";
import { reportStyle } from "./report-style.js";
import { holdbookVersion } from "../answers/version.js";

/** A figure drawn as SVG, by the figure's id. */
export type Drawings = ReadonlyMap<string, string>;

/** How a page is set. */
export type ReportForm = Readonly<{ type?: string; full?: boolean }>;

const paragraph = (text: string, kind = ""): string =>
  `<p${kind === "" ? "" : ` class="${kind}"`}>${escapeHtml(text)}</p>`;

const list = (items: readonly string[], kind = ""): string =>
  items.length === 0
    ? ""
    : `<ul${kind === "" ? "" : ` class="${kind}"`}>${items.map((item) => `<li>${escapeHtml(item)}</li>`).join("")}</ul>`;

const folded = (title: string, content: string): string =>
  `<details><summary>${escapeHtml(title)}</summary>\n${content}</details>`;

const wide = (table: Table): string =>
  `<div class="scroll" tabindex="0" role="region" aria-label="${escapeHtml(table.title)}">${tableToHtml(table)}</div>`;

const drawn = (figure: Figure, drawings: Drawings, anchor = ""): string => {
  const svg = drawings.get(figure.id);
  if (svg === undefined) return "";
  return `<figure${anchor === "" ? "" : ` id="${escapeHtml(anchor)}"`}>
<div class="drawing" role="img" aria-label="${escapeHtml(figure.description)}">${svg}</div>
</figure>`;
};

/** Tables at first sight in the page; folded ones beside it, named in one line, unless the page is to hold all. */
const tablesHtml = (tables: readonly Table[], full: boolean): readonly string[] => {
  const beside = full ? [] : tables.filter(({ place }) => place === "folded");
  return [
    ...tables.flatMap((table) =>
      table.place === undefined
        ? [wide(table)]
        : table.place === "folded" && full
          ? [folded(table.title, wide(table))]
          : [],
    ),
    ...(beside.length === 0
      ? []
      : [
          paragraph(
            `More in tables/: ${beside.map(({ id, rows }) => `${id}.csv (${counted(rows.length, "row")})`).join(", ")}.`,
            "quiet",
          ),
        ]),
  ];
};

/** Every answer is laid out the same: headline, sentences, figures, tables, doubts, cautions. */
const answerHtml = (
  { id, title, answer }: PlacedAnswer,
  { drawings, full, isNew }: Laid,
): string => {
  const lines = noteLines(answer.notes);
  const notes = lines.filter(isNew);
  const above = lines.length - notes.length;
  return [
    `<section id="${escapeHtml(id)}">`,
    `<h3>${escapeHtml(title)}</h3>`,
    `<p class="headline">${escapeHtml(answer.headline)}</p>`,
    ...answer.sentences.map((sentence) => paragraph(sentence)),
    ...answer.figures
      .flatMap(drawnFigures)
      .map((figure) => drawn(figure, drawings, `figure-${figure.id}`)),
    ...tablesHtml(answer.tables, full),
    ...(notes.length === 0
      ? []
      : [
          folded(
            `Doubts and notes${above === 0 ? "" : `, besides ${above} said above`}`,
            list(notes, "notes"),
          ),
        ]),
    ...(answer.cautions === null ? [] : [cautionsToHtml(answer.cautions)]),
    "</section>",
  ].join("\n");
};

/** What the parts of one page share: drawings, what it holds, and which notes it has not said yet. */
type Laid = Readonly<{ drawings: Drawings; full: boolean; isNew: (line: string) => boolean }>;

const partHtml = (part: ReportPart, laid: Laid): string =>
  [
    `<section id="${escapeHtml(part.id)}"><h2>${escapeHtml(part.title)}</h2>`,
    ...part.lead.map((sentence) => paragraph(sentence)),
    ...part.answers.map((answer) => answerHtml(answer, laid)),
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
 * @param form `type` is a style sheet that holds the type the page is set in; `full`: long tables stand in the page,
 *   folded, and not only beside it. A note stands once in a page
 */
export const reportHtml = (
  report: Report,
  drawings: Drawings,
  { type = "", full = false }: ReportForm = {},
): string => {
  const { source } = report;
  const parts = report.parts.filter(({ id }) => id !== "brief-told");
  const title = `Isometric training outcomes: ${source.name}`;
  const methods = methodsParagraph(report);
  const inFront = parts.filter(({ appendix }) => appendix !== true);
  const behind = parts.filter(({ appendix }) => appendix === true);
  const said = new Set<string>();
  const isNew = (line: string): boolean => !said.has(line) && said.add(line).size > 0;
  const told = (part: ReportPart): string => partHtml(part, { drawings, full, isNew });
  const contents = [
    ["brief", "Brief"],
    ...inFront.map(({ id, title: name }) => [id, name]),
    ["methods", "Methods, to copy"],
    ["checklist", "For your manuscript"],
    ...behind.map(({ id, title: name }) => [id, name]),
    ["cautions", "Cautions"],
    ["cite", "How to cite"],
  ];
  const body = [
    `<header class="top">`,
    ...inventedLine(source),
    `<h1>${escapeHtml(title)}</h1>`,
    paragraph(extent(report)),
    `<nav aria-label="Contents"><ul>${contents.map(([id, name]) => `<li><a href="#${escapeHtml(id ?? "")}">${escapeHtml(name ?? "")}</a></li>`).join("")}</ul></nav>`,
    `</header>`,
    `<main>`,
    briefHtml(report, (figure) => drawn(figure, drawings)),
    ...inFront.map(told),
    `<section id="methods"><h2>Methods, to copy</h2>`,
    paragraph(methods.sentences.join(" ")),
    list(
      methods.sources.map(
        ({ citation, doi }) => `${citation}${doi === undefined ? "" : `. https://doi.org/${doi}`}`,
      ),
    ),
    `</section>`,
    `<section id="checklist"><h2>For your manuscript</h2>`,
    wide(reportingTable(report)),
    `</section>`,
    ...(behind.length === 0 ? [] : [`<h2 class="appendix">Appendix</h2>`]),
    ...behind.map(told),
    `<section id="cautions"><h2>Cautions</h2>`,
    list(reportCautions),
    `</section>`,
    `<section id="cite"><h2>How to cite</h2>`,
    paragraph(citationSentence(source)),
    `</section>`,
    `</main>`,
  ];
  return whole(title, body, type);
};

/**
 * The brief alone as a page of its own, which prints on one sheet.
 *
 * @param drawings as for `reportHtml`
 */
export const briefPageHtml = (
  report: Report,
  drawings: Drawings,
  { type = "" }: Pick<ReportForm, "type"> = {},
): string =>
  whole(
    `Brief: ${report.source.name}`,
    [
      "<main>",
      ...inventedLine(report.source),
      briefHtml(report, (figure) => drawn(figure, drawings)),
      "</main>",
    ],
    type,
  );

const inventedLine = ({ invented }: Report["source"]): readonly string[] =>
  invented
    ? [
        `<p class="invented">Invented data. Every trial in this file was made up to show what the program does; nothing here is evidence.</p>`,
      ]
    : [];

const whole = (title: string, body: readonly string[], type: string): string =>
  [
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
