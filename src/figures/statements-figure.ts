/** Statements put to the test: the region each claims, the interval that the file gives, and its verdict. */
import { CallError } from "../errors.js";
import { capital, counted, formatNumber } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { drawnChart, rowChart, type ChartRow } from "./row-chart.js";
import { oneLine } from "./wrap-text.js";

/** One statement with a number in percent. */
export type StatementRow = Readonly<{
  statement: string;
  verdict: string;
  estimate: number;
  low: number;
  high: number;
  /** Ends of the claim; null where it is open. */
  claimedLow: number | null;
  claimedHigh: number | null;
  /** How many trials stand where; empty where none can. */
  trials: string;
}>;

export type StatementsFigureInput = Readonly<{
  id: string;
  /** How many statements have which verdict, in a sentence. */
  counts: string;
  rows: readonly StatementRow[];
  /** What has no number in percent, in words by verdict. */
  rest: readonly string[];
  /** How many intervals were adjusted for each other. */
  together: number;
}>;

/** Under a heading of two lines; statements take two lines each. */
const slideLines = 13;
const kinds = ["interval of the file, adjusted"] as const;

/**
 * Rows are statements under their verdicts: in grey the region that is claimed, with an edge where it ends; on it the interval
 * of the file, adjusted for how many statements are asked together. Decided ones come first.
 *
 * @throws {CallError} "no-points" without a row
 */
export const statementsFigure = (
  { id, counts, rows: all, rest, together }: StatementsFigureInput,
  room: Room = roomOf(),
): Figure => {
  if (all.length === 0)
    throw new CallError({
      code: "no-points",
      where: "the figure of statements",
      needs: "a statement with an interval in percent",
      got: "none",
    });
  const slide = room.size === "slide";
  const bare = (value: number): string => formatNumber(value, { digits: 1 });
  const chartRow = (row: StatementRow): ChartRow => ({
    group: capital(row.verdict),
    label: row.statement,
    low: row.low,
    estimate: row.estimate,
    high: row.high,
    claim: { low: row.claimedLow, high: row.claimedHigh },
    kind: kinds[0],
    word: slide
      ? `${bare(row.estimate)}%`
      : `${bare(row.estimate)}% (${bare(row.low)} to ${bare(row.high)}%)`,
    strong: row.verdict === "supported" || row.verdict === "against",
    ...(row.trials === "" ? {} : { aside: row.trials }),
  });
  const chartOf = (rows: readonly StatementRow[]) =>
    rowChart(
      {
        rows: rows.map(chartRow),
        kinds,
        axisTitle: "%, below 0 where the outcome falls",
        widestLabel: slide ? 0.44 : 0.42,
      },
      room,
    );
  let shown = all.slice(0, slide ? slideLines : room.rows);
  let chart = chartOf(shown);
  while (slide && shown.length > 1 && chart.height > 206) {
    shown = shown.slice(0, -1);
    chart = chartOf(shown);
  }
  const left = all.length - shown.length;
  const told = [
    ...(left === 0 ? [] : [`${counted(left, "more statement")} with a number not drawn.`]),
    ...rest,
  ];
  const description = oneLine(
    `${counts} ${all.map(({ statement, verdict, estimate, low, high, claimedLow, claimedHigh }) => `${capital(verdict)}: ${statement} ${bare(estimate)}% (${bare(low)} to ${bare(high)}%), claimed ${claimedLow === null ? "up" : `from ${bare(claimedLow)}`}${claimedHigh === null ? " on" : ` to ${bare(claimedHigh)}`}%`).join("; ")}. ${told.join(" ")}`,
  );
  return {
    id,
    title: counts,
    // What the marks are comes first: a slide keeps what it has room for.
    brief: `Grey: what is claimed, to its edge; cut out: the middle.${left === 0 ? "" : ` ${told[0]}`}${rest.length === 0 ? "" : " Others have no number in percent."}`,
    caption: [
      ...told,
      `Grey: what is claimed, with an edge where it ends. Range: the interval of this file, its middle cut out${together > 1 ? `, widened for ${together} statements asked together` : ""}.`,
      "Supported: the range lies inside the grey; against: wholly outside.",
    ].join(" "),
    ...drawnChart(chart, { text: [counts], description }),
    data: all,
  };
};
