import { formatNumber } from "../tables/number-format.js";
import type { ScaleDisplay } from "../tables/scale-display.js";
import { roughTextWidth } from "./wrap-text.js";

/** Lowest of many values; Infinity of none. A loop, since very long argument lists are refused. */
export const lowest = (values: Iterable<number>): number => {
  let low = Infinity;
  for (const value of values) if (value < low) low = value;
  return low;
};

/** Highest of many values; −Infinity of none. */
export const highest = (values: Iterable<number>): number => {
  let high = -Infinity;
  for (const value of values) if (value > high) high = value;
  return high;
};

export type AxisTick = Readonly<{ position: number; label: string }>;

export type AxisTickOptions = Readonly<{
  /** Length of the axis in drawing units. */
  length?: number;
  /** Whether labels stand side by side along the axis, or above each other beside it. */
  labels?: "along" | "beside";
}>;

export const axisTickDefaults = { length: 260, labels: "along" } as const;

/** Size of the labels, and the least air between two of them, in drawing units. */
const labelSize = 9.5;
const air = 8;

const niceStep = (rough: number): number => {
  const power = 10 ** Math.floor(Math.log10(rough));
  const lead = rough / power;
  return power * (lead <= 1.0001 ? 1 : lead <= 2 ? 2 : lead <= 2.5 ? 2.5 : lead <= 5 ? 5 : 10);
};

/** Multiples of a round step inside a range, about `count` of them. */
export const roundValues = (low: number, high: number, count: number): readonly number[] => {
  const step = niceStep((high - low) / Math.max(1, count));
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) =>
    Number(((first + index) * step).toPrecision(12)),
  );
};

/** The fewest decimals, up to six, that write a number to six significant digits. */
const decimalsIn = (value: number): number => {
  const rounded = Number(value.toPrecision(6));
  for (let digits = 0; digits < 6; digits += 1) {
    if (Number(rounded.toFixed(digits)) === rounded) return digits;
  }
  return 6;
};

const tickText = (shown: number, display: ScaleDisplay): string =>
  `${formatNumber(shown, { digits: decimalsIn(shown) })}${display.sign}`;

const evenTicks = (
  [low, high]: readonly [number, number],
  display: ScaleDisplay,
  count: number,
): readonly AxisTick[] =>
  roundValues(display.toShown(low), display.toShown(high), count)
    .map((shown) => ({ position: display.fromShown(shown), label: tickText(shown, display) }))
    .filter(({ position }) => Number.isFinite(position));

/** Ratios of 2, 4, 8 … and their inverses: −75%, −50%, 0%, 100%, 300%. */
const doublingTicks = (
  [low, high]: readonly [number, number],
  display: ScaleDisplay,
  count: number,
): readonly AxisTick[] => {
  const step = Math.max(1, Math.ceil((high - low) / Math.LN2 / count)) * Math.LN2;
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => {
    const position = (first + index) * step;
    const shown = display.toShown(position);
    return { position, label: tickText(Number(shown.toPrecision(4)), display) };
  });
};

/**
 * Places for the marks of an effect axis, at round numbers as people read them.
 *
 * Positions are on the analysis scale, labels on the shown scale, so a log ratio is drawn evenly and
 * read as percent. On wide ratio axes the steps are doublings and halvings, since even percent steps
 * would crowd at one end.
 *
 * @param domain  low and high end on the analysis scale, low < high
 * @param display  how values are shown
 */
export const axisTicks = (
  domain: readonly [number, number],
  display: ScaleDisplay,
  options: AxisTickOptions = {},
): readonly AxisTick[] => {
  const { length, labels } = { ...axisTickDefaults, ...options };
  const [low, high] = domain;
  const ticksOf = display.spacing === "ratio" && high - low > 1.6 ? doublingTicks : evenTicks;
  const room = ({ label }: AxisTick) =>
    labels === "along" ? roughTextWidth(label, labelSize) : 2 * labelSize;
  const placeOf = ({ position }: AxisTick) => ((position - low) / (high - low)) * length;
  const inside = (tick: AxisTick) =>
    labels === "beside" ||
    (placeOf(tick) >= room(tick) / 2 && placeOf(tick) <= length - room(tick) / 2);
  const roomy = (ticks: readonly AxisTick[]) =>
    ticks.every((tick, index) => {
      const before = ticks[index - 1];
      if (before === undefined) return true;
      return placeOf(tick) - placeOf(before) >= (room(tick) + room(before)) / 2 + air;
    });
  let ticks: readonly AxisTick[] = [];
  for (let count = Math.ceil(length / 30); count >= 1; count -= 1) {
    ticks = ticksOf(domain, display, count).filter(inside);
    if (roomy(ticks)) break;
  }
  return ticks;
};
