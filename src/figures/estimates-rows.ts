/** Estimates as rows of one chart: every effect where they are few or the sheet is small, one row a study where they are many. */
import { capital, counted } from "../tables/number-format.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import {
  estimatesInputDefaults,
  studiesIn,
  type EstimateRow,
  type EstimatesInput,
} from "./estimates-input.js";
import { groupedByStudy, sharedPieces } from "./estimates-layout.js";
import type { Figure } from "./figure.js";
import type { Room } from "./frame.js";
import { drawnChart, rowChart, slideRows, type ChartRow } from "./row-chart.js";
import { oneLine } from "./wrap-text.js";

const pooledKind = "average";

type Row = Readonly<{
  label: string;
  study: string;
  low: number;
  high: number;
  estimates: readonly number[];
  /** No spread of its own and none lent: shown without an interval, and in no average. */
  isWithout: boolean;
}>;

const isUnweighted = ({ spread }: EstimateRow): boolean => spread === "none";

const rowsByEffect = (effects: readonly EstimateRow[]) => {
  // Said once, and not in each row.
  const shared = sharedPieces(effects.map(({ label }) => label));
  const rows = effects.map(({ study, low, high, estimate, spread, label: whole }): Row => {
    const pieces = oneLine(whole).split(", ");
    const label = pieces.filter((one) => !shared.includes(one)).join(", ");
    const name = oneLine(study);
    return {
      study,
      low,
      high,
      estimates: [estimate],
      isWithout: spread === "none",
      label: label === "" ? name : `${name}: ${label}`,
    };
  });
  return { rows, shared };
};

/** Papers on the same people are one study, and one row. */
const rowsByStudy = (effects: readonly EstimateRow[]) => ({
  shared: [],
  rows: groupedByStudy(effects, ({ study, cohort }) => cohort ?? study).map(
    ([study, own]): Row => ({
      study,
      label: [...new Set(own.map((effect) => oneLine(effect.study)))].join(", "),
      low: Math.min(...own.map(({ low }) => low)),
      high: Math.max(...own.map(({ high }) => high)),
      estimates: own.map(({ estimate }) => estimate),
      isWithout: own.every(isUnweighted),
    }),
  ),
});

/**
 * The estimates of a group as rows over one axis, the average first.
 *
 * One row a study holds every estimate of that study as a tick, over all that their intervals reach. A slide keeps the
 * rows with the narrowest ranges and says how many others there are.
 *
 * @param by  what a row is
 */
export const estimatesRows = (
  input: EstimatesInput,
  room: Room,
  by: "effect" | "study",
): Figure => {
  const { effects, pooled } = input;
  const display = scaleDisplay(input.scale);
  const percent = input.confidencePercent ?? estimatesInputDefaults.confidencePercent;
  const { rows: all, shared } = (by === "effect" ? rowsByEffect : rowsByStudy)(effects);
  const most = room.size === "slide" ? slideRows - (pooled === undefined ? 0 : 1) : Infinity;
  const width = ({ low, high, isWithout }: Row): number => (isWithout ? Infinity : high - low);
  const kept = new Set([...all].sort((a, b) => (width(a) < width(b) ? -1 : 1)).slice(0, most));
  const rows = all.filter((row) => kept.has(row));
  const shown = (value: number): number => display.toShown(value);
  const numbers = (estimate: number, low: number, high: number): string =>
    valueText(display, { estimate, low, high });
  const rowKind = by === "effect" ? "effect" : "effects of a study";
  const chartRows = [
    ...(pooled === undefined
      ? []
      : [
          {
            label: "Average over such studies",
            low: shown(pooled.interval.low),
            estimate: shown(pooled.estimate),
            high: shown(pooled.interval.high),
            kind: pooledKind,
            word: numbers(pooled.estimate, pooled.interval.low, pooled.interval.high),
            strong: true,
          },
        ]),
    ...rows.map(({ label, low, high, estimates, isWithout }): ChartRow => {
      const [estimate = 0, ...more] = estimates;
      return {
        label,
        low: shown(low),
        estimate: shown(estimate),
        high: shown(high),
        more: more.map(shown),
        kind: rowKind,
        bare: isWithout,
        word:
          more.length === 0
            ? isWithout
              ? `${display.write(estimate)}${display.sign} (no interval)`
              : numbers(estimate, low, high)
            : `${counted(estimates.length, "effect")}, ${estimates.length === 2 ? "" : "between "}${display.write(Math.min(...estimates))} and ${display.write(Math.max(...estimates))}${display.sign}`,
      };
    }),
  ];
  const chart = rowChart(
    {
      rows: chartRows,
      kinds: [rowKind, pooledKind],
      pooled: pooledKind,
      axisTitle: display.label,
    },
    room,
  );
  const weighted = effects.filter((effect) => !isUnweighted(effect));
  const without = effects.length - weighted.length;
  const counts = `${counted(weighted.length, "effect")} from ${counted(studiesIn(weighted), "study", "studies")}${without === 0 ? "" : `, and ${without} without a spread and in no average`}`;
  const further = pooled?.predictionInterval ?? null;
  const said = [
    `${counts}.`,
    ...(shared.length === 0 ? [] : [`All: ${shared.join(", ")}.`]),
    ...(rows.length === all.length
      ? []
      : [
          `The ${counted(rows.length, by === "effect" ? "effect" : "study", by === "effect" ? "effects" : "studies")} with the narrowest ranges; ${all.length - rows.length} more are not shown.`,
        ]),
    ...(further === null
      ? []
      : [
          `A further study like these is expected between ${display.write(further.low)} and ${display.write(further.high)}${display.sign}.`,
        ]),
  ].join(" ");
  const description = oneLine(
    `${input.title}: ${counts}. ${pooled === undefined ? "" : `The average is ${numbers(pooled.estimate, pooled.interval.low, pooled.interval.high)}. `}${rows.map(({ label, low, high, estimates, isWithout }) => `${label}: ${estimates.map((one) => display.write(one)).join(", ")}${display.sign} (${isWithout ? "no interval" : `${display.write(low)} to ${display.write(high)}`})`).join("; ")}.`,
  );
  return {
    id: input.id ?? estimatesInputDefaults.id,
    title: input.title,
    brief: `${rows.length === all.length ? "" : `The ${rows.length} narrowest of ${all.length} ${by === "effect" ? "effects" : "studies"}. `}${by === "effect" ? `Bar: ${percent}% interval; gap: the estimate.` : `Bar: all ${percent}% intervals of a study; gaps: its effects.`} ${counts}.`,
    caption:
      `${by === "effect" ? `A row an effect: its ${percent}% interval with the estimate cut out.` : `A row a study: each estimate is a gap in the bar, which reaches over all their ${percent}% intervals.`}${rows.some(({ isWithout }) => isWithout) ? " Open circle: no interval." : ""} ${input.model === undefined ? "" : `${capital(input.model)}.`}`.trim(),
    ...drawnChart(chart, { text: [input.title], subtitle: [said], description }),
    data: all.flatMap(({ study, label, low, high, estimates }) =>
      estimates.map((estimate) => ({ study, label, estimate, low, high, shown: shown(estimate) })),
    ),
  };
};
