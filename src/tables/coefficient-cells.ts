import type { EffectScale } from "../effects/effect.js";
import type { Coefficient } from "../synthesis/synthesis-results.js";
import {
  decimalsFor,
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  plainNumber,
  pValueCell,
} from "./number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "./scale-display.js";
import type { Column } from "./table.js";

/** The cells of one coefficient: shown to people, on its scale, and with every digit for the CSV. */
export const coefficientCells = (
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
export const coefficientColumns = (scale: EffectScale): readonly [Column, ...Column[]] => {
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

/** Columns of the CSV of a table of coefficients; the term first. */
export const coefficientCsvColumns: readonly [Column, ...Column[]] = [
  { key: "term", label: "term", align: "left" },
  ...["estimate", "standardError", "intervalLow", "intervalHigh", "degreesOfFreedom", "p"].map(
    (key): Column => ({ key, label: key, align: "right" }),
  ),
];
