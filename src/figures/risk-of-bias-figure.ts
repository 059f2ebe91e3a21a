/** What is left of an answer when studies in doubt are left out, domain by domain. */
import type { EffectScale } from "../effects/effect.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { capital, confidenceWords } from "../tables/number-format.js";
import { scaleDisplay } from "../tables/scale-display.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { drawnChart, rowChart } from "./row-chart.js";

export type RiskOfBiasFigureInput = Readonly<{
  id: string;
  title: string;
  scale: EffectScale;
  unit?: string;
  confidence: number;
  /** The whole first, then what is left without some studies; null where no answer is left. */
  left: readonly Readonly<{
    name: string;
    weightPercent: number;
    answer: Readonly<{ estimate: number; interval: Interval }> | null;
  }>[];
}>;

const kinds = ["all studies", "some left out"] as const;

/** A row for the whole answer and for each way of leaving doubtful studies out: its interval, and the weight that is left. */
export const riskOfBiasFigure = (
  { id, title, scale, unit, confidence, left }: RiskOfBiasFigureInput,
  room: Room = roomOf(),
): Figure => {
  const display = scaleDisplay(scale);
  const rows = left.flatMap(({ name, weightPercent, answer }, place) =>
    answer === null
      ? []
      : [
          {
            label: capital(name),
            low: display.toShown(answer.interval.low),
            estimate: display.toShown(answer.estimate),
            high: display.toShown(answer.interval.high),
            kind: kinds[place === 0 ? 0 : 1],
            word: `${Math.round(weightPercent)}%${room.size === "page" ? " of the weight" : ""}`,
            strong: place === 0,
          },
        ],
  );
  const none = left.flatMap(({ name, answer }) => (answer === null ? [name] : []));
  const chart = rowChart(
    {
      rows,
      kinds,
      axisTitle: display.shownAsPercent
        ? `Average: ${display.label}`
        : `Average, ${unit ?? display.unit}`,
    },
    room,
  );
  const lacking = none.length === 0 ? "" : ` No average is left: ${none.join("; ")}.`;
  const said = rows.map(
    ({ label, estimate, low, high, word }) =>
      `${label}: ${[estimate, low, high].map((value) => display.write(display.fromShown(value))).join(", ")}, ${word}`,
  );
  const description = `${title}. ${said.join("; ")}.${lacking}`;
  return {
    id,
    title,
    brief: `Bars: ${confidenceWords(confidence)} intervals, the middle cut out; at the right: the share of the weight that is left.`,
    caption: `Ranges: ${confidenceWords(confidence)} intervals of the average, the middle cut out. At the right: the share of the weight that is left.${lacking}`,
    ...drawnChart(chart, { text: [title], description }),
    data: left.map(({ name, weightPercent, answer }) => ({
      studies: name,
      weightPercent,
      estimate: answer?.estimate ?? null,
      intervalLow: answer?.interval.low ?? null,
      intervalHigh: answer?.interval.high ?? null,
    })),
  };
};
