import type { Reference } from "./references.js";
import type { CitationName } from "./citation-parts.js";

/** Forms in which a reading list is written. */
export const referenceFormats = ["text", "bibtex", "csl-json"] as const;
export type ReferenceFormat = (typeof referenceFormats)[number];

/** The order of the printed list, in words. */
export const referenceStyle = "authors (year), title, journal, volume(issue), pages, DOI";

const furtherAuthors = (name: CitationName): boolean =>
  "literal" in name && name.literal === "others";

const yearOf = ({ issued }: Reference): number | undefined => issued?.["date-parts"][0]?.[0];

const dashed = (pages: string): string => pages.replace(/-+/gu, "–");

const stopped = (text: string): string => (/[.?!]$/u.test(text) ? text : `${text}.`);

const namesLine = (authors: readonly CitationName[]): string => {
  const named = authors.filter((name) => !furtherAuthors(name));
  const names = named.map((name) =>
    "literal" in name ? name.literal : `${name.family}, ${name.given}`,
  );
  if (named.length < authors.length) return `${names.join(", ")}, and others`;
  return names.length < 2
    ? names.join("")
    : `${names.slice(0, -1).join(", ")}, & ${names.at(-1) ?? ""}`;
};

/** One work as a line of a printed list; what the file lacks is left out, not made up. */
const line = (work: Reference): string => {
  const { author = [], title, volume, issue, page, DOI } = work;
  const year = yearOf(work);
  const journal = work["container-title"];
  const place = [
    journal,
    volume === undefined ? undefined : `${volume}${issue === undefined ? "" : `(${issue})`}`,
    page === undefined ? undefined : dashed(page),
  ].filter((part) => part !== undefined);
  return [
    ...(author.length === 0 ? [] : [stopped(namesLine(author))]),
    `(${year ?? "no year"}).`,
    ...(title === undefined ? [] : [stopped(title)]),
    ...(place.length === 0 ? [] : [stopped(place.join(", "))]),
    ...(DOI === undefined ? [] : [`https://doi.org/${DOI}`]),
  ].join(" ");
};

const signs: Readonly<Record<string, string>> = {
  "\\": "\\textbackslash{}",
  "~": "\\textasciitilde{}",
  "^": "\\textasciicircum{}",
};

/** Text that a typesetter prints as it stands: no sign of it is a command. Letters with marks stay letters. */
const typeset = (text: string): string =>
  text.replace(/[\\{}&%$#_~^]/gu, (sign) => signs[sign] ?? `\\${sign}`);

const bibtexName = (name: CitationName): string =>
  furtherAuthors(name)
    ? "others"
    : "literal" in name
      ? `{${typeset(name.literal)}}`
      : `${typeset(name.family)}, ${typeset(name.given)}`;

const bibtexEntry = (work: Reference): string => {
  const { author, title, volume, issue, page, DOI } = work;
  const year = yearOf(work);
  // Braces inside braces keep the capitals of a title as the file has them.
  const fields: readonly (readonly [string, string | undefined])[] = [
    ["author", author?.map(bibtexName).join(" and ")],
    ["title", title === undefined ? undefined : `{${typeset(title)}}`],
    ["journal", work["container-title"] && typeset(work["container-title"])],
    ["year", year === undefined ? undefined : String(year)],
    ["volume", volume && typeset(volume)],
    ["number", issue && typeset(issue)],
    ["pages", page && typeset(page.replace(/-+/gu, "--"))],
    ["doi", DOI],
  ];
  const kept = fields.filter(([, value]) => value !== undefined);
  const kind = work.type === "article-journal" ? "article" : "misc";
  return `@${kind}{${work.id},\n${kept.map(([name, value]) => `  ${name} = {${value ?? ""}},`).join("\n")}\n}\n`;
};

/**
 * A reading list in one of the forms: a printed list in the order of authors, BibTeX in Unicode, or CSL-JSON.
 *
 * @param references from `readingList`
 * @param format     see `referenceFormats`
 * @source none: the two file forms are open formats, the printed list the usual order of authors and year
 */
export const referencesText = (
  references: readonly Reference[],
  format: ReferenceFormat,
): string => {
  if (format === "csl-json") return `${JSON.stringify(references, null, 2)}\n`;
  if (references.length === 0) return "";
  if (format === "bibtex") return references.map(bibtexEntry).join("\n");
  const sorted = references
    .map(line)
    .sort((first, second) => (first.toLowerCase() < second.toLowerCase() ? -1 : 1));
  return `${sorted.join("\n\n")}\n`;
};
