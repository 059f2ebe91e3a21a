/** A person, or a group or a name that cannot be taken apart. */
export type CitationName =
  Readonly<{ family: string; given: string }> | Readonly<{ literal: string }>;

/** What could be read in a citation as somebody wrote it; absent parts were not there. */
export type CitationParts = Readonly<{
  authors: readonly CitationName[];
  year?: number;
  title?: string;
  journal?: string;
  volume?: string;
  issue?: string;
  pages?: string;
}>;

/** Initials as they stand behind a name: LM, L.M., L. M., J-P. */
const initials = /^(?:\p{Lu}\.?[-\s]?){1,5}$/u;

const spaced = (letters: string): string =>
  [...letters.matchAll(/(-?)\s*(\p{Lu})/gu)]
    .map(([, hyphen, letter], index) => `${hyphen === "-" ? "-" : index > 0 ? " " : ""}${letter}.`)
    .join("");

const nameOf = (text: string): CitationName => {
  const words = text.split(" ");
  const last = words.at(-1) ?? "";
  return words.length > 1 && initials.test(last)
    ? { family: words.slice(0, -1).join(" "), given: spaced(last) }
    : { literal: text };
};

/** Names with their initials behind them, with or without a comma between; `others` stands for the rest. */
const namesOf = (text: string): readonly CitationName[] => {
  const pieces = text
    .replace(/\bet al\.?/giu, ", others")
    .replace(/\band others\b/giu, ", others")
    .split(/\s*[,;&]\s*|\s+and\s+/u)
    .map((piece) => piece.trim().replace(/(?<!\p{Lu})\.$/u, ""))
    .filter((piece) => piece !== "");
  const names: CitationName[] = [];
  for (const piece of pieces) {
    const before = names.at(-1);
    if (initials.test(piece) && before !== undefined && "literal" in before)
      names[names.length - 1] = { family: before.literal, given: spaced(piece) };
    else names.push(nameOf(piece));
  }
  return names;
};

const given = <Name extends string>(
  name: Name,
  value: string | undefined,
): Partial<Record<Name, string>> => {
  const text = value?.trim().replace(/[.,;:]+$/u, "") ?? "";
  return text === "" ? {} : ({ [name]: text } as Partial<Record<Name, string>>);
};

const pageRange = (pages: string | undefined): string | undefined =>
  pages?.replace(/\s*[-–—]+\s*/u, "-");

/** `Title. Journal 114(11):2437-2446`, `Title. Journal, 114(11), 2437–2446`, or as much of it as there is. */
const placed =
  /^(?:(?<title>.+?[.?!])\s+)?(?<journal>[^.?!].*?),?\s+(?<volume>\d+\w*)\s*(?:\((?<issue>[^)]+)\))?(?:\s*[:,]\s*(?<pages>[\p{L}\d]+(?:\s*[-–—]\s*[\p{L}\d]+)?))?\.?$/u;
const titledJournal = /^(?<title>.+[.?!])\s+(?<journal>[^.?!]+)\.?$/u;
/** Authors. Title. Journal. 2014;114(11):2437-46 */
const yearBehind =
  /^(?<authors>[^.]+?)\.\s+(?<title>.+?[.?!])\s+(?<journal>[^.?!]+)\.\s+(?<year>\d{4})[^;]*;\s*(?<volume>\d+\w*)(?:\((?<issue>[^)]+)\))?(?::(?<pages>[\p{L}\d]+(?:[-–—][\p{L}\d]+)?))?\.?$/u;
/** Authors (2014) what follows */
const yearInBrackets = /^(?<authors>[^()]+?),?\s*\((?<year>\d{4})[a-z]?\)[.,:]?\s*(?<rest>.*)$/u;

const sourceOf = (rest: string): Omit<CitationParts, "authors" | "year"> => {
  if (rest === "") return {};
  const groups = placed.exec(rest)?.groups ?? titledJournal.exec(rest)?.groups;
  return groups === undefined
    ? given("journal", rest)
    : {
        ...given("title", groups["title"]),
        ...given("journal", groups["journal"]),
        ...given("volume", groups["volume"]),
        ...given("issue", groups["issue"]),
        ...given("pages", pageRange(groups["pages"])),
      };
};

/** Longer texts are notes and not citations; they stay whole. */
const longestCitation = 2000;

const plain = (citation: string): string =>
  citation
    .replace(/[\p{Cc}\p{Cf}\p{Zs}]+/gu, " ")
    .replace(/\s*(?:https?:\/\/(?:dx\.)?doi\.org\/|doi:\s*)\S+\s*$/iu, "")
    .trim();

/**
 * The parts of a citation as somebody wrote it: names, year, title, journal, volume, issue, pages.
 *
 * Understood are the two common orders, with the year in brackets behind the authors and with the year
 * before the volume. What is in neither is kept whole as a title, so nothing is lost and nothing made up.
 *
 * @param citation free text
 * @source none: a reading of text
 */
export const citationParts = (citation: string): CitationParts => {
  const text = plain(citation);
  if (text === "") return { authors: [] };
  if (text.length > longestCitation) return { authors: [], title: text };
  const bracketed = yearInBrackets.exec(text)?.groups;
  if (bracketed !== undefined)
    return {
      authors: namesOf(bracketed["authors"] ?? ""),
      year: Number(bracketed["year"]),
      ...sourceOf(bracketed["rest"] ?? ""),
    };
  const behind = yearBehind.exec(text)?.groups;
  if (behind !== undefined)
    return {
      authors: namesOf(behind["authors"] ?? ""),
      year: Number(behind["year"]),
      ...given("title", behind["title"]),
      ...given("journal", behind["journal"]),
      ...given("volume", behind["volume"]),
      ...given("issue", behind["issue"]),
      ...given("pages", pageRange(behind["pages"])),
    };
  return { authors: [], title: text };
};
