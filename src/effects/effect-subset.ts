import type { Effect, EffectSet } from "./effect.js";

/**
 * The effects that a condition keeps, with the covariances among those that stay.
 *
 * Leaving effects out of a set never changes the covariances of the others, so a block of the subset is
 * a submatrix of the block it came from (and positive definite because that was).
 *
 * @param set   effects with their covariance blocks
 * @param keep  called with each effect
 * @returns the same scale, contrast and row uses; effects, blocks and positions of those kept
 * @source none: taking a submatrix
 */
export const effectSubset = (set: EffectSet, keep: (effect: Effect) => boolean): EffectSet => {
  const newPosition = new Map<number, number>();
  const effects = set.effects.filter((effect, position) => {
    const kept = keep(effect);
    if (kept) newPosition.set(position, newPosition.size);
    return kept;
  });
  const blocks = set.blocks.flatMap((block) => {
    const size = block.indices.length;
    const places = block.indices.flatMap((position, place) =>
      newPosition.has(position) ? [place] : [],
    );
    if (places.length === 0) return [];
    return [
      {
        cluster: block.cluster,
        indices: places.map((place) => newPosition.get(block.indices[place]!)!),
        values: places.flatMap((row) => places.map((column) => block.values[row * size + column]!)),
      },
    ];
  });
  return { ...set, effects, blocks };
};
