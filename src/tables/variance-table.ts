import type { MultilevelResult } from "../synthesis/synthesis-results.js";
import { formatInterval, formatNumber, formatPercent, plainNumber } from "./number-format.js";
import { csvNumbers, csvTexts, type Column, type Table } from "./table.js";

const columns: readonly Column[] = [
  { key: "level", label: "Level", align: "left" },
  { key: "shownVariance", label: "Variance", align: "right" },
  { key: "shownInterval", label: "Interval", align: "right" },
  { key: "deviation", label: "Standard deviation", align: "right" },
  { key: "shownISquared", label: "I² of the level", align: "right" },
];

const csvColumns = [
  ...csvTexts("level"),
  ...csvNumbers("variance", "intervalLow", "intervalHigh", "iSquaredPercent"),
];

/** Where effects differ: the variance at each level of a multilevel model and its share of the whole. */
export const varianceTable = (result: MultilevelResult): Table => ({
  id: "variance-by-level",
  title: "Where effects differ: variance by level",
  columns,
  csvColumns,
  rows: Object.entries(result.varianceByLevel).map(([level, variance]) => {
    const interval = result.varianceIntervals?.[level];
    const iSquared = result.iSquaredPercentByLevel[level];
    return {
      level,
      shownVariance: formatNumber(variance, { digits: 4 }),
      shownInterval: interval === undefined ? "" : formatInterval(interval, { digits: 4 }),
      deviation: formatNumber(Math.sqrt(variance), { digits: 3 }),
      shownISquared: iSquared === undefined ? "" : formatPercent(iSquared, { digits: 0 }),
      variance: plainNumber(variance),
      intervalLow: interval === undefined ? "" : plainNumber(interval.low),
      intervalHigh: interval === undefined ? "" : plainNumber(interval.high),
      iSquaredPercent: iSquared === undefined ? "" : plainNumber(iSquared),
    };
  }),
  notes: [
    "Variances are on the scale of the model. A variance of 0 means that the level shows no difference beyond what sampling error brings; it is a normal answer.",
    "I² of a level is its share of all variation, sampling error included; the shares need not add to 100%, the rest is sampling error.",
  ],
});
