/** A form for what a person decides of certainty: what can be chosen of each domain, and a file of decisions with one of them changed. */
import { certainties, ratingRules } from "../certainty/rating.js";
import { readTable } from "../csv/read-table.js";
import { writeTable } from "../csv/write-table.js";
import type { Contrast } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import { counted } from "../tables/number-format.js";
import type { AnswerTo } from "./question.js";
import type { certainty } from "./certainty.js";
import {
  decidedDomains,
  decisionColumns,
  isAbout,
  mostLevels,
  readDecisions,
  type DecidedDomain,
} from "./certainty-decisions.js";
import { levelWords } from "./certainty-told.js";
import { plainWord } from "./option.js";

type Told = Extract<
  AnswerTo<typeof certainty>["data"]["groups"][number],
  Readonly<{ kind: "told" }>
>;

/** What a row of the file says, as it is typed; without a reason it waits. */
export type TypedDecision = Readonly<{ levels: string; reason: string; by: string }>;

/** Which row: of one finding, one domain. */
export type DecisionPlace = Readonly<{
  group: Pick<Told, "id" | "group">;
  contrast: Contrast;
  domain: DecidedDomain;
}>;

/** One domain of the form. */
export type DomainAsked = Readonly<{
  domain: DecidedDomain;
  /** What the rules propose, with the numbers that triggered it. */
  proposal: string;
  /** Levels as proposed; empty where nothing is. */
  proposed: string;
  choices: readonly Readonly<{ levels: string; words: string }>[];
  /** What stands: as it is typed, else as proposed. */
  typed: TypedDecision;
  /** Why the row decides nothing yet; undefined where it does, or where nothing is to be decided. */
  waits?: string;
}>;

const sheetOf = (text: string) => {
  const table = text === "" ? undefined : readTable(text);
  const before = table?.header ?? [];
  const names = before.map(plainWord);
  const header = [...before, ...decisionColumns.filter((column) => !names.includes(column))];
  const rows = (table?.rows ?? []).map(({ cells }) => header.map((_, at) => cells[at] ?? ""));
  return { header, rows, at: new Map(header.map((name, place) => [plainWord(name), place])) };
};
type Sheet = ReturnType<typeof sheetOf>;

const cellOf = ({ at }: Sheet, row: readonly string[], column: string): string =>
  row[at.get(column)!]!;

/** The row that decides a place: the first about it, as the file is read. */
const rowAt = (sheet: Sheet, { group: { id, group }, contrast, domain }: DecisionPlace): number =>
  sheet.rows.findIndex(
    (row) =>
      plainWord(cellOf(sheet, row, "domain")) === plainWord(domain) &&
      isAbout(
        [id, group],
        contrast,
      )({
        outcome: cellOf(sheet, row, "outcome"),
        contrast: cellOf(sheet, row, "contrast"),
      }),
  );

/**
 * A file of decisions with one of them changed; every other row and column stays as it is.
 *
 * A row that stands for every contrast is kept, and the decision for this one goes before it.
 *
 * @param text  the file; empty where there is none yet
 * @param typed undefined takes the row out
 * @source none: a change of cells
 */
export const withDecision = (
  text: string,
  place: DecisionPlace,
  typed: TypedDecision | undefined,
): string => {
  const sheet = sheetOf(text);
  const found = rowAt(sheet, place);
  const old = sheet.rows[found];
  const { group, contrast, domain } = place;
  const own = { outcome: group.id, contrast: contrastShortLabel(contrast), domain };
  const isForAll = old !== undefined && cellOf(sheet, old, "contrast").trim() === "";
  const cells: Readonly<Record<string, string>> = {
    ...(old === undefined || isForAll ? own : {}),
    ...typed,
  };
  const written = sheet.header.map(
    (name, at) => cells[plainWord(name)] ?? (isForAll ? "" : (old?.[at] ?? "")),
  );
  const rows = [...sheet.rows];
  if (typed === undefined) {
    if (found >= 0) rows.splice(found, 1);
  } else if (found < 0) rows.push(written);
  else rows.splice(found, isForAll ? 0 : 1, written);
  return rows.length === 0 ? "" : writeTable(sheet.header, rows);
};

const proposedOf = (
  told: Told,
  domain: DecidedDomain,
): Readonly<{ levels: string; words: string }> => {
  if (domain === "starting level")
    return { levels: told.starts, words: `${told.starts} (${told.allocation})` };
  if (domain === "raised") return { levels: "0", words: "not raised; never by itself" };
  const concern = told.concerns.find((one) => one.domain === domain);
  if (concern?.lowered === null || concern === undefined)
    return { levels: "", words: ratingRules["is-it-asked"][1] };
  const why = concern.numbers === "" ? ratingRules[concern.rule][1] : concern.numbers;
  return { levels: String(concern.lowered), words: `${levelWords(concern.lowered)}, ${why}` };
};

const raisedWords = (count: number): string =>
  count === 0 ? "not raised" : levelWords(count).replace("lowered", "raised");

const choicesOf = (domain: DecidedDomain, proposed: string): DomainAsked["choices"] => {
  const words: readonly (readonly [string, string])[] =
    domain === "starting level"
      ? [...certainties].reverse().map((word) => [word, word])
      : Array.from({ length: mostLevels + 1 }, (_, count) => [
          String(count),
          domain === "raised" ? raisedWords(count) : levelWords(count),
        ]);
  return [
    ...(proposed === "" ? [{ levels: "", words: "not judged" }] : []),
    ...words.map(([levels, said]) => ({
      levels,
      words: levels === proposed ? `${said}, as proposed` : said,
    })),
  ];
};

/** What can be decided of one finding: every domain with its proposal, its choices and what the file says of it. */
export const domainsAsked = (
  told: Told,
  contrast: Contrast,
  text: string,
): readonly DomainAsked[] => {
  const sheet = sheetOf(text);
  return decidedDomains.map((domain) => {
    const { levels: proposed, words } = proposedOf(told, domain);
    const row = sheet.rows[rowAt(sheet, { group: told, contrast, domain })];
    const of = (column: string): string => (row === undefined ? "" : cellOf(sheet, row, column));
    const levels = of("levels").trim().toLowerCase() || proposed;
    const typed = { levels, reason: of("reason"), by: of("by") };
    const hasReason = typed.reason.trim() !== "";
    const waits =
      hasReason && levels === ""
        ? "Choose by how many levels: until then nothing is decided."
        : !hasReason && levels !== proposed
          ? "Waits for a reason: until then the proposal stands."
          : undefined;
    return {
      ...{ domain, proposal: words, proposed, choices: choicesOf(domain, proposed), typed },
      ...(waits === undefined ? {} : { waits }),
    };
  });
};

/** What a person typed of a domain; undefined where it says no more than the proposal. */
export const typedOrNothing = (
  { proposed }: Pick<DomainAsked, "proposed">,
  typed: TypedDecision,
): TypedDecision | undefined =>
  typed.reason === "" && typed.levels === proposed ? undefined : typed;

/** How many rows of a file decide something, and how many wait. */
export const decisionCounts = (text: string): string => {
  const { rows } = sheetOf(text);
  const decided = text === "" ? 0 : readDecisions(text).decisions.length;
  const waiting = rows.length - decided;
  return `${counted(decided, "decision")}${waiting === 0 ? "" : `, ${waiting} waiting`}`;
};
