/** Every way of analysing one answer: a line for each way, a row for each level of each choice. */
import type { Sweep } from "../certainty/sweep.js";
import type { EffectScale } from "../effects/effect.js";
import { capital, counted } from "../tables/number-format.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { shownAmount } from "../tables/variables-table.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { drawnChart, rowChart, slideRows, type ChartRow } from "./row-chart.js";

export type SweepFigureInput = Readonly<{
  id: string;
  /** The answer: how many ways agree. */
  title: string;
  scale: EffectScale;
  unit?: string;
  amount: number | null;
  /** That counts of ways are no chances, as it is said everywhere. */
  notChances: string;
  sweep: Sweep;
}>;

/** Lines closer together than so much of the span cannot be told apart. */
const lines = 80;

type Level = Sweep["choices"][number]["levels"][number];

/**
 * A row a level: a line for each way that has it, from the smallest to the largest, and how many of them find more than
 * the amount that counts. The first row holds all ways, with the answer as shown as a dot.
 */
export const sweepFigure = (
  { id, title, scale, unit, amount, notChances, sweep }: SweepFigureInput,
  room: Room = roomOf(),
): Figure => {
  const display = scaleDisplay(scale);
  const ways = "ways of analysing it";
  // A column has no room for it in the key, and says it below.
  const kinds = [
    "the answer as shown",
    room.size === "column" ? ways : `${ways}; their counts are not chances`,
  ] as const;
  const { all, shown, choices, movesMost } = sweep;
  const span = all.most! - all.least! || 1;
  const row = (
    label: string,
    told: Omit<Level, "level" | "estimates">,
    estimates: readonly number[],
    more: Partial<ChartRow> = {},
  ): readonly ChartRow[] => {
    if (told.middle === null) return [];
    const apart = new Map(
      estimates.map((one) => [Math.round(((one - all.least!) / span) * lines), one]),
    );
    const agree = told.counts ?? told.sameSign;
    const of =
      room.size === "page" ? (told.counts === null ? " same sign" : " more than counts") : "";
    return [
      {
        label,
        low: display.toShown(told.least!),
        estimate: display.toShown(told.middle),
        high: display.toShown(told.most!),
        more: [...apart.values()].map(display.toShown),
        kind: kinds[1],
        word: `${agree} of ${told.ways}${of}`,
        ...more,
      },
    ];
  };
  // Those that move it most come first, and are all that a slide has room for.
  const ranked = [...choices].sort((a, b) => (b.moves ?? 0) - (a.moves ?? 0));
  const rows = ranked.reduce<readonly ChartRow[]>(
    (before, { name, levels }) => {
      const own = levels.flatMap(({ level, estimates, ...told }) =>
        // A slide has no headings of groups, so each of its rows names its choice.
        room.size === "slide"
          ? row(`${capital(name)}: ${level}`, told, estimates, { group: "" })
          : row(capital(level), told, estimates, {
              group: `${capital(name)}${name === movesMost ? ", which moves it most" : ""}`,
            }),
      );
      return room.size === "slide" && before.length + own.length > slideRows
        ? before
        : [...before, ...own];
    },
    row("Every way", all, choices[0]?.levels.flatMap(({ estimates }) => estimates) ?? [], {
      group: "",
      strong: true,
      dot: display.toShown(shown.estimate),
    }),
  );
  const zone =
    amount === null
      ? {}
      : {
          zone: {
            amount: display.toShown(amount),
            words: `no difference that counts: ±${shownAmount(amount, scale)}`,
          },
        };
  const chart = rowChart(
    {
      rows,
      kinds,
      pooled: kinds[1],
      axisTitle: display.shownAsPercent ? display.label : `Estimate, ${unit ?? display.unit}`,
      ...zone,
    },
    room,
  );
  const said = rows.map(({ label, group, low, high, word }) => {
    const bounds = `${display.write(display.fromShown(low))} to ${display.write(display.fromShown(high))}`;
    return `${group === undefined || group === "" ? "" : `${group}, `}${label}: ${bounds}, ${word}`;
  });
  const description = `${title}. ${said.join("; ")}. ${notChances}`;
  return {
    id,
    title,
    brief: `At the right: ways with ${amount === null ? "the same sign" : "more than the amount that counts"}.`,
    caption: `${notChances} Each line is the estimate of a way; the dot is the answer as shown. At the right: of the ways with that level, those with ${amount === null ? "the same sign" : "more than the amount that counts"}. ${sweep.sampled ? `${all.ways} of ${sweep.crossed} ways were drawn.` : `${counted(all.ways, "way")}, every level with every other.`}`,
    ...drawnChart(chart, { text: [title], description }),
    data: choices.flatMap(({ name, levels }) =>
      levels.flatMap(({ level, estimates }) =>
        estimates.map((estimate) => ({ choice: name, level, estimate })),
      ),
    ),
  };
};
