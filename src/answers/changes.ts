/** What is new since an older file: rows, every average, verdict, rating and statement before and now, and which study did it. */
import * as z from "zod";
import { listed } from "../protocol/listed.js";
import { counted } from "../tables/number-format.js";
import { intervalSchema } from "./answer.js";
import { decisionsOption } from "./certainty.js";
import type { ChangedRow } from "./changed-rows.js";
import { changesSince, either, standsOf, type Change } from "./changes-between.js";
import { changesFigures, changesTable, rowTables } from "./changes-shown.js";
import {
  conclusionKinds,
  conclusionsOf,
  type ConclusionKind,
  type Conclusion,
} from "./conclusions.js";
import { effectShape, gainContrastOption } from "./effect-options.js";
import { olderFile } from "./older-file.js";
import { option } from "./option.js";
import { question } from "./question.js";
import { statementsOption } from "./statements.js";

const changesShape = {
  older: option(olderFile(), {
    help: "the older file, or the results.json of an older report",
    value: "<file>",
    operand: "before",
    opensFile: true,
  }),
  ...effectShape,
  contrast: gainContrastOption,
  statements: statementsOption,
  decisions: decisionsOption,
};

const rowCounts = (rows: readonly ChangedRow[]): string => {
  const of = (kind: ChangedRow["kind"]) => rows.filter((row) => row.kind === kind).length;
  return rows.length === 0
    ? "no row was added, removed or edited"
    : `${counted(of("added"), "row")} added, ${of("removed")} removed, ${of("edited")} edited`;
};

const sidePart = z
  .looseObject({
    words: z.string(),
    stands: z.string(),
    studies: z.number(),
    number: z
      .looseObject({ estimate: z.number(), standardError: z.number(), interval: intervalSchema })
      .nullable(),
  })
  .nullable();

const fateOf = ({ before, now }: Change): string =>
  before === null ? "new" : now === null ? "gone" : before.drawn === now.drawn ? "same" : "moved";

/** Which figures would be drawn otherwise, each once: moved as soon as one thing in it moved. */
const figureFates = (changes: readonly Change[]) => {
  const fates = new Map<string, Set<string>>();
  for (const change of changes) {
    const { figure } = either(change);
    if (figure !== null) fates.set(figure, (fates.get(figure) ?? new Set()).add(fateOf(change)));
  }
  return [...fates].map(([id, own]) => ({ id, fate: own.size === 1 ? [...own][0]! : "moved" }));
};

/** Variables that are asked about for the first time, or no more, and cannot be told either way. */
const untoldSentences = (moved: readonly Change[]): readonly string[] => {
  const untold = moved.filter(
    (change) =>
      either(change).kind === "verdict" && !change.isOther && either(change).number === null,
  );
  return untold.length === 0
    ? []
    : [
        `Coded or compared otherwise than before, and still not told: ${untold.map((one) => either(one).about).join("; ")}.`,
      ];
};

const looksWords =
  "Every new look at a growing file is another look at the same question, and no interval is widened for looks: a verdict that comes with one trial may go with the next.";

/** The largest change in a sentence: another conclusion before a larger shift. */
const leading = (moved: readonly Change[]): Change | undefined => {
  const size = ({ before, now, isOther }: Change): number =>
    (isOther ? 1e6 : 0) +
    (before?.number && now?.number
      ? Math.abs(now.number.estimate - before.number.estimate) / now.number.standardError
      : 0);
  const known = moved.filter(({ before, now }) => before?.number && now?.number);
  return [...known].sort((a, b) => size(b) - size(a))[0];
};

