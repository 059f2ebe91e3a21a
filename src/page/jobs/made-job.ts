import { effectName } from "../../effects/effect-name.js";
import type { Effect, EffectScale } from "../../effects/effect.js";
import { columnOf, fieldOf, type FieldName } from "../../records/codebook.js";
import { numberFields } from "../../records/number-fields.js";
import type { OutcomeRow } from "../../records/outcome-row.js";
import type { FamilyAnswer } from "../../report/analysis.js";
import { answerSentence } from "../../report/answer-sentence.js";
import { noteLines } from "../../tables/note-lines.js";
import { scaleDisplay, shownEstimate, shownInterval } from "../../tables/scale-display.js";
import type { Table } from "../../tables/table.js";
import { averageWorking, type AverageWorking } from "../made/average-working.js";
import { effectWorking, readRowsOf, type EffectWorking } from "../made/effect-working.js";
import { analysisOf, openFile, type Job } from "./bench.js";

export type MadeWish = Readonly<{
  scale: EffectScale;
  /** Id of the answer looked at; the first where it is none of the table's. */
  answer: string;
  /** Id of the effect looked at; the first of the answer where it is none of its. */
  effect: string;
}>;

type Named = Readonly<{ id: string; name: string }>;

/** One effect: what the row prints, the way from there to the effect, and who printed it. */
export type EffectMade = Named &
  Readonly<{
    shown: string;
    route: string;
    source: string;
    place: string;
    printed: Table;
    working: EffectWorking | undefined;
    notes: readonly string[];
  }>;

export type MadeShown = Readonly<{
  answers: readonly Named[];
  answer: (Named & Readonly<{ sentence: string; working: AverageWorking | undefined }>) | undefined;
  effects: readonly Named[];
  effect: EffectMade | undefined;
}>;

/** What stands in a row of the table about numbers and people, with each column's title. */
const printedTable = (rows: readonly Readonly<{ row: OutcomeRow; of: string }>[]): Table => {
  const names = ["nStart", "nEnd", ...Object.keys(numberFields)] as readonly FieldName[];
  const cells = names.filter((name) => rows.some(({ row }) => row[name] !== undefined));
  return {
    id: "as-printed",
    title: "As the source prints it, in the table's columns",
    columns: [
      { key: "column", label: "Column", align: "left" },
      { key: "title", label: "What it is", align: "left" },
      ...rows.map(({ of, row }, place) => ({
        key: `value ${place}`,
        label: `${of}, line ${row.line}`,
        align: "right" as const,
      })),
    ],
    rows: cells.map((name) => ({
      column: columnOf(name),
      title: fieldOf(name).title,
      ...Object.fromEntries(
        rows.map(({ row }, place) => {
          const value = row[name];
          return [`value ${place}`, value === undefined ? "" : String(value)];
        }),
      ),
    })),
    notes: [],
  };
};

const normalPoint = 1.959963984540054;

const effectMade = (effect: Effect, rows: readonly OutcomeRow[]): EffectMade => {
  const { row, comparatorRow, scale, estimate, variance } = effect;
  const error = Math.sqrt(variance);
  const bounds = { low: estimate - normalPoint * error, high: estimate + normalPoint * error };
  const unit = scaleDisplay(scale).sign;
  const lines = [row.line, ...(comparatorRow === undefined ? [] : [comparatorRow.line])];
  return {
    id: effect.effectId,
    name: `${effect.study}: ${effectName(effect)}`,
    shown: `${shownEstimate(estimate, scale, error)}${unit} (${shownInterval(bounds, scale, error)})`,
    route: effect.route,
    source: `${row.citation ?? effect.study}${row.doi === undefined ? "" : `, doi ${row.doi}`}`,
    place: [
      ...(row.sourceLocation === undefined ? [] : [row.sourceLocation]),
      `line${lines.length > 1 ? "s" : ""} ${lines.join(" and ")} of the table`,
    ].join("; "),
    printed: printedTable([
      { row, of: "Trained arm" },
      ...(comparatorRow === undefined ? [] : [{ row: comparatorRow, of: "Comparator" }]),
    ]),
    working: effectWorking(effect, readRowsOf(rows)),
    notes: noteLines(effect.notes),
  };
};

const answerMade = (family: FamilyAnswer, confidence: number) => ({
  id: family.id,
  name: family.label,
  sentence: answerSentence(family, confidence),
  working: averageWorking(family.set, family.answer),
});

/** How an answer and one of its effects were made, with the numbers put in. */
export const madeJob: Job<MadeWish, MadeShown> = (bench, wish, tell) => {
  const { scale } = wish;
  const analysis = analysisOf(bench, { effects: { scale } }, tell);
  const family = analysis.answers.find(({ id }) => id === wish.answer) ?? analysis.answers[0];
  const effects = family?.set.effects ?? [];
  const effect = effects.find(({ effectId }) => effectId === wish.effect) ?? effects[0];
  tell("working the numbers out again");
  return {
    answers: analysis.answers.map(({ id, label }) => ({ id, name: label })),
    answer: family === undefined ? undefined : answerMade(family, analysis.confidence),
    effects: effects.map((one) => ({
      id: one.effectId,
      name: `${one.study}: ${effectName(one)}`,
    })),
    effect: effect === undefined ? undefined : effectMade(effect, openFile(bench).records.rows),
  };
};
