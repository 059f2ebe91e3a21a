/** What the documents of a course share: their frame as HTML, and the style they print in. */
import { holdbookVersion } from "../answers/version.js";
import { inventedWords } from "../figures/frame.js";
import type { NamedText } from "../figures/lines-figure.js";
import { escapeHtml } from "../tables/escape-html.js";

export const paragraph = (text: string, kind = ""): string =>
  `<p${kind === "" ? "" : ` class="${kind}"`}>${escapeHtml(text)}</p>`;

export const row = (name: string, text: string): string =>
  `<div class="row"><b>${escapeHtml(name)}</b><span>${escapeHtml(text)}</span></div>`;

/** A text of at most so many letters, cut between words. */
export const short = (text: string, most: number): string =>
  text.length <= most ? text : `${text.slice(0, text.lastIndexOf(" ", most - 1))} …`;

/** Rows as far as so many lines of paper hold them, and where the rest of them stands. */
export const fitting = (
  rows: readonly NamedText[],
  lines: number,
  where: string,
): readonly string[] => {
  let left = lines;
  const fit = rows.filter(({ name, text }) => {
    left -= Math.max(Math.ceil(name.length / 15), Math.ceil(text.length / 68)) + 0.5;
    return left >= 0;
  });
  const more = rows.length - fit.length;
  return [
    ...fit.map(({ name, text }) => row(name, text)),
    ...(more === 0 ? [] : [paragraph(`${more} more ${where}.`, "quiet")]),
  ];
};

const style = `
:root { --ink: #1b2530; --quiet: #566270; --line: #d3dae1; --paper: #fbf8f1; --blue: #173f75; }
* { box-sizing: border-box; }
body { margin: 0; background: #e9e4d8; color: var(--ink); font: 10.5pt/1.42 Inter, "Helvetica Neue", Arial, sans-serif; overflow-wrap: break-word; }
.sheet { width: 210mm; min-height: 297mm; margin: 6mm auto; padding: 14mm 16mm; background: #fff; break-after: page; position: relative; }
.sheet:last-of-type { break-after: auto; }
h1, h2 { font-family: "Source Serif 4", Georgia, serif; line-height: 1.2; margin: 0 0 3mm; font-weight: 600; }
h1 { font-size: 20pt; } h2 { font-size: 14pt; border-top: 1px solid var(--ink); padding-top: 3mm; margin-top: 5mm; }
h3 { font-size: 9.5pt; color: var(--blue); margin: 4mm 0 0.5mm; }
p { margin: 0 0 1.6mm; }
.kicker, .quiet, .foot { color: var(--quiet); font-size: 9pt; }
.foot { position: absolute; left: 16mm; right: 16mm; bottom: 7mm; display: flex; justify-content: space-between; }
.invented { border: 1.5pt solid #7a3a00; color: #7a3a00; font-weight: 600; padding: 1mm 3mm; font-size: 9pt; }
.say { font-size: 12.5pt; font-weight: 600; }
.picture svg { width: 100%; height: auto; display: block; border: 1px solid var(--line); }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 5mm; }
.row { display: grid; grid-template-columns: 34mm 1fr; gap: 4mm; border-top: 1px solid var(--line); padding: 1.2mm 0; }
.row b { font-weight: 600; }
.tight { font-size: 9.2pt; line-height: 1.34; }
ol { padding-left: 7mm; } li { margin-bottom: 2.4mm; break-inside: avoid; }
.blank { border-bottom: 1px solid var(--ink); height: 6mm; }
@page { size: A4; margin: 0; }
@media print { body { background: #fff; } .sheet { margin: 0; height: 297mm; min-height: 0; overflow: hidden; } .flows { height: auto; min-height: 297mm; overflow: visible; } }
`;

export type Paper = Readonly<{ title: string; source: string; invented: boolean }>;

/** One page of a document, with its foot. */
export const sheet = (
  { source, invented }: Paper,
  body: readonly string[],
  place: string,
  kind = "",
): string =>
  [
    `<section class="sheet${kind === "" ? "" : ` ${kind}`}">`,
    ...(invented ? [`<p class="invented">${inventedWords}</p>`] : []),
    ...body,
    `<div class="foot"><span>${escapeHtml(source)}</span><span>${escapeHtml(place)}</span></div>`,
    "</section>",
  ].join("\n");

/** A whole document; it makes no request, and runs no script but the one named. */
export const documentHtml = (
  title: string,
  body: readonly string[],
  {
    type = "",
    css = style,
    script,
  }: Readonly<{
    type?: string;
    css?: string;
    script?: Readonly<{ text: string; hash: string }>;
  }> = {},
): string =>
  [
    "<!doctype html>",
    `<html lang="en-GB">`,
    "<head>",
    `<meta charset="utf-8">`,
    `<meta name="viewport" content="width=device-width, initial-scale=1">`,
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:${script === undefined ? "" : `; script-src 'sha256-${script.hash}'`}">`,
    `<meta name="generator" content="Holdbook ${holdbookVersion}">`,
    `<title>${escapeHtml(title)}</title>`,
    ...(type === "" ? [] : [`<style>${type}</style>`]),
    `<style>${css}</style>`,
    "</head>",
    "<body>",
    ...body,
    ...(script === undefined ? [] : [`<script>${script.text}</script>`]),
    "</body>",
    "</html>",
    "",
  ].join("\n");