/** What is new in a file since an older one: rows, averages, verdicts, and the studies that did it. */
export const changes = question({
  id: "changes",
  options: changesShape,
  choices: ["older"],
  data: {
    older: z.object({ name: z.string(), fingerprint: z.string() }),
    /** Null where only what a report said is left of the older file. */
    rows: z
      .array(
        z.object({
          kind: z.enum(["added", "removed", "edited"]),
          study: z.string(),
          what: z.string(),
          lineBefore: z.number().nullable(),
          lineNow: z.number().nullable(),
          cells: z.array(z.object({ column: z.string(), before: z.string(), now: z.string() })),
        }),
      )
      .nullable(),
    changes: z.array(
      z.object({
        kind: z.enum(conclusionKinds),
        id: z.string(),
        about: z.string(),
        before: sidePart,
        now: sidePart,
        isMoved: z.boolean(),
        isOther: z.boolean(),
        causes: z.array(
          z.object({
            study: z.string(),
            lines: z.array(z.number()),
            words: z.string(),
            shift: z.number().nullable(),
          }),
        ),
      }),
    ),
    figures: z.array(z.object({ id: z.string(), fate: z.string() })),
    /** Studies whose changed rows were not asked alone, as there are too many. */
    notAlone: z.array(z.string()),
  },
  prepare: (evidence, options, tell) => ({
    evidence,
    now: conclusionsOf(evidence, options, tell),
  }),
  answer: (prepared, options, tell) => {
    const told = changesSince(options.older, prepared, options, tell);
    const { older, rows, byProgram } = told;
    const moved = told.changes.filter(({ isMoved }) => isMoved);
    const of = (kind: ConclusionKind, some: readonly Change[]) =>
      some.filter((one) => either(one).kind === kind);
    const counts = conclusionKinds.flatMap((kind) => {
      const all = of(kind, told.changes).length;
      return all === 0 ? [] : [`${of(kind, moved).length} of ${counted(all, kind)}`];
    });
    const first = leading(moved);
    const others = moved.filter(({ isOther }) => isOther);
    const withNumber = moved.filter((one) => one.isOther || either(one).number !== null);
    const figures = older.evidence === undefined ? [] : figureFates(told.changes);
    const side = (one: Conclusion | null) =>
      one === null
        ? null
        : { words: one.words, stands: one.stands, studies: one.studies, number: one.number };
    return {
      headline: `Since ${older.name} (fingerprint ${older.fingerprint.slice(0, 8)}): ${rows === undefined ? "its rows are not known" : rowCounts(rows)}; moved: ${counts.length === 0 ? "nothing" : listed(counts)}.`,
      sentences: [
        ...(first === undefined
          ? []
          : [
              `${either(first).about}: ${first.before!.words} before, ${first.now!.words} now${first.causes[0] === undefined ? "" : `; ${first.causes[0].study} moves it most`}.`,
            ]),
        others.length === 0
          ? "No conclusion changed: every average lies on the same side of no change, and every verdict and rating is the same."
          : `Conclusions that changed: ${others.map((one) => `${either(one).about} (${standsOf(one.before, either(one))} → ${standsOf(one.now, either(one))})`).join("; ")}.`,
        ...untoldSentences(moved),
        ...(byProgram.length === 0
          ? []
          : [
              `${counted(byProgram.length, "number")} of the older report would be other ones from the same rows today, as the program changed (then Holdbook ${older.reported!.holdbook}): ${byProgram.map((one) => either(one).about).join("; ")}.`,
            ]),
        ...(told.notAlone.length === 0
          ? []
          : [
              `The rows of ${counted(told.notAlone.length, "study", "studies")} were not asked alone, as ${counted(told.changes.length, "conclusion")} asked again for each would take long; those with most changed rows were. Left: ${told.notAlone.join(", ")}.`,
            ]),
        ...(told.isSameQuestion
          ? []
          : [
              older.evidence === undefined
                ? "The older report was asked with other options, so its numbers are of something else."
                : "The older report was asked with other options; its rows are asked again with these.",
            ]),
        ...(figures.length === 0
          ? []
          : [
              `Figures: ${["moved", "new", "gone", "same"].map((fate) => `${figures.filter((one) => one.fate === fate).length} ${fate}`).join(", ")}.`,
            ]),
        looksWords,
      ],
      tables: [
        ...changesTable("changed-averages", "Averages that moved", of("average", moved), told),
        ...changesTable("changed-verdicts", "Verdicts that moved", of("verdict", withNumber), told),
        ...changesTable("changed-ratings", "Ratings that moved", of("rating", moved), told),
        ...changesTable(
          "changed-statements",
          "Statements that moved",
          of("statement", moved),
          told,
        ),
        ...rowTables(rows ?? []),
        ...(figures.length === 0
          ? []
          : [
              {
                id: "changed-figures",
                title: "Figures that moved",
                place: "file" as const,
                columns: [
                  { key: "id", label: "Figure", align: "left" as const },
                  { key: "fate", label: "Is", align: "left" as const },
                ],
                rows: figures,
                notes: [],
              },
            ]),
      ],
      figures: changesFigures(told.changes, options.confidence),
      data: {
        scale: options.scale,
        contrast: options.contrast,
        confidence: options.confidence,
        older: { name: older.name, fingerprint: older.fingerprint },
        rows: rows ?? null,
        changes: told.changes.map((change) => {
          const { kind, id, about } = either(change);
          const { before, now, ...rest } = change;
          return { kind, id, about, before: side(before), now: side(now), ...rest };
        }),
        figures,
        notAlone: [...told.notAlone],
      },
    };
  },
});
