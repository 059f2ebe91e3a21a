import type { NoteCode, Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { citationParts, type CitationName } from "./citation-parts.js";

/** One work of the reading list, in the fields of the open citation format CSL-JSON. */
export type Reference = Readonly<{
  /** Letters and digits only, unique in the list; serves as the key in a text that cites it. */
  id: string;
  type: "article-journal" | "document";
  author?: readonly CitationName[];
  issued?: Readonly<{ "date-parts": readonly (readonly [number])[] }>;
  title?: string;
  "container-title"?: string;
  volume?: string;
  issue?: string;
  page?: string;
  DOI?: string;
}>;

/** The works a file names, in the order of their ids, and what is wanting in them. */
export type ReadingList = Readonly<{
  references: readonly Reference[];
  /** The studies each work stands for, in the order of `references`. */
  studies: readonly (readonly string[])[];
  notes: readonly Note[];
}>;

type Source = Readonly<{ study: string; citation?: string; doi?: string; year?: number }>;

export const bareDoi = (doi: string | undefined): string | undefined => {
  const bare = doi?.trim().replace(/^(?:https?:\/\/(?:dx\.)?doi\.org\/|doi:\s*)/iu, "");
  return bare === undefined || bare === "" ? undefined : bare;
};

const isDoi = (text: string): boolean => /^10\.\d{4,9}\/[^\s\p{C}<>"{}\\^`|]+$/u.test(text);

/** A key without marks and spaces, as a text that cites needs it. */
const plainKey = (study: string): string =>
  study
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replace(/[^A-Za-z0-9]/gu, "");

/** What is known of a work; what is left out or undefined is not known. */
export type WorkParts = Readonly<{
  id: string;
  /** Whether it is an article of a journal. */
  article: boolean;
  author?: readonly CitationName[] | undefined;
  year?: number | undefined;
  title?: string | undefined;
  journal?: string | undefined;
  volume?: string | undefined;
  issue?: string | undefined;
  page?: string | undefined;
  doi?: string | undefined;
}>;

/** A work in the fields of CSL-JSON, with those that are known. */
export const referenceTo = (parts: WorkParts): Reference => {
  const { id, article, author, year, title, journal, volume, issue, page, doi } = parts;
  return {
    id,
    type: article ? "article-journal" : "document",
    ...(author === undefined ? {} : { author }),
    ...(year === undefined ? {} : { issued: { "date-parts": [[year]] } }),
    ...(title === undefined ? {} : { title }),
    ...(journal === undefined ? {} : { "container-title": journal }),
    ...(volume === undefined ? {} : { volume }),
    ...(issue === undefined ? {} : { issue }),
    ...(page === undefined ? {} : { page }),
    ...(doi === undefined ? {} : { DOI: doi }),
  };
};

const referenceOf = (id: string, { citation, doi, year }: Source): Reference => {
  const { authors, pages, ...parts } = citationParts(citation ?? "");
  const bare = bareDoi(doi);
  return referenceTo({
    ...parts,
    id,
    article: parts.journal !== undefined || bare !== undefined,
    author: authors.length === 0 ? undefined : authors,
    year: parts.year ?? year,
    page: pages,
    doi: bare !== undefined && isDoi(bare) ? bare : undefined,
  });
};

const filledFrom = (work: Reference, list: readonly Reference[]): Reference => {
  const same = list.find(({ DOI, id }) =>
    work.DOI === undefined ? id === work.id : DOI?.toLowerCase() === work.DOI.toLowerCase(),
  );
  // A citation that could not be taken apart stands whole as a title, and gives way to a real one.
  const { title, ...rest } = work;
  const unread = title !== undefined && work["container-title"] === undefined;
  return same === undefined
    ? work
    : { ...same, ...(unread && same.title !== undefined ? rest : work), type: same.type };
};

const uniqueKey = (study: string, taken: ReadonlySet<string>): string => {
  const plain = plainKey(study);
  const base = plain === "" || /^\d/.test(plain) ? `study${plain}` : plain;
  if (!taken.has(base)) return base;
  for (let count = 2; ; count += 1) {
    const key = `${base}-${count}`;
    if (!taken.has(key)) return key;
  }
};

const listed = (studies: readonly string[]): string => studies.join(", ");

const noteOn = (
  code: NoteCode,
  studies: readonly string[],
  message: (names: string) => string,
): readonly Note[] => (studies.length === 0 ? [] : [{ code, message: message(listed(studies)) }]);

/**
 * The reading list of a file: every work its rows name, once.
 *
 * Rows are of one work when they have the same DOI, or without a DOI the same citation and year. A citation
 * is taken apart where its form is known and kept whole where it is not; nothing is looked up and nothing
 * is made up, so a list is as complete as the file.
 *
 * @param rows from `readRecords`
 * @param list works whose fields fill what the file lacks, matched by DOI, without one by the key
 * @returns works with the studies they stand for, and notes on what is wanting
 * @source none: an arrangement of what the file says
 */
export const readingList = (
  rows: readonly OutcomeRow[],
  list: readonly Reference[] = [],
): ReadingList => {
  const works = new Map<string, { source: Source; studies: string[]; citations: Set<string> }>();
  const bare: string[] = [];
  for (const { study, citation, doi, year } of rows) {
    if (citation === undefined && doi === undefined) {
      if (!bare.includes(study)) bare.push(study);
      continue;
    }
    const key = bareDoi(doi)?.toLowerCase() ?? `${citation ?? ""}\n${year ?? ""}`;
    const work = works.get(key);
    if (work === undefined) {
      const source = {
        study,
        ...(citation === undefined ? {} : { citation }),
        ...(doi === undefined ? {} : { doi }),
        ...(year === undefined ? {} : { year }),
      };
      works.set(key, { source, studies: [study], citations: new Set([citation ?? ""]) });
      continue;
    }
    if (!work.studies.includes(study)) work.studies.push(study);
    if (citation !== undefined) work.citations.add(citation);
    if (work.source.citation === undefined && citation !== undefined)
      work.source = { ...work.source, citation };
  }
  const taken = new Set<string>();
  const entries = [...works.values()].map((work) => {
    const id = uniqueKey(work.source.study, taken);
    taken.add(id);
    return { ...work, reference: filledFrom(referenceOf(id, work.source), list) };
  });
  entries.sort((first, second) => (first.reference.id < second.reference.id ? -1 : 1));
  const withoutCitation = bare.filter(
    (study) => !entries.some(({ studies }) => studies.includes(study)),
  );
  const wanting = (test: (entry: (typeof entries)[number]) => boolean): readonly string[] =>
    entries.filter(test).map(({ source }) => source.study);
  return {
    references: entries.map(({ reference }) => reference),
    studies: entries.map(({ studies }) => studies),
    notes: [
      ...noteOn(
        "no-citation",
        withoutCitation,
        (names) => `no citation and no DOI, so not in the list: ${names}`,
      ),
      ...noteOn(
        "citation-not-read",
        wanting(
          ({ source, reference }) =>
            source.citation !== undefined && reference["container-title"] === undefined,
        ),
        (names) => `the citation is in no known order and stands whole as a title: ${names}`,
      ),
      ...noteOn(
        "no-title",
        wanting(({ reference }) => reference.title === undefined),
        (names) => `the file has no title of the work: ${names}`,
      ),
      ...noteOn(
        "not-a-doi",
        wanting(({ source, reference }) => {
          const doi = bareDoi(source.doi);
          return doi !== undefined && reference.DOI === undefined;
        }),
        (names) => `the DOI is not one (10.…/…) and was left out: ${names}`,
      ),
      ...noteOn(
        "citations-disagree",
        wanting(({ citations }) => [...citations].filter((text) => text !== "").length > 1),
        (names) => `one DOI with several citations; the first is shown: ${names}`,
      ),
    ],
  };
};
