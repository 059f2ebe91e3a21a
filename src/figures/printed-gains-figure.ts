/** Gains as papers print them along a column: one line an arm, nothing pooled and nothing computed but the change in percent. */
import { counted } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { gainChart } from "./gain-chart.js";
import type { GainPoint } from "./gain-panel.js";
import { drawnChart } from "./row-chart.js";
import { requireFinite } from "./require-finite.js";
import { oneLine } from "./wrap-text.js";

/** A row at its place along the column. */
export type PrintedGain = Readonly<{
  study: string;
  arm: string;
  outcome: string;
  /** Line of the file. */
  line: number;
  x: number;
  /** Change in percent, an improvement positive. */
  gain: number;
  /** Whether the row prints any spread. */
  hasSpread: boolean;
  /** The 95% interval, where a spread of the change itself is printed; null otherwise. */
  low: number | null;
  high: number | null;
}>;

export type PrintedGainsInput = Readonly<{
  id: string;
  title: string;
  /** What stands along the axis, with its unit. */
  along: string;
  gains: readonly PrintedGain[];
}>;

/** Filled marks have a printed spread, open ones none; a line joins the readings of one arm. */
export const printedGainsFigure = (input: PrintedGainsInput, room: Room = roomOf()): Figure => {
  const { id, title, along, gains } = input;
  for (const { gain, x } of gains) requireFinite("printedGainsFigure", { gain, x });
  const places = gains.map(({ x }) => x);
  const [low, high] = [Math.min(...places), Math.max(...places)];
  const armOf = ({ study, arm, outcome }: PrintedGain): string => `${study} ${arm} ${outcome}`;
  // An arm read once has no line of its own; arms of one study are joined then.
  const seriesOf = (one: PrintedGain): string =>
    gains.some((other) => armOf(other) === armOf(one) && other.x !== one.x)
      ? armOf(one)
      : `${one.study} ${one.outcome}`;
  const open = gains.filter(({ hasSpread }) => !hasSpread).length;
  const studies = new Set(gains.map(({ study }) => study)).size;
  const said = `${counted(gains.length, "row")} of ${counted(studies, "study", "studies")}; ${open} without a printed spread.`;
  const description = oneLine(
    `${title}. ${said} ${gains.map(({ study, arm, x, gain }) => `${study}, ${arm}, ${x}: ${gain.toFixed(1)}%`).join("; ")}.`,
  );
  const chart = gainChart(
    {
      gainTitle: "Change, % of the start",
      x: {
        title: along,
        domain: [Math.min(0, low), high + 0.04 * Math.max(1, high - Math.min(0, low))],
      },
      panels: [
        {
          name: "gains",
          points: gains.map((one): GainPoint => {
            const { study, arm, outcome, x, gain, low: from, high: to } = one;
            return {
              x,
              gain,
              spread: one.hasSpread ? "own" : "none",
              ...(from === null || to === null ? {} : { low: from, high: to }),
              series: seriesOf(one),
              full: oneLine(`${study}, ${arm}: ${outcome}, ${x}, ${gain.toFixed(1)}%`),
            };
          }),
          curve: [],
        },
      ],
    },
    room,
  );
  return {
    id,
    title,
    caption:
      "As printed: nothing is pooled. Filled: the row prints a spread. Open: it prints none. Bar: the 95% interval, where a spread of the change is printed. Lines join the readings of one arm, or else the arms of one study.",
    ...drawnChart(chart, { text: [title], subtitle: [said], description }),
    data: gains.map(({ hasSpread, ...one }) => ({
      ...one,
      spread: hasSpread ? "printed" : "none",
    })),
  };
};
