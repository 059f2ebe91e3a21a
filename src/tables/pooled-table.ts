import type { EffectScale } from "../effects/effect.js";
import { scaleLabel } from "../effects/scale-label.js";
import type { Interval, MultilevelResult, PooledResult } from "../synthesis/synthesis-results.js";
import {
  confidenceWords,
  formatCount,
  formatInterval,
  formatNumber,
  formatPercent,
  plainNumber,
  pValueCell,
} from "./number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "./scale-display.js";
import { storyNotes } from "./note-lines.js";
import { csvNumbers, csvTexts, type Column, type Table } from "./table.js";

/** One pooled answer and the name of the group of effects it is about. */
export type PooledGroup = Readonly<{ group: string; result: PooledResult | MultilevelResult }>;

export type PooledTableOptions = Readonly<{
  scale: EffectScale;
  /** In place of the scale's own unit, where the effects stand in the outcome's. */
  unit?: string | undefined;
  /** What the groups are, e.g. "Outcome". */
  groupLabel?: string;
}>;

export const pooledTableDefaults = {
  groupLabel: "Group",
} as const satisfies Partial<PooledTableOptions>;

/** What stands where a number of effects is too small to tell. */
const notEstimable = "not estimable";

const exactBounds = (name: string, bounds: Interval | null): Readonly<Record<string, string>> => ({
  [`${name}Low`]: bounds === null ? "" : plainNumber(bounds.low),
  [`${name}High`]: bounds === null ? "" : plainNumber(bounds.high),
});

const exact = (value: number | null): string => (value === null ? "" : plainNumber(value));

const pooledRow = (
  { group, result }: PooledGroup,
  scale: EffectScale,
): Readonly<Record<string, string>> => {
  const { heterogeneity, standardError } = result;
  return {
    group,
    studies: formatCount(result.studies),
    effects: formatCount(result.effects),
    shown: shownEstimate(result.estimate, scale, standardError),
    shownInterval: shownInterval(result.interval, scale, standardError),
    shownPrediction:
      result.predictionInterval === null
        ? notEstimable
        : shownInterval(result.predictionInterval, scale, standardError),
    onScale: formatNumber(result.estimate, { digits: 3 }),
    shownBetween:
      heterogeneity.betweenVariance === null
        ? notEstimable
        : formatNumber(heterogeneity.betweenVariance, { digits: 4 }),
    shownBetweenInterval:
      heterogeneity.betweenVarianceInterval === null
        ? notEstimable
        : formatInterval(heterogeneity.betweenVarianceInterval, { digits: 4 }),
    shownISquared:
      heterogeneity.iSquaredPercent === null
        ? notEstimable
        : formatPercent(heterogeneity.iSquaredPercent, { digits: 0 }),
    shownP: pValueCell(result.p),
    estimate: plainNumber(result.estimate),
    standardError: plainNumber(standardError),
    p: plainNumber(result.p),
    betweenVariance: exact(heterogeneity.betweenVariance),
    iSquaredPercent: exact(heterogeneity.iSquaredPercent),
    ...exactBounds("interval", result.interval),
    ...exactBounds("prediction", result.predictionInterval),
    ...exactBounds("betweenVariance", heterogeneity.betweenVarianceInterval),
  };
};

const number = (key: string, label: string): Column => ({ key, label, align: "right" });

const csvColumns = [
  ...csvTexts("group"),
  ...csvNumbers("studies", "effects", "estimate", "standardError", "intervalLow", "intervalHigh"),
  ...csvNumbers("predictionLow", "predictionHigh", "betweenVariance", "betweenVarianceLow"),
  ...csvNumbers("betweenVarianceHigh", "iSquaredPercent", "p"),
];

/** Footnotes of several fits: said once where all agree, else under the group's name. */
const groupNotes = (groups: readonly PooledGroup[]): readonly string[] => {
  const holders = new Map<string, string[]>();
  for (const { group, result } of groups) {
    for (const note of storyNotes(result.story)) {
      holders.set(note, [...(holders.get(note) ?? []), group]);
    }
  }
  return [...holders].map(([note, names]) =>
    names.length === groups.length ? note : `${names.join(", ")}: ${note}`,
  );
};

/**
 * Pooled answers by group: average, its interval, the prediction interval, and what differs between
 * studies.
 *
 * The interval is about the average; the prediction interval is where the true effect of a new study
 * of the kind would fall. Log ratios are shown as percent change with the logarithm beside them.
 */
export const pooledTable = (groups: readonly PooledGroup[], options: PooledTableOptions): Table => {
  const { scale, unit, groupLabel } = { ...pooledTableDefaults, ...options };
  const display = scaleDisplay(scale);
  const levels = [...new Set(groups.map(({ result }) => result.story.confidence))];
  const level = levels.length === 1 ? `${confidenceWords(levels[0]!)} ` : "";
  return {
    id: `pooled-${scale}`,
    title: `Pooled effects: ${scaleLabel(scale)}`,
    columns: [
      { key: "group", label: groupLabel, align: "left" },
      number("studies", "Studies"),
      number("effects", "Effects"),
      { ...number("shown", display.heading), unit: unit ?? display.unit },
      number("shownInterval", `${level}interval`),
      number("shownPrediction", `${level}range of a further study`),
      ...(display.shownAsPercent ? [number("onScale", display.logHeading)] : []),
      number("shownBetween", "Variance τ²"),
      // A multilevel model has several variance parts, whose intervals are told one by one elsewhere.
      ...(groups.some(({ result }) => result.heterogeneity.betweenVarianceInterval !== null)
        ? [number("shownBetweenInterval", "τ² interval")]
        : []),
      number("shownISquared", "I²"),
      number("shownP", "p"),
    ],
    csvColumns,
    rows: groups.map((group) => pooledRow(group, scale)),
    notes: [
      "The interval is about the average of such studies; the range of a further study is where one more study would fall.",
      ...groupNotes(groups),
    ],
  };
};
