import type { CorrelationSource, Effect, EffectScale, EffectSet } from "../effects/effect.js";
import { scales } from "../effects/scales.js";
import { contrastLabel, scaleLabel } from "../effects/scale-label.js";
import { armName, outcomeName } from "../effects/effect-name.js";
import { noteLines } from "./note-lines.js";
import { confidenceWords, formatCount, formatNumber, plainNumber } from "./number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "./scale-display.js";
import { csvNumbers, csvTexts, type Column, type Table } from "./table.js";

export type EffectsTableOptions = Readonly<{
  /** Coverage of each effect's own interval, in (0, 1). */
  confidence?: number;
  /** Standard errors on either side for that coverage: the normal quantile at (1 + confidence) / 2. */
  reach?: number;
}>;

export const effectsTableDefaults = {
  confidence: 0.95,
  reach: 1.959963984540054,
} as const satisfies Required<EffectsTableOptions>;

/** Scales about spread, where neither direction is an improvement. */
const spreadScales: readonly EffectScale[] = [
  "log-variability-ratio",
  "log-coefficient-of-variation-ratio",
];

/** Where a correlation came from, in a word. */
const correlationWords = {
  "stated in the source": "stated",
  "computed from printed deviations": "computed",
  "borrowed from like studies in the file": "borrowed",
  "documented default": "default",
  "set by the user": "yours",
  "not needed": "not needed",
} as const satisfies Record<CorrelationSource, string>;

const correlationText = ({ prePostCorrelation: r, correlationSource }: Effect): string =>
  r === undefined
    ? correlationWords[correlationSource]
    : `${formatNumber(r)} ${correlationWords[correlationSource]}`;

/** The way of an effect's numbers without its correlation, which has a column of its own. */
const wayOf = ({ route }: Effect): string => route.replace(/; pre–post correlation [^;]*$/u, "");

/** a to z, then aa, ab: enough for any number of ways. */
const letter = (index: number): string =>
  `${index < 26 ? "" : letter(Math.floor(index / 26) - 1)}${String.fromCharCode(97 + (index % 26))}`;

const effectRow = (
  effect: Effect,
  reach: number,
  way: string,
): Readonly<Record<string, string>> => {
  const standardError = Math.sqrt(effect.variance);
  const bounds = {
    low: effect.estimate - reach * standardError,
    high: effect.estimate + reach * standardError,
  };
  return {
    effectId: effect.effectId,
    study: effect.study,
    arm: armName(effect),
    outcome: outcomeName(effect),
    participants: effect.participants === 0 ? "not given" : formatCount(effect.participants),
    shown: shownEstimate(effect.estimate, effect.scale, standardError),
    interval: shownInterval(bounds, effect.scale, standardError),
    onScale: formatNumber(effect.estimate, { digits: 3 }),
    correlation: correlationText(effect),
    way,
    route: effect.route,
    line: String(effect.row.line),
    scale: effect.scale,
    contrast: effect.contrast,
    cohort: effect.cohort,
    trainedArm: effect.arm,
    comparatorArm: effect.comparatorArm ?? "",
    outcomeName: effect.row.outcome,
    estimate: plainNumber(effect.estimate),
    variance: plainNumber(effect.variance),
    standardError: plainNumber(standardError),
    intervalLow: plainNumber(bounds.low),
    intervalHigh: plainNumber(bounds.high),
    prePostCorrelation:
      effect.prePostCorrelation === undefined ? "" : plainNumber(effect.prePostCorrelation),
    correlationSource: effect.correlationSource,
  };
};

const csvColumns = [
  ...csvTexts("study", "trainedArm", "comparatorArm", "effectId", "cohort", "outcomeName"),
  ...csvTexts("scale", "contrast"),
  ...csvNumbers("participants", "estimate", "variance", "standardError"),
  ...csvNumbers("intervalLow", "intervalHigh", "prePostCorrelation"),
  ...csvTexts("correlationSource", "route"),
  ...csvNumbers("line"),
];

/** What is left of the columns where there is room for few; the rest stands in the CSV and on a wider screen. */
const inLittleRoom: readonly string[] = ["study", "arm", "outcome", "shown", "interval", "way"];

/**
 * Every effect with its interval, where its correlation is from, and by a letter the way its numbers came.
 *
 * Log ratios are shown as percent change with the logarithm in the next column. The interval is the
 * effect's own normal interval, estimate ± reach·√variance, taken on the scale and then shown.
 */
export const effectsTable = (set: EffectSet, options: EffectsTableOptions = {}): Table => {
  const { confidence, reach } = { ...effectsTableDefaults, ...options };
  const level = confidenceWords(confidence);
  const display = scaleDisplay(set.scale);
  const shownColumns: readonly Column[] = [
    { key: "study", label: "Study", align: "left" },
    { key: "arm", label: "Arm", align: "left" },
    { key: "outcome", label: "Outcome", align: "left" },
    { key: "participants", label: "People", align: "right" },
    { key: "shown", label: display.heading, unit: display.unit, align: "right" },
    { key: "interval", label: `${level} interval`, align: "right" },
    ...(display.shownAsPercent
      ? [{ key: "onScale", label: display.logHeading, align: "right" } as const]
      : []),
    { key: "correlation", label: "Pre–post correlation", align: "left" },
    { key: "way", label: "Way", align: "left" },
    { key: "line", label: "Line", align: "right" },
  ];
  const ways = [...new Set(set.effects.map(wayOf))];
  return {
    id: `effects-${set.contrast}-${set.scale}`,
    title: `Effects: ${contrastLabel(set.contrast)}, ${scaleLabel(set.scale)}`,
    columns: shownColumns,
    narrowColumns: shownColumns.filter(({ key }) => inLittleRoom.includes(key)),
    csvColumns,
    rows: set.effects.map((effect) =>
      effectRow(effect, reach, letter(ways.indexOf(wayOf(effect)))),
    ),
    notes: [
      ...(spreadScales.includes(set.scale) ? [] : ["Positive means improvement."]),
      `Each interval is the effect's own: estimate ± ${formatNumber(reach)} standard errors.`,
      ...(scales[set.scale].falls === true
        ? ["A fall is shown in percent of the score before; a negative one is a rise."]
        : []),
      ...ways.map((way, index) => `${letter(index)}: ${way}.`),
      ...noteLines([...set.notes, ...set.effects.flatMap((effect) => effect.notes)]),
    ],
  };
};
