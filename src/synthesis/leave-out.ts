/** Effects and their known covariances with some rows left out. */
import type { KnownCovariance, SynthesisEffect } from "./synthesis-input.js";

/**
 * The effects without those at the given positions.
 * @source none: a selection
 */
export const effectsWithout = (
  effects: readonly SynthesisEffect[],
  positions: readonly number[],
): readonly SynthesisEffect[] => {
  const out = new Set(positions);
  return effects.filter((_, index) => !out.has(index));
};

/**
 * Known covariances of the effects that stay, at their new positions.
 * @source none: a selection
 */
export const covariancesWithout = (
  known: readonly KnownCovariance[],
  positions: readonly number[],
): readonly KnownCovariance[] => {
  const out = [...new Set(positions)].sort((a, b) => a - b);
  const gone = new Set(out);
  const moved = (index: number) => index - out.filter((position) => position < index).length;
  return known.flatMap(({ indices, values }) => {
    const n = indices.length;
    const kept = indices.flatMap((index, i) => (gone.has(index) ? [] : [i]));
    if (kept.length === 0) return [];
    return [
      {
        indices: kept.map((i) => moved(indices[i]!)),
        values: kept.flatMap((i) => kept.map((j) => values[i * n + j]!)),
      },
    ];
  });
};
