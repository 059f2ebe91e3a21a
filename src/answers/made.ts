/** How an average and one of its effects were made: the formula, and the formula with the numbers put in. */
import * as z from "zod";
import { effectName } from "../effects/effect-name.js";
import type { Effect } from "../effects/effect.js";
import { normalQuantile } from "../numeric/normal.js";
import { boundText } from "../records/cell-reading.js";
import { columnOf, fieldOf, type FieldName } from "../records/codebook.js";
import { numberFields } from "../records/number-fields.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { noteLines } from "../tables/note-lines.js";
import { scaleDisplay, shownEstimate, shownInterval } from "../tables/scale-display.js";
import { folded, plainTable, type Table } from "../tables/table.js";
import { orArmsApart } from "./arms-against-arms.js";
import { preparedFor } from "./prepared.js";
import { isMultilevel, noEffects } from "./average.js";
import { effectShape } from "./effect-options.js";
import { option, resolvedOptions, text } from "./option.js";
import { chosenGroups, pool, poolShape, type PoolOptions, type PreparedPool } from "./pool.js";
import { groupHeadline, type PreparedGroup } from "./pool-words.js";
import { question } from "./question.js";
import { averageWorking, type AverageWorking } from "./working/average-working.js";
import { effectWorking, readRowsOf, type EffectWorking } from "./working/effect-working.js";
import type { Step } from "./working/working.js";

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

/** What stands in a row of the file about numbers and people, with each column's title. */
const printedTable = (rows: readonly Readonly<{ row: OutcomeRow; of: string }>[]): Table => {
  const names = ["nStart", "nEnd", ...Object.keys(numberFields)] as readonly FieldName[];
  const valueOf = (row: OutcomeRow, name: FieldName) =>
    name === "pValue" && row.pBound !== undefined ? boundText(row.pBound) : row[name];
  const cells = names.filter((name) => rows.some(({ row }) => valueOf(row, name) !== undefined));
  return {
    id: "as-printed",
    title: "As the source prints it, in the file's columns",
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
          const value = valueOf(row, name);
          return [`value ${place}`, value === undefined ? "" : String(value)];
        }),
      ),
    })),
    notes: [],
  };
};

const effectMade = (
  effect: Effect,
  rows: readonly OutcomeRow[],
  confidence: number,
): EffectMade => {
  const { row, comparatorRow, scale, estimate, variance } = effect;
  const error = Math.sqrt(variance);
  const reach = normalQuantile((1 + confidence) / 2) * error;
  const bounds = { low: estimate - reach, high: estimate + reach };
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
      `line${lines.length > 1 ? "s" : ""} ${lines.join(" and ")} of the file`,
    ].join("; "),
    printed: printedTable([
      { row, of: "Trained arm" },
      ...(comparatorRow === undefined ? [] : [{ row: comparatorRow, of: "Comparator" }]),
    ]),
    working: effectWorking(effect, readRowsOf(rows)),
    notes: noteLines(effect.notes),
  };
};

/** Lines of a calculation as a table, for doors that draw no formulas. */
const stepsTable = (id: string, title: string, steps: readonly Step[]): Table => ({
  ...plainTable(
    id,
    ["Formula", "With the numbers put in", "Gives"],
    steps.map(({ formula, numbers, result }) => [formula, numbers, result]),
  ),
  title,
});

const workingOf = ({ group, headline }: PreparedGroup): AverageWorking | undefined => {
  const average = headline();
  return average.kind === "average" &&
    isMultilevel(average.result) &&
    group.headline.set !== undefined
    ? averageWorking(group.headline.set, average.result)
    : undefined;
};

const madeShape = {
  outcome: poolShape.outcome,
  effect: option(text().optional(), {
    help: "effect looked at, by its id; the first of the average unless told",
    value: "<id>",
  }),
  ...effectShape,
};

/** An average and one of its effects, each made again line by line. */
export const made = question({
  id: "made",
  options: madeShape,
  choices: ["outcome", "effect"],
  data: {
    answers: z.array(z.object({ id: z.string(), name: z.string() })),
    answer: z.looseObject({ id: z.string(), name: z.string(), sentence: z.string() }).optional(),
    effects: z.array(z.object({ id: z.string(), name: z.string() })),
    effect: z.looseObject({ id: z.string(), shown: z.string(), route: z.string() }).optional(),
  },
  prepare: (evidence, { outcome: _outcome, effect: _effect, ...options }, tell) => {
    const asked: PoolOptions = resolvedOptions(poolShape, options);
    return {
      evidence,
      asked,
      pooled: preparedFor<typeof poolShape, PreparedPool>(pool, evidence, asked, tell),
    };
  },
  answer: ({ evidence, asked, pooled }, { outcome, effect: wanted, confidence }) => {
    const [chosen] = chosenGroups(pooled.groups, outcome);
    const effects = chosen?.group.headline.set?.effects ?? [];
    const effect = effects.find(({ effectId }) => effectId === wanted) ?? effects[0];
    const working = chosen === undefined ? undefined : workingOf(chosen);
    const one =
      effect === undefined ? undefined : effectMade(effect, evidence.records.rows, confidence);
    const none = `No row reaches this scale and contrast, so there is no number to look into.${pooled.rows}`;
    const headline = chosen === undefined ? none : groupHeadline(chosen, asked);
    const answer = {
      headline,
      sentences:
        one === undefined
          ? []
          : [
              ...(working === undefined ? [] : [working.source]),
              `One effect in it, ${one.name}: ${one.shown}. ${one.source} (${one.place}). ${one.route}.`,
            ],
      tables: [
        ...(working === undefined
          ? []
          : [
              stepsTable("average-made", "How the average is made", working.steps),
              folded(working.weights),
            ]),
        ...(one === undefined
          ? []
          : [
              one.printed,
              ...(one.working?.arms ?? []).map(({ title, steps }, place) =>
                stepsTable(`effect-made-${place + 1}`, title, steps),
              ),
              ...(one.working === undefined || one.working.last.length === 0
                ? []
                : [stepsTable("effect-made", "The effect, from its arms", one.working.last)]),
            ]),
      ],
      notes: effect?.notes ?? [],
      refusal: chosen === undefined ? noEffects : undefined,
      data: {
        scale: pooled.set?.scale ?? null,
        contrast: pooled.set?.contrast ?? null,
        confidence,
        rowsUsed:
          effect === undefined
            ? []
            : [effect.row.line, ...(effect.comparatorRow ? [effect.comparatorRow.line] : [])],
        answers: pooled.groups.map(({ group: { id, label } }) => ({ id, name: label })),
        answer:
          chosen === undefined
            ? undefined
            : { id: chosen.group.id, name: chosen.group.label, sentence: headline, working },
        effects: effects.map((each) => ({
          id: each.effectId,
          name: `${each.study}: ${effectName(each)}`,
        })),
        effect: one,
      },
    };
    return orArmsApart(answer, pooled.apart?.(outcome));
  },
});
