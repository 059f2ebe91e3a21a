/** What changed between an older file and a newer one: every conclusion before and now, and the studies that did it. */
import type { VariableRow } from "../dose/variable-table.js";
import { changedRows, studiesThatChanged, type ChangedRow } from "./changed-rows.js";
import {
  averageConclusion,
  conclusionsOf,
  ratingConclusion,
  statementConclusion,
  verdictConclusion,
  type Conclusion,
  type ConclusionChoices,
  type ToldRating,
  type ToldStatement,
} from "./conclusions.js";
import { CallError } from "../errors.js";
import { grouped } from "../records/grouped.js";
import { columnSpelling } from "../records/header-columns.js";
import { effectShape } from "./effect-options.js";
import { openEvidence, type Evidence } from "./evidence.js";
import type { OlderFile, ReportResults } from "./older-file.js";
import type { Tell } from "./question.js";
import { openFiles } from "./several-files.js";

/** Studies whose changed rows are asked alone, those with most changed rows first: each asks everything that moved again. */
const mostAlone = 60;

/** What is known of an older file. */
type Older = Evidence["source"] &
  Readonly<{
    /** Absent where only what a report said is left of it. */
    evidence?: Evidence;
    reported?: Readonly<{
      holdbook: string;
      options: Readonly<Record<string, unknown>>;
      conclusions: readonly Conclusion[];
    }>;
  }>;

const reportedConclusions = ({ answers }: ReportResults): readonly Conclusion[] => {
  const found = answers.flatMap(({ question: { id, options }, ...data }) => {
    // What was asked of one outcome alone is not all that the file shows.
    if (options["outcome"] !== undefined || options["by"] !== undefined) return [];
    const told = data as unknown as Parameters<typeof verdictConclusion>[0] &
      Readonly<{
        groups: readonly (Parameters<typeof averageConclusion>[1] & ToldRating)[];
        rows: readonly VariableRow[];
        statements: readonly ToldStatement[];
      }>;
    return id === "pool" && told.contrast !== null
      ? told.groups.map((group) => averageConclusion(told.contrast, group))
      : id === "variables"
        ? told.rows.map((row) => verdictConclusion(told, row))
        : id === "certainty"
          ? told.groups.flatMap((group) => ratingConclusion(told.contrast, group))
          : id === "statements"
            ? told.statements.map(statementConclusion)
            : [];
  });
  return [...new Map(found.map((one) => [one.id, one])).values()];
};

const opened = new WeakMap<OlderFile, Older>();

/** An older file as it is asked; opened once. */
export const olderOf = (given: OlderFile): Older => {
  const known = opened.get(given);
  if (known !== undefined) return known;
  const made = ((): Older => {
    if ("records" in given) return { ...given.source, evidence: given };
    const { source, table, holdbook, answers } = given;
    const averages = answers.find(({ question: { id } }) => id === "pool");
    return {
      ...source,
      reported: {
        holdbook,
        options: averages?.question.options ?? {},
        conclusions: reportedConclusions(given),
      },
      ...(table === undefined
        ? {}
        : {
            evidence: openEvidence({
              ...source,
              table: { ...table, delimiter: ",", encoding: "utf-8", issues: [], notes: [] },
            }),
          }),
    };
  })();
  opened.set(given, made);
  return made;
};

/** What one study's changed rows alone make of an older conclusion. */
export type Cause = Readonly<{
  study: string;
  lines: readonly number[];
  words: string;
  shift: number | null;
}>;

/** A conclusion before and now; null where there is none. */
export type Change = Readonly<{
  before: Conclusion | null;
  now: Conclusion | null;
  isMoved: boolean;
  isOther: boolean;
  /** Studies whose changed rows move it, those that move it most first; none where rows cannot be compared. */
  causes: readonly Cause[];
}>;

export const either = ({ before, now }: Pick<Change, "before" | "now">): Conclusion =>
  (now ?? before)!;
const none = {
  average: { words: "no average", stands: "no average" },
  verdict: { words: "not studied", stands: "cannot be told" },
  rating: { words: "no average to rate", stands: "not rated" },
  statement: { words: "not asked", stands: "not asked" },
} as const satisfies Record<Conclusion["kind"], Pick<Conclusion, "words" | "stands">>;
export const wordsOf = (one: Conclusion | null, { kind }: Conclusion): string =>
  (one ?? none[kind]).words;
export const standsOf = (one: Conclusion | null, { kind }: Conclusion): string =>
  (one ?? none[kind]).stands;

const sideBySide = (
  before: readonly Conclusion[],
  now: readonly Conclusion[],
): readonly Change[] => {
  const [olds, news] = [before, now].map((all) => new Map(all.map((one) => [one.id, one])));
  return [...new Set([...news!.keys(), ...olds!.keys()])].map((id) => {
    const pair = { before: olds!.get(id) ?? null, now: news!.get(id) ?? null };
    const one = either(pair);
    return {
      ...pair,
      isMoved: wordsOf(pair.before, one) !== wordsOf(pair.now, one),
      isOther: standsOf(pair.before, one) !== standsOf(pair.now, one),
      causes: [],
    };
  });
};

