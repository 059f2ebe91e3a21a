import type { EffectSet } from "../effects/effect.js";

/**
 * Sampling covariance of any two effects of a set by their positions, zero for those that share nobody.
 * @source none: looking up blocks
 */
export const covarianceLookup = (set: EffectSet): ((a: number, b: number) => number) => {
  const placeOf = new Map<number, Readonly<{ block: number; place: number }>>();
  set.blocks.forEach(({ indices }, block) =>
    indices.forEach((position, place) => placeOf.set(position, { block, place })),
  );
  return (a, b) => {
    if (a === b) return set.effects[a]!.variance;
    const [one, other] = [placeOf.get(a), placeOf.get(b)];
    if (one === undefined || other === undefined || one.block !== other.block) return 0;
    const block = set.blocks[one.block]!;
    return block.values[one.place * block.indices.length + other.place]!;
  };
};
