/** The values a variable takes on its way, evenly spread and rounded to numbers a coach would write. */

const rounding = 1e-9;

/** Even values from above `start` to `goal`, on the coarsest grain that keeps every step in bounds. */
export const evenValues = (
  start: number,
  goal: number,
  steps: number,
  largest: number,
  grains: readonly number[],
): readonly number[] => {
  const even = Array.from({ length: steps }, (_, index) =>
    index === steps - 1 ? goal : start + ((goal - start) * (index + 1)) / steps,
  );
  for (const grain of grains) {
    const rounded = even.map((value, index) =>
      index === steps - 1 ? goal : Number((Math.round(value / grain) * grain).toFixed(6)),
    );
    const sound = rounded.every((value, index) => {
      const step = value - (index === 0 ? start : (rounded[index - 1] ?? start));
      return step > rounding && step <= largest + rounding;
    });
    if (sound) return rounded;
  }
  return even;
};
