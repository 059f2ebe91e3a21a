/** A straight scale between numbers and shares of a width, with round marks. */
export type LinearScale = Readonly<{
  low: number;
  high: number;
  /** Share of the width, 0–1; outside values stand at the edge. */
  at: (value: number) => number;
  ticks: readonly number[];
}>;

const roundSteps = [1, 2, 2.5, 5, 10] as const;

/**
 * A scale that holds all the values, and zero.
 *
 * @param values any; zero is always among them
 * @param about how many steps between marks are wished for
 */
export const linearScale = (values: readonly number[], about = 5): LinearScale => {
  const least = Math.min(0, ...values);
  const most = Math.max(0, ...values);
  const span = most > least ? most - least : 1;
  const power = 10 ** Math.floor(Math.log10(span / about));
  const step = power * (roundSteps.find((one) => one * power >= span / about) ?? 10);
  const low = Math.floor(least / step) * step;
  const high = Math.ceil((most === least ? least + 1 : most) / step) * step;
  const count = Math.round((high - low) / step);
  return {
    low,
    high,
    at: (value) => Math.min(1, Math.max(0, (value - low) / (high - low))),
    ticks: Array.from({ length: count + 1 }, (_, i) => Number((low + i * step).toPrecision(12))),
  };
};
