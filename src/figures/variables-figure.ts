/** Which variables of a protocol matter, for one kind of outcome: the change over what was compared, and a verdict. */
import type { DoseAxisName } from "../dose/dose-axes.js";
import type { VariableRow, VariableTable } from "../dose/variable-table.js";
import type { VerdictName } from "../dose/verdict.js";
import { CallError } from "../errors.js";
import { doseSpan, kebabName } from "../tables/dose-table.js";
import { capital, confidenceWords, counted } from "../tables/number-format.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { shownAmount, verdictShort, verdictsInShort } from "../tables/variables-table.js";
import type { Figure } from "./figure.js";
import type { Room } from "./frame.js";
import { roomOf } from "./frame.js";
import { drawnChart, rowChart, slideRows, type ChartRow } from "./row-chart.js";
import { oneLine } from "./wrap-text.js";

export type VariablesFigureInput = Readonly<{ id?: string; family: string; table: VariableTable }>;

const groups = [
  "Intensity",
  "Hold and volume",
  "Rest and frequency",
  "Position and intent",
] as const;
type Group = (typeof groups)[number];
const groupOf: Partial<Record<DoseAxisName, Group>> = {
  intensityPercent: "Intensity",
  restBetweenRepetitionsSeconds: "Rest and frequency",
  restBetweenSetsSeconds: "Rest and frequency",
  sessionsPerWeek: "Rest and frequency",
  weeks: "Rest and frequency",
  muscleLength: "Position and intent",
  effortIntent: "Position and intent",
  action: "Position and intent",
};

const kinds = ["inside studies", "only between studies"] as const;

const answerOf = ({ within, between }: VariableRow) => within ?? between;

/** Whether a family has a variable that anything is known of. */
export const hasVariables = ({ rows }: VariableTable, family: string): boolean =>
  rows.some((row) => row.family === family && answerOf(row) !== undefined);

/** What says most stands first, where not all rows can be drawn. */
const rankOf: Readonly<Record<VerdictName, number>> = {
  favoured: 0,
  "worth testing": 1,
  "a difference, smaller than counts": 2,
  "no difference that counts": 3,
  "cannot be separated": 4,
  "cannot be told": 5,
  "not studied": 6,
};

/**
 * Rows are variables in four groups, ranges the change of the effect over the doses that were compared; filled inside
 * studies, hollow between them. A grey zone holds what does not count. What nobody studied is folded into one line.
 *
 * @throws {CallError} "no-variables" where nothing is known of any
 */
export const variablesFigure = (
  { id, family, table }: VariablesFigureInput,
  room: Room = roomOf(),
): Figure => {
  const own = table.rows.filter((row) => row.family === family);
  const told = own.filter((row) => answerOf(row) !== undefined);
  if (told.length === 0)
    throw new CallError({
      code: "no-variables",
      where: "the figure of variables",
      needs: "a variable that is compared inside studies or between them",
      got: "none",
    });
  const display = scaleDisplay(table.scale);
  const rank = ({ verdict, within }: VariableRow): number =>
    2 * rankOf[verdict.verdict] + (within === undefined ? 1 : 0);
  const most = room.size === "slide" ? slideRows : room.rows;
  const shown = new Set([...told].sort((a, b) => rank(a) - rank(b)).slice(0, most));
  const drawn = groups.flatMap((group) =>
    told.filter((row) => shown.has(row) && (groupOf[row.axis.name] ?? "Hold and volume") === group),
  );
  const amount = display.toShown(own[0]!.amount);
  const rows = drawn.map((row): ChartRow => {
    const { estimate, interval } = answerOf(row)!;
    const { axis, within, compared, span, verdict } = row;
    const reach = (within === undefined ? span : compared) ?? span;
    const doses =
      room.size === "slide" && axis.kind === "levels"
        ? axis.levels![1]
        : reach === undefined
          ? ""
          : doseSpan(axis, reach);
    return {
      group: groupOf[axis.name] ?? "Hold and volume",
      label: capital(
        axis.kind === "levels" || doses === "" ? doses || axis.label : `${axis.label}, ${doses}`,
      ),
      low: display.toShown(interval.low),
      estimate: display.toShown(estimate),
      high: display.toShown(interval.high),
      kind: within === undefined ? kinds[1] : kinds[0],
      word: verdictShort(row),
      strong: verdict.verdict === "favoured" || verdict.verdict === "worth testing",
      aside: counted(within === undefined ? row.studies : row.studiesWithin, "study", "studies"),
    };
  });
  const unit = display.shownAsPercent ? "%" : display.unit;
  const chart = rowChart(
    {
      rows,
      kinds,
      // On a screen each row is a target of 24 points for a finger.
      step: 21,
      axisTitle: `Change of the gain over the doses compared${display.shownAsPercent ? ", %" : `, ${unit}`}`,
      zone: {
        amount,
        words: `no difference that counts: ±${shownAmount(own[0]!.amount, table.scale)}`,
      },
    },
    room,
  );
  const names = (some: readonly VariableRow[]): string =>
    some.map(({ axis }) => axis.label).join(", ");
  const left = told.filter((row) => !shown.has(row));
  const unstudied = own.filter((row) => answerOf(row) === undefined);
  const rest = [
    ...(left.length === 0 ? [] : [`Cannot be told either: ${names(left)}.`]),
    ...(unstudied.length === 0 ? [] : [`No study compared in this outcome: ${names(unstudied)}.`]),
  ];
  const confidence = confidenceWords(table.confidence);
  const title = verdictsInShort(table, family);
  const description = oneLine(
    `${title} ${rows.map(({ label, word, low, estimate, high, kind }) => `${label}: ${word}, ${display.write(display.fromShown(estimate))} (${display.write(display.fromShown(low))} to ${display.write(display.fromShown(high))}), ${kind}`).join("; ")}. ${rest.join(" ")}`,
  );
  return {
    id: id ?? `variables-${kebabName(family)}`,
    title,
    brief: "Ranges: from the lowest to the highest dose compared.",
    caption: [
      ...rest,
      `Ranges: ${confidence} intervals of the change from the lowest to the highest dose compared.`,
      `Filled: arms of one study are set against each other. Hollow: only studies, which differ in everything else too, so that nothing can be told. ${counted(table.questions, "question was", "questions were")} asked of this file at once, and the verdicts count them.`,
    ].join(" "),
    ...drawnChart(chart, { text: [title], description }),
    data: drawn.map((row) => {
      const { estimate, interval } = answerOf(row)!;
      return {
        variable: row.axis.label,
        compared: row.within === undefined ? "between studies" : "inside studies",
        estimate,
        low: interval.low,
        high: interval.high,
        shown: display.toShown(estimate),
        verdict: row.verdict.verdict,
        studiesWithin: row.studiesWithin,
        studies: row.studies,
      };
    }),
  };
};
