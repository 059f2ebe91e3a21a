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

/** Those that come first for the person, and all the others, each once. */
export const cautionsInOrder = ({
  profile,
  entries,
}: Pick<ShownCautions, "profile" | "entries">): Readonly<{
  first: readonly CautionEntry[];
  others: readonly CautionEntry[];
}> => {
  const { first = [], more = [] } = profile ?? {};
  const said = new Set([...first, ...more].map(({ id }) => id));
  return { first, others: [...more, ...entries.filter(({ id }) => !said.has(id))] };
};

/** What a profile tells before its cautions: loud ones first. */
const aboutPerson = ({ profile }: ShownCautions): readonly string[] =>
  profile === undefined
    ? []
    : [profile.outsideAges, profile.otherJoint, profile.said].filter((one) => one !== undefined);

/** The source in brackets; the digital identifier beside it where there is one. */
export const cautionOrigin = ({ source, sourceKind, doi }: CautionEntry): string =>
  sourceKind === "common practice"
    ? source
    : `${sourceKind}: ${source}${doi === undefined ? "" : `, doi ${doi}`}`;

/** What the stop signs say: in full, the list of signs and then what to do. */
const stopText = ({ form, text, signs }: CautionsBlock["stopSigns"]): string =>
  form === "short" ? text : `Signs: ${signs.join("; ")}. ${text}`;

/** The two that stand first wherever a protocol is named, and are heard by their titles alone. */
const whomToAsk = ["ask-a-clinician", "local-rules"];

const all = (block: ShownCautions): readonly CautionEntry[] => {
  const { first, others } = cautionsInOrder(block);
  return [{ ...block.stopSigns, text: stopText(block.stopSigns) }, ...first, ...others];
};

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
  const line = (entry: CautionEntry): readonly string[] =>
    marked(`${entry.title}. ${entry.text}${reason(entry)} [${cautionOrigin(entry)}]`);
  if (options.only === "triggered" && block.profile !== undefined) {
    const { first, others } = cautionsInOrder(block);
    const [loud = "", ...told] = aboutPerson(block);
    return [
      ...marked(
        block.profile.outsideAges === undefined
          ? loud
          : loud.replace(/^[^:]*/, (words) => words.toUpperCase()),
      ),
      ...told.flatMap(marked),
      ...marked(`${block.stopSigns.title}. ${stopText(block.stopSigns)}`),
      ...first.flatMap(line),
      ...marked(
        `--cautions says ${counted(others.length, "more caution", "more cautions")}, each with its source.`,
      ),
      "",
    ].join("\n");
  }
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
  const lines = [...aboutPerson(block).flatMap(marked), ...all(block).flatMap(line)];
  return `${[...wrapToWidth(block.title, width), "", ...lines].join("\n")}\n`;
};

/** Cautions as Markdown: a heading and a list, every text escaped. */
export const cautionsToMarkdown = (block: ShownCautions): string => {
  const items = all(block).map(
    (entry) =>
      `- **${escapeMarkdown(entry.title)}.** ${escapeMarkdown(`${entry.text}${reason(entry)}`)} *${escapeMarkdown(`(${cautionOrigin(entry)})`)}*`,
  );
  const person = aboutPerson(block).map((text) => `${escapeMarkdown(text)}\n\n`);
  return `**${escapeMarkdown(block.title)}**\n\n${person.join("")}${items.join("\n")}\n`;
};

const htmlEntry = (entry: CautionEntry, text: string): string =>
  [
    `<li data-caution="${escapeHtml(entry.id)}" data-form="${entry.form}">`,
    `<strong>${escapeHtml(entry.title)}.</strong> ${text}`,
    entry.because === undefined ? "" : ` <em>Here: ${escapeHtml(entry.because)}.</em>`,
    ` <span class="source">${escapeHtml(cautionOrigin(entry))}</span>`,
    `</li>`,
  ].join("");

/**
 * Cautions as an HTML section: the stop signs first, then a list, each with its source; those of a profile before the
 * others, which unfold. Carries no style and no script; classes are `cautions`, `person`, `stop-signs` and `source`.
 *
 * @param options.headingLevel 2 unless told otherwise
 * @param options.onPaper      nothing is folded
 */
export const cautionsToHtml = (
  block: ShownCautions,
  options: Readonly<{ headingLevel?: 2 | 3 | 4; onPaper?: boolean }> = {},
): string => {
  const level = options.headingLevel ?? 2;
  const { stopSigns } = block;
  const signs =
    stopSigns.form === "short"
      ? escapeHtml(stopSigns.text)
      : `<ul>${stopSigns.signs.map((sign) => `<li>${escapeHtml(sign)}</li>`).join("")}</ul>${escapeHtml(stopSigns.text)}`;
  const { first, others } = cautionsInOrder(block);
  const list = (entries: readonly CautionEntry[]): readonly string[] =>
    entries.length === 0
      ? []
      : [`<ul>`, ...entries.map((entry) => htmlEntry(entry, escapeHtml(entry.text))), `</ul>`];
  const isFolded = first.length > 0 && options.onPaper !== true;
  return [
    `<section class="cautions" aria-label="${escapeHtml(block.title)}">`,
    `<h${level}>${escapeHtml(block.title)}</h${level}>`,
    ...aboutPerson(block).map(
      (text) =>
        `<p class="person">${text === block.profile?.outsideAges ? `<strong>${escapeHtml(text)}</strong>` : escapeHtml(text)}</p>`,
    ),
    `<ul class="stop-signs">${htmlEntry(stopSigns, signs)}</ul>`,
    ...list(first),
    ...(isFolded
      ? [`<details><summary>${counted(others.length, "more caution", "more cautions")}</summary>`]
      : []),
    ...list(others),
    ...(isFolded ? [`</details>`] : []),
    `</section>`,
    "",
  ].join("\n");
};
