import type { EffectScale } from "../effects/effect.js";
import { scaleLabel } from "../effects/scale-label.js";
import type {
  Coefficient,
  HeadlineResult,
  MultilevelResult,
} from "../synthesis/synthesis-results.js";
import {
  decimalsFor,
  formatCount,
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  pValueCell,
  plainNumber,
} from "./number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "./scale-display.js";
import { storyNotes } from "./note-lines.js";
import { csvNumbers, csvTexts, type Column, type Table } from "./table.js";

/** The cells of one coefficient: shown to people, on its scale, and with every digit for the CSV. */
const coefficientCells = (
  coefficient: Coefficient,
  scale: EffectScale,
): Readonly<Record<string, string>> => {
  const { estimate, standardError, interval } = coefficient;
  // Slopes per second or per point are small; three decimals would show them as zero.
  const digits = Math.max(3, decimalsFor(standardError));
  return {
    term: coefficient.term,
    shown: shownEstimate(estimate, scale, standardError),
    shownInterval: shownInterval(interval, scale, standardError),
    onScale: formatNumber(estimate, { digits }),
    onScaleInterval: formatInterval(interval, { digits }),
    shownDegreesOfFreedom: formatDegreesOfFreedom(coefficient.degreesOfFreedom),
    shownP: pValueCell(coefficient.p),
    estimate: plainNumber(estimate),
    standardError: plainNumber(standardError),
    intervalLow: plainNumber(interval.low),
    intervalHigh: plainNumber(interval.high),
    degreesOfFreedom:
      coefficient.degreesOfFreedom === Infinity ? "" : plainNumber(coefficient.degreesOfFreedom),
    p: plainNumber(coefficient.p),
  };
};

/** Columns of a table of coefficients; the term first. */
const coefficientColumns = (scale: EffectScale): readonly [Column, ...Column[]] => {
  const display = scaleDisplay(scale);
  return [
    { key: "term", label: "Term", align: "left" },
    { key: "shown", label: display.heading, unit: display.unit, align: "right" },
    { key: "shownInterval", label: "Interval", align: "right" },
    ...(display.shownAsPercent
      ? ([
          { key: "onScale", label: display.logHeading, align: "right" },
          { key: "onScaleInterval", label: "Its interval", align: "right" },
        ] as const)
      : []),
    { key: "shownDegreesOfFreedom", label: "Degrees of freedom", align: "right" },
    { key: "shownP", label: "p", align: "right" },
  ];
};

/** Columns of the CSV of a table of coefficients, after what names them. */
const coefficientCsvColumns = csvNumbers(
  "estimate",
  "standardError",
  "intervalLow",
  "intervalHigh",
  "degreesOfFreedom",
  "p",
);

export type MultilevelTableOptions = Readonly<{ scale: EffectScale }>;

/**
 * Coefficients of a multilevel model, each from the model and cluster-robust side by side.
 *
 * The robust rows hold when the covariances assumed within studies are wrong; where the two disagree
 * they are the ones to read. A model without moderators has one coefficient, the average.
 */
export const multilevelTable = (
  result: MultilevelResult | HeadlineResult,
  options: MultilevelTableOptions,
): Table => {
  const { scale } = options;
  const own = "modelBased" in result ? result.modelBased : result;
  const { standardError, interval, degreesOfFreedom, p } = own;
  const { estimate } = result;
  const average: Coefficient = {
    term: "average",
    ...{ estimate, standardError, interval, degreesOfFreedom, p },
  };
  const fromModel = own.coefficients.length === 0 ? [average] : own.coefficients;
  const rows = fromModel.flatMap((coefficient) => {
    const robust =
      own.coefficients.length === 0
        ? result.robust?.average
        : result.robust?.coefficients.find(({ term }) => term === coefficient.term);
    return [
      { inference: "from the model", ...coefficientCells(coefficient, scale) },
      ...(robust === undefined
        ? []
        : [
            {
              inference: "cluster-robust",
              ...coefficientCells({ ...robust, term: coefficient.term }, scale),
            },
          ]),
    ];
  });
  const inference = { key: "inference", label: "Inference", align: "left" } as const;
  const [termColumn, ...otherColumns] = coefficientColumns(scale);
  return {
    id: `multilevel-${scale}`,
    title: `Multilevel model: ${scaleLabel(scale)}`,
    columns: [termColumn, inference, ...otherColumns],
    csvColumns: [...csvTexts("term", "inference"), ...coefficientCsvColumns],
    rows,
    notes: [
      `${formatCount(result.effects)} effects from ${formatCount(result.studies)} studies.`,
      ...(result.robust === null
        ? []
        : [
            `Cluster-robust: ${result.robust.correction}, ${formatCount(result.robust.clusters)} clusters.`,
          ]),
      ...storyNotes(result.story),
    ],
  };
};
