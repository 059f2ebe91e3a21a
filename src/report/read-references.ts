import { parse, type Item, type Value } from "bibtex-parse";
import * as z from "zod";
import { readJson } from "../answers/read-json.js";
import { DataError } from "../errors.js";
import type { CitationName } from "./citation-parts.js";
import { bareDoi, referenceTo, type Reference } from "./references.js";

const unreadable = (form: "BibTeX" | "CSL-JSON", reason: string): DataError =>
  new DataError([
    {
      code: "references-unreadable",
      severity: "error",
      line: 0,
      column: "",
      value: "",
      message: `the list of references cannot be read as ${form}: ${reason}`,
      mend: "mend that place, or export the list again",
    },
  ]);

const marks: Readonly<Record<string, string>> = {
  "`": "\u0300",
  "'": "\u0301",
  "^": "\u0302",
  "~": "\u0303",
  "=": "\u0304",
  u: "\u0306",
  ".": "\u0307",
  '"': "\u0308",
  r: "\u030a",
  H: "\u030b",
  v: "\u030c",
  d: "\u0323",
  c: "\u0327",
  k: "\u0328",
};

const letters: Readonly<Record<string, string>> = {
  ss: "ß",
  ae: "æ",
  AE: "Æ",
  oe: "œ",
  OE: "Œ",
  aa: "å",
  AA: "Å",
  o: "ø",
  O: "Ø",
  l: "ł",
  L: "Ł",
  i: "i",
  j: "j",
  textbackslash: "\\",
  textasciitilde: "~",
  textasciicircum: "^",
};

const commands =
  /\\(?<mark>[`'^~=."])\s*\{?\\?(?<marked>[A-Za-z])\}?|\\(?<under>[urHvdck])\s*\{\\?(?<letter>[A-Za-z])\}|\\(?<name>[A-Za-z]+)(?:\{\}|\s+|(?![A-Za-z]))|\\(?<sign>[&%$#_{}])|(?<tie>~)|[{}]/gu;

/** Letters as they are read: commands for marks become the letters they make, braces that only group are dropped. */
const plainLetters = (text: string): string =>
  text
    .replace(commands, (all: string, ...matched: unknown[]) => {
      const { mark, marked, under, letter, name, sign, tie } = matched.at(-1) as Readonly<
        Record<string, string | undefined>
      >;
      if (name !== undefined) return letters[name] ?? all;
      if (sign !== undefined) return sign;
      if (tie !== undefined) return " ";
      return `${marked ?? letter ?? ""}${marks[mark ?? under ?? ""] ?? ""}`.normalize("NFC");
    })
    .replace(/\s+/gu, " ")
    .trim();

const nameOf = (text: string): CitationName => {
  if (text.startsWith("{") && text.endsWith("}")) return { literal: plainLetters(text) };
  const [family = "", given = ""] = text.includes(",")
    ? text.split(/\s*,\s*/u).map(plainLetters)
    : [plainLetters(text).split(" ").at(-1), plainLetters(text).split(" ").slice(0, -1).join(" ")];
  return family === "others" || given === "" ? { literal: family } : { family, given };
};

/** Pieces between the word `and`, but for one that stands inside braces. */
const namesOf = (text: string): readonly CitationName[] => {
  const pieces: string[] = [];
  let depth = 0;
  let piece = "";
  for (const word of text.split(/\s+/u)) {
    if (word === "and" && depth === 0) {
      pieces.push(piece);
      piece = "";
      continue;
    }
    piece = piece === "" ? word : `${piece} ${word}`;
    depth += (word.match(/(?<!\\)\{/gu)?.length ?? 0) - (word.match(/(?<!\\)\}/gu)?.length ?? 0);
  }
  return [...pieces, piece].filter((each) => each !== "").map(nameOf);
};

const evaluated = ({ value }: Value, names: ReadonlyMap<string, string>): string =>
  Array.isArray(value)
    ? (value as readonly Value[]).map((part) => evaluated(part, names)).join("")
    : (names.get(String(value)) ?? String(value ?? ""));

const fromBibtex = (text: string): readonly Reference[] => {
  let items: readonly Item[];
  try {
    items = parse(text);
  } catch (error) {
    throw unreadable(
      "BibTeX",
      (error instanceof Error ? error.message : String(error)).slice(0, 200),
    );
  }
  const names = new Map<string, string>();
  return items.flatMap((item): readonly Reference[] => {
    if (item.itemtype === "string") names.set(item.name, evaluated(item, names));
    if (item.itemtype !== "entry") return [];
    const raw = new Map(
      item.fields.map((field) => [field.name.toLowerCase(), evaluated(field, names)]),
    );
    const plain = (name: string): string | undefined => {
      const found = raw.get(name);
      return found === undefined || found.trim() === "" ? undefined : plainLetters(found);
    };
    const year = Number(/\d{4}/u.exec(plain("year") ?? plain("date") ?? "")?.[0]);
    const author = raw.get("author");
    return [
      referenceTo({
        id: item.key,
        article: item.type.toLowerCase() === "article",
        author: author === undefined ? undefined : namesOf(author),
        year: Number.isNaN(year) ? undefined : year,
        title: plain("title"),
        journal: plain("journal") ?? plain("journaltitle"),
        volume: plain("volume"),
        issue: plain("number") ?? plain("issue"),
        page: plain("pages")?.replace(/-+/gu, "-"),
        doi: bareDoi(plain("doi")),
      }),
    ];
  });
};

const text = z.union([z.string(), z.number()]).transform(String).optional();

/** The fields used of CSL-JSON; whatever else an entry holds is left where it is. */
const cslItem = z.object({
  id: z.union([z.string(), z.number()]).transform(String),
  type: z.string().default("document"),
  author: z
    .array(
      z.union([
        z.object({ family: z.string(), given: z.string() }),
        z.object({ literal: z.string() }),
        z.object({ family: z.string() }).transform(({ family }) => ({ literal: family })),
      ]),
    )
    .optional(),
  issued: z
    .object({ "date-parts": z.array(z.array(z.coerce.number()).min(1)).min(1) })
    .optional()
    .catch(undefined),
  title: text,
  "container-title": text,
  volume: text,
  issue: text,
  page: text,
  DOI: text,
});

const fromCsl = (json: string): readonly Reference[] => {
  const parsed = readJson(json, (found) => unreadable("CSL-JSON", found));
  return (Array.isArray(parsed) ? parsed : [parsed]).map((each, index): Reference => {
    const read = cslItem.safeParse(each);
    if (!read.success) {
      const [first] = read.error.issues;
      const place = first === undefined ? "" : `${first.path.join(".")}: ${first.message}`;
      throw unreadable("CSL-JSON", `entry ${index + 1}, ${place}`);
    }
    const { type, issued, DOI, "container-title": journal, ...same } = read.data;
    return referenceTo({
      ...same,
      article: type === "article-journal",
      year: issued?.["date-parts"][0]?.[0],
      journal,
      doi: bareDoi(DOI),
    });
  });
};

/**
 * The works of a list of references, read from BibTeX or from CSL-JSON, whichever the text is.
 *
 * BibTeX is parsed by a kept library; commands for marked letters become the letters, names given by
 * `@string` are put in, and commands that are not known stay as they stand.
 *
 * @param list the text of the file
 * @throws {DataError} where the text is neither, naming the entry and the place
 * @source none: a reading of two open formats
 */
export const readReferences = (list: string): readonly Reference[] =>
  /^\s*[[{]/u.test(list) ? fromCsl(list) : fromBibtex(list);
