import { shownClock } from "../tables/shown-duration.js";

const steps = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400];

/**
 * Marks of a time axis that begins at 0: at most `count` of them, at lengths people reckon in.
 *
 * @param seconds  length of the axis, above 0
 */
export const timeTicks = (
  seconds: number,
  count = 8,
): readonly Readonly<{ seconds: number; label: string }>[] => {
  const step = steps.find((candidate) => seconds / candidate <= count) ?? seconds;
  return Array.from({ length: Math.floor(seconds / step + 1e-9) + 1 }, (_, index) => ({
    seconds: index * step,
    label: index === 0 ? "0" : shownClock(index * step),
  }));
};
