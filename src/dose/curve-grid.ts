/** The places at which a curve is written out. */
import type { Interval } from "../synthesis/synthesis-results.js";
import { evaluateCurve, type AveragedCurve } from "./averaged-curve.js";
import type { DoseSupport } from "./dose-support.js";

/** The curve at one dose of its grid. */
export type CurveGridPoint = Readonly<{
  dose: number;
  estimate: number;
  standardError: number;
  interval: Interval;
  /** Band that holds the whole curve over the supported range with the stated confidence. */
  simultaneous: Interval;
  /** False where no comparison behind the curve reaches. */
  supported: boolean;
}>;

/** Doses on the curve's grid inside the supported range, and on either side of it. */
const gridSize = 61;
/** Where the highest dose is many times the lowest, some of the grid is spread by ratios, as curves bend early. */
const manyTimes = 6;
const evenPart = 45;
const toldSize = 121;
const outerGridSize = 9;

/** Doses evenly over a range, both ends included. */
export const evenGrid = ({ low, high }: Interval, size = gridSize): readonly number[] =>
  Array.from({ length: size }, (_, i) => low + ((high - low) * i) / (size - 1));

/** The doses inside a range at which its curve is written out, ascending, both ends and the middle among them. */
export const gridDoses = ({ low, high }: Interval): readonly number[] => {
  if (!(low > 0 && high / low > manyTimes)) return evenGrid({ low, high });
  const steps = gridSize - evenPart;
  const ratios = Array.from(
    { length: steps },
    (_, i) => low * (high / low) ** ((i + 1) / (steps + 1)),
  );
  return [...evenGrid({ low, high }, evenPart), ...ratios].sort((a, b) => a - b);
};

/** Even by square roots, and so finer where low doses crowd. */
const rootGrid = ({ low, high }: Interval, size: number): readonly number[] =>
  evenGrid({ low: Math.sqrt(low), high: Math.sqrt(high) }, size).map((root, place) =>
    place === 0 ? low : place === size - 1 ? high : root ** 2,
  );

/** The doses at which the curve is told: finer than what is drawn at random, where the range is many times the lowest dose. */
export const toldDoses = (range: Interval, size?: number): readonly number[] =>
  range.low > 0 && range.high / range.low > manyTimes
    ? rootGrid(range, size ?? toldSize)
    : evenGrid(range, size);

/** The curve with both bands on its grid; beyond the compared range as far as arms go. */
export const curveGrid = (
  averaged: AveragedCurve,
  range: Interval,
  support: DoseSupport,
  multiple: number,
): readonly CurveGridPoint[] => {
  const before =
    support.lowest < range.low
      ? evenGrid({ low: support.lowest, high: range.low }, outerGridSize).slice(0, -1)
      : [];
  const after =
    support.highest > range.high
      ? evenGrid({ low: range.high, high: support.highest }, outerGridSize).slice(1)
      : [];
  return [...before, ...toldDoses(range), ...after].map((dose) => {
    const { estimate, standardError, interval } = evaluateCurve(averaged, dose);
    const half = multiple * standardError;
    return {
      dose,
      estimate,
      standardError,
      interval,
      simultaneous: { low: estimate - half, high: estimate + half },
      supported: dose >= range.low && dose <= range.high,
    };
  });
};

/** Where a step is read off unless places are given: the lowest, the middle and the highest with room for one. */
export const usualStepPlaces = ({ low, high }: Interval, step: number): readonly number[] => {
  const last = high - step;
  if (last < low) return [];
  const places = [low, low + (last - low) / 2, last];
  return [...new Set(places.map((place) => Number(place.toPrecision(12))))];
};
