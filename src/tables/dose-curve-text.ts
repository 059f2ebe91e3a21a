import type { DoseCurve } from "../dose/dose-response.js";
import { displayWidth } from "./display-width.js";
import { scaleDisplay, shownEstimate } from "./scale-display.js";
import { shownDose } from "./shown-dose.js";

export type DoseCurveTextOptions = Readonly<{
  /** Cells of the line, an integer from 40. */
  width?: number;
}>;

export const doseCurveTextDefaults = {
  width: 100,
} as const satisfies Required<DoseCurveTextOptions>;

const rows = 11;
const widest = 72;

/** The curve at a dose, by a straight line between the doses it is written out at. */
const between = (curve: DoseCurve["curve"], dose: number) => {
  const next = curve.findIndex((point) => point.dose >= dose - 1e-9);
  const high = curve[next === -1 ? curve.length - 1 : next]!;
  const low = curve[Math.max(0, (next === -1 ? curve.length : next) - 1)]!;
  const share = high.dose === low.dose ? 0 : (dose - low.dose) / (high.dose - low.dose);
  const mix = (a: number, b: number): number => a + share * (b - a);
  return {
    estimate: mix(low.estimate, high.estimate),
    low: mix(low.interval.low, high.interval.low),
    high: mix(low.interval.high, high.interval.high),
    supported: low.supported && high.supported,
  };
};

/**
 * A dose curve drawn in text: o the curve, : its interval, · the curve beyond the comparisons, and below the
 * axis the arms at each place (+ for ten or more).
 *
 * @source none: a layout
 */
export const doseCurveText = (answer: DoseCurve, options: DoseCurveTextOptions = {}): string => {
  const { width } = { ...doseCurveTextDefaults, ...options };
  const { curve, support, scale, axis } = answer;
  const unit = scaleDisplay(scale).sign;
  const inside = curve.filter(({ supported }) => supported);
  const values = [
    ...inside.flatMap(({ interval }) => [interval.low, interval.high]),
    ...curve.map(({ estimate }) => estimate),
    0,
  ];
  const [bottom, top] = [Math.min(...values), Math.max(...values)];
  const reach = top - bottom || 1;
  const valueOf = (row: number): number => top - ((row + 0.5) / rows) * reach;
  const rowOf = (value: number): number =>
    Math.min(rows - 1, Math.max(0, Math.floor(((top - value) / reach) * rows)));
  const zeroRow = rowOf(0);
  const labelled = new Set([0, Math.floor(rows / 2), rows - 1, zeroRow]);
  const labels = Array.from({ length: rows }, (_, row) =>
    !labelled.has(row)
      ? ""
      : row === zeroRow
        ? `0${unit}`
        : `${shownEstimate(valueOf(row), scale, reach / rows)}${unit}`,
  );
  const side = Math.max(...labels.map(displayWidth));
  const columns = Math.max(10, Math.min(widest, width - side - 4));
  const doseOf = (column: number): number =>
    support.lowest + ((support.highest - support.lowest) * column) / (columns - 1);
  const places = Array.from({ length: columns }, (_, column) => between(curve, doseOf(column)));
  const lines = labels.map((label, row) => {
    const cells = places.map(({ estimate, low, high, supported }) => {
      if (rowOf(estimate) === row) return supported ? "o" : "·";
      if (supported && rowOf(high) <= row && row <= rowOf(low)) return ":";
      return row === zeroRow ? "-" : " ";
    });
    return `${label.padStart(side)} |${cells.join("").trimEnd()}`;
  });
  const arms = new Array<number>(columns).fill(0);
  for (const { dose, arms: count } of support.doses) {
    const share = (dose - support.lowest) / (support.highest - support.lowest || 1);
    arms[Math.round(share * (columns - 1))]! += count;
  }
  const strip = arms.map((count) => (count === 0 ? " " : count > 9 ? "+" : String(count)));
  const [low, high] = [shownDose(support.lowest, axis), shownDose(support.highest, axis)];
  const room = Math.max(1, columns - displayWidth(low) - displayWidth(high));
  const title = `${axis.label}; o curve, : its interval${places.some((place) => !place.supported) ? ", · beyond the comparisons" : ""}, numbers: arms`;
  return [
    ...lines,
    `${" ".repeat(side)} +${"-".repeat(columns)}`,
    `${"arms".slice(0, side).padStart(side)}  ${strip.join("").trimEnd()}`,
    `${" ".repeat(side)}  ${low}${" ".repeat(room)}${high}`,
    `${" ".repeat(side)}  ${title}`,
  ].join("\n");
};
