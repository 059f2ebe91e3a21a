import type { CsvTable } from "../csv/csv-table.js";
import type { FieldName } from "../records/codebook.js";
import { columnOf } from "../records/codebook.js";
import { columnSpelling } from "../records/header-columns.js";
import { citationParts } from "./citation-parts.js";
import { bareDoi, type Reference } from "./references.js";

type ReferenceField = "study" | "citation" | "doi" | "year";

/** What a work gives to the rows of its trial, as cells. */
export type ReferenceCells = Readonly<Partial<Record<ReferenceField, string>>>;

const yearOf = ({ issued }: Reference): string => String(issued?.["date-parts"][0]?.[0] ?? "");

const familyOf = ({ author }: Reference): string => {
  const [first] = author ?? [];
  return first === undefined ? "" : "family" in first ? first.family : first.literal;
};

const namesOf = ({ author = [] }: Reference): string =>
  author
    .map((name) =>
      "family" in name
        ? `${name.family} ${(name.given.match(/\p{L}+/gu) ?? []).map((part) => part[0]).join("")}`
        : name.literal,
    )
    .join(", ");

/**
 * The cells a work gives: study as first author and year, citation with its title, DOI and year; fields it does not have
 * are left out.
 *
 *   Authors (year) Title. Journal volume(issue):pages
 *
 * @source none: an arrangement of what the list says
 */
export const referenceCells = (work: Reference): ReferenceCells => {
  const { title, volume, issue, page } = work;
  const [year, journal] = [yearOf(work), work["container-title"] ?? ""];
  const place = `${journal}${volume === undefined ? "" : ` ${volume}`}${issue === undefined ? "" : `(${issue})`}${page === undefined ? "" : `:${page}`}`;
  const named = title === undefined ? "" : /[.?!]$/.test(title) ? title : `${title}.`;
  const citation = [namesOf(work), year === "" ? "" : `(${year})`, named, place]
    .filter((part) => part.trim() !== "")
    .join(" ");
  const cells = {
    study: [familyOf(work), year].filter((part) => part !== "").join(" "),
    citation,
    doi: work.DOI ?? "",
    year,
  };
  return Object.fromEntries(Object.entries(cells).filter(([, text]) => text !== ""));
};

/** A cell that a list of references fills, by the place of its row and column; a column may be new. */
export type FilledCell = Readonly<{ row: number; column: number; text: string }>;

const plain = (text: string): string =>
  text
    .normalize("NFKD")
    .replace(/[^\p{L}\d]/gu, "")
    .toLowerCase();

/**
 * Cells of a table that a list of works fills: a blank DOI and year, and a citation that is blank or has no title. Rows
 * are known by their DOI, without one by first author and year or by the work's key. What is typed otherwise stays.
 *
 * @returns the header, with the columns that are wanting behind it, and the cells that change
 * @source none: bookkeeping
 */
export const filledFromList = (
  { header, rows }: Pick<CsvTable, "header" | "rows">,
  list: readonly Reference[],
): Readonly<{ header: readonly string[]; cells: readonly FilledCell[]; works: number }> => {
  const spelt = header.map(columnSpelling);
  const wanted = (["citation", "doi", "year"] as const satisfies readonly FieldName[]).filter(
    (name) => !spelt.includes(columnOf(name)),
  );
  const whole = [...header, ...wanted];
  const at = (name: ReferenceField): number => whole.map(columnSpelling).indexOf(columnOf(name));
  const used = new Set<Reference>();
  const cells = rows.flatMap(({ cells: own }, row): readonly FilledCell[] => {
    const cell = (name: ReferenceField): string => (own[at(name)] ?? "").trim();
    const doi = bareDoi(cell("doi"))?.toLowerCase();
    const work = list.find((one) =>
      doi === undefined
        ? cell("study") !== "" &&
          [one.id, `${familyOf(one)}${yearOf(one)}`].map(plain).includes(plain(cell("study")))
        : one.DOI?.toLowerCase() === doi,
    );
    if (work === undefined) return [];
    used.add(work);
    const given = referenceCells(work);
    const before = citationParts(cell("citation"));
    const untitled = before.title === undefined || before.journal === undefined;
    return (["citation", "doi", "year"] as const).flatMap((name) => {
      const text = given[name];
      const isFree = name === "citation" ? untitled && work.title !== undefined : cell(name) === "";
      return text === undefined || !isFree || text === cell(name)
        ? []
        : [{ row, column: at(name), text }];
    });
  });
  return { header: whole, cells, works: used.size };
};
