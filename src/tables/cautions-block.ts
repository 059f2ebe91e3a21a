/** A block of cautions as text, Markdown and HTML; nothing here can leave an entry out. */
import type { CautionEntry, CautionsBlock } from "../projection/cautions.js";
import { wrapToWidth } from "./display-width.js";
import { escapeHtml } from "./escape-html.js";
import { counted } from "./number-format.js";
import { escapeMarkdown } from "./table-to-markdown.js";

/** Cautions without the state that serves one document only. */
type ShownCautions = Omit<CautionsBlock, "shown">;

const reason = ({ because }: CautionEntry): string =>
  because === undefined ? "" : ` Here: ${because}.`;

/** The source in brackets; the digital identifier beside it where there is one. */
const origin = ({ source, sourceKind, doi }: CautionEntry): string =>
  sourceKind === "common practice"
    ? source
    : `${sourceKind}: ${source}${doi === undefined ? "" : `, doi ${doi}`}`;

/** What the stop signs say: in full, the list of signs and then what to do. */
const stopText = ({ form, text, signs }: CautionsBlock["stopSigns"]): string =>
  form === "short" ? text : `Signs: ${signs.join("; ")}. ${text}`;

/** The two that stand first wherever a protocol is named, and are heard by their titles alone. */
const whomToAsk = ["ask-a-clinician", "local-rules"];

const all = (block: ShownCautions): readonly CautionEntry[] => [
  { ...block.stopSigns, text: stopText(block.stopSigns) },
  ...block.entries,
];

/** Whom to ask, what this protocol gives reason for, and how many more there are. */
const triggeredOf = ({ entries }: ShownCautions) => {
  const isFirst = ({ id }: CautionEntry): boolean => whomToAsk.includes(id);
  const others = entries.filter((entry) => !isFirst(entry));
  const triggered = others.filter(({ because }) => because !== undefined);
  return { before: entries.filter(isFirst), triggered, left: others.length - triggered.length };
};

/** Cautions in a line for a picture: the titles of the stop signs, of whom to ask, and of what this protocol gives reason for. */
export const cautionTitles = (block: ShownCautions): string => {
  const { before, triggered } = triggeredOf(block);
  return [block.stopSigns, ...before, ...triggered].map(({ title }) => `${title}.`).join(" ");
};

/**
 * Cautions as monospaced text: the stop signs first, then each caution with its source.
 *
 * @param options.width cells of the line, at least 20
 * @param options.only  "triggered" leaves, of the cautions with no reason in this protocol, their number
 */
export const cautionsToText = (
  block: ShownCautions,
  options: Readonly<{ width?: number; only?: "triggered" }> = {},
): string => {
  const width = Math.max(20, options.width ?? 100);
  const marked = (text: string): readonly string[] => {
    const [first = "", ...rest] = wrapToWidth(text, width - 2);
    return [`! ${first}`, ...rest.map((line) => `  ${line}`)];
  };
  if (options.only === "triggered") {
    const { before, triggered, left } = triggeredOf(block);
    const rest = counted(left, "more caution", "more cautions");
    return [
      ...marked(`${block.stopSigns.title}. ${stopText(block.stopSigns)}`),
      ...(before.length === 0 ? [] : marked(before.map(({ title }) => `${title}.`).join(" "))),
      ...triggered.flatMap((entry) => marked(`${entry.title}: ${entry.because ?? ""}.`)),
      ...marked(`--cautions says each in full with its source, and ${rest}.`),
      "",
    ].join("\n");
  }
  const lines = all(block).flatMap((entry) =>
    marked(`${entry.title}. ${entry.text}${reason(entry)} [${origin(entry)}]`),
  );
  return `${[...wrapToWidth(block.title, width), "", ...lines].join("\n")}\n`;
};

/** Cautions as Markdown: a heading and a list, every text escaped. */
export const cautionsToMarkdown = (block: ShownCautions): string => {
  const items = all(block).map(
    (entry) =>
      `- **${escapeMarkdown(entry.title)}.** ${escapeMarkdown(`${entry.text}${reason(entry)}`)} *${escapeMarkdown(`(${origin(entry)})`)}*`,
  );
  return `**${escapeMarkdown(block.title)}**\n\n${items.join("\n")}\n`;
};

const htmlEntry = (entry: CautionEntry, text: string): string =>
  [
    `<li data-caution="${escapeHtml(entry.id)}" data-form="${entry.form}">`,
    `<strong>${escapeHtml(entry.title)}.</strong> ${text}`,
    entry.because === undefined ? "" : ` <em>Here: ${escapeHtml(entry.because)}.</em>`,
    ` <span class="source">${escapeHtml(origin(entry))}</span>`,
    `</li>`,
  ].join("");

/**
 * Cautions as an HTML section: the stop signs first, then a list, each with its source. Carries no
 * style and no script; classes are `cautions`, `stop-signs` and `source`.
 *
 * @param options level of the heading, 2 unless told otherwise
 */
export const cautionsToHtml = (
  block: ShownCautions,
  options: Readonly<{ headingLevel?: 2 | 3 | 4 }> = {},
): string => {
  const level = options.headingLevel ?? 2;
  const { stopSigns } = block;
  const signs =
    stopSigns.form === "short"
      ? escapeHtml(stopSigns.text)
      : `<ul>${stopSigns.signs.map((sign) => `<li>${escapeHtml(sign)}</li>`).join("")}</ul>${escapeHtml(stopSigns.text)}`;
  return [
    `<section class="cautions" aria-label="${escapeHtml(block.title)}">`,
    `<h${level}>${escapeHtml(block.title)}</h${level}>`,
    `<ul class="stop-signs">${htmlEntry(stopSigns, signs)}</ul>`,
    `<ul>`,
    ...block.entries.map((entry) => htmlEntry(entry, escapeHtml(entry.text))),
    `</ul>`,
    `</section>`,
    "",
  ].join("\n");
};
