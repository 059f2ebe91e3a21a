import type { EffectSet } from "./effect.js";

/**
 * Sampling covariance of any two effects of a set by their positions, from the blocks; zero for those that share nobody.
 * @source none: looking up blocks
 */
export const samplingCovarianceOf = (set: EffectSet): ((a: number, b: number) => number) => {
  const placeOf = new Map<number, Readonly<{ block: number; place: number }>>();
  set.blocks.forEach(({ indices }, block) =>
    indices.forEach((position, place) => placeOf.set(position, { block, place })),
  );
  return (a, b) => {
    const [one, other] = [placeOf.get(a), placeOf.get(b)];
    if (one === undefined || other === undefined || one.block !== other.block)
      return a === b ? set.effects[a]!.variance : 0;
    const { indices, values } = set.blocks[one.block]!;
    return values[one.place * indices.length + other.place]!;
  };
};