/** The older file with the rows of one study as they are now. */
const withStudy = (older: Evidence, now: Evidence, study: string): Evidence | undefined => {
  const part = ({ source, table }: Evidence, keep: boolean) => {
    const { header, issues: _issues, notes: _notes, ...rest } = table;
    const named = header.findIndex((name) => columnSpelling(name) === "study");
    const rows = table.rows.filter(({ cells }) => (cells[named]?.trim() === study) === keep);
    return { ...source, table: { ...rest, header, rows, issues: [], notes: [] } };
  };
  const parts = [part(older, false), part(now, true)].filter(({ table }) => table.rows.length > 0);
  return parts.length === 0 ? undefined : openFiles(parts, `${older.source.fingerprint} ${study}`);
};

/** Re-asks everything that moved with the changed rows of one study at a time. */
const withCauses = (
  changes: readonly Change[],
  older: Evidence,
  now: Evidence,
  rows: readonly ChangedRow[],
  options: ConclusionChoices,
  tell: Tell,
): Readonly<{ changes: readonly Change[]; notAlone: readonly string[] }> => {
  const moved = new Map(
    changes.filter(({ isMoved }) => isMoved).map((change) => [either(change).id, change]),
  );
  const wanted = new Map([...moved].map(([id, change]) => [id, either(change).kind]));
  const causes = new Map<string, Cause[]>();
  const byStudy = grouped(rows, ({ study }) => study);
  const rowsOf = (study: string): readonly ChangedRow[] => byStudy.get(study) ?? [];
  const all = moved.size === 0 ? [] : studiesThatChanged(rows);
  const studies = [...all].sort((a, b) => rowsOf(b).length - rowsOf(a).length).slice(0, mostAlone);
  for (const [place, study] of studies.entries()) {
    tell(`asking again with ${study} alone (${place + 1} of ${studies.length})`);
    const file = withStudy(older, now, study);
    if (file === undefined) continue;
    const own = rowsOf(study);
    const lines = own.flatMap(({ lineNow }) => lineNow ?? []);
    const told = new Map(conclusionsOf(file, options, tell, wanted).map((one) => [one.id, one]));
    for (const [id, { before, now: one }] of moved) {
      const alone = told.get(id) ?? null;
      const about = (one ?? before)!;
      if (wordsOf(alone, about) === wordsOf(before, about)) continue;
      const shift =
        alone?.number && before?.number ? alone.number.estimate - before.number.estimate : null;
      causes.set(id, [
        ...(causes.get(id) ?? []),
        { study, lines, words: wordsOf(alone, about), shift },
      ]);
    }
  }
  // What is there at last, or gone, weighs more than any shift.
  const size = ({ shift }: Cause): number => (shift === null ? Infinity : Math.abs(shift));
  return {
    changes: changes.map((change) => ({
      ...change,
      causes: (causes.get(either(change).id) ?? []).sort((a, b) => size(b) - size(a)),
    })),
    notAlone: all.filter((study) => !studies.includes(study)),
  };
};

/**
 * Rows, conclusions and causes between an older file and a newer one.
 *
 * Where the older one is a report, its numbers are those that it printed; where it keeps its rows, they are asked again,
 * and a number that comes out otherwise today is the program's doing and no row's.
 *
 * @param now conclusions of the newer file
 * @throws {CallError} "invented-and-real" where only one of them holds invented rows
 * @source none: every conclusion asked again, with the changed rows of one study at a time
 */
export const changesSince = (
  given: OlderFile,
  { evidence, now }: Readonly<{ evidence: Evidence; now: readonly Conclusion[] }>,
  options: ConclusionChoices,
  tell: Tell,
) => {
  const older = olderOf(given);
  if (older.invented !== evidence.source.invented)
    throw new CallError({
      code: "invented-and-real",
      where: "setting a file beside an older one",
      needs: "files that are both real, or both invented",
      got: `invented rows in ${older.invented ? older.name : evidence.source.name} alone`,
    });
  const own: Readonly<Record<string, unknown>> = options;
  const asked = older.reported?.options;
  const isSameQuestion =
    asked !== undefined &&
    Object.keys(effectShape).every(
      (name) => name === "contrast" || JSON.stringify(asked[name]) === JSON.stringify(own[name]),
    );
  tell(`asking ${older.name}`);
  const reAsked = older.evidence && conclusionsOf(older.evidence, options, tell);
  const reported =
    isSameQuestion || reAsked === undefined ? older.reported?.conclusions : undefined;
  const rows = older.evidence && changedRows(older.evidence.table, evidence.table);
  // What a report does not print is asked of its rows, and without them not told.
  const printed = new Set(reported?.map(({ kind }) => kind));
  const isPrinted = ({ kind }: Conclusion): boolean => printed.has(kind);
  const before = [...(reported ?? []), ...(reAsked ?? []).filter((one) => !isPrinted(one))];
  const changes = sideBySide(before, reAsked === undefined ? now.filter(isPrinted) : now);
  return {
    older,
    rows,
    isSameQuestion: asked === undefined || isSameQuestion,
    /** Conclusions that the same rows give otherwise today: the program changed. */
    byProgram:
      reported === undefined || reAsked === undefined
        ? []
        : sideBySide(reported, reAsked.filter(isPrinted)).filter(({ isMoved }) => isMoved),
    ...(older.evidence === undefined || rows === undefined
      ? { changes, notAlone: [] }
      : withCauses(changes, older.evidence, evidence, rows, options, tell)),
  };
};
export type Changes = ReturnType<typeof changesSince>;
