/** Seeded random numbers: the same seed gives the same numbers on every machine. */
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { uniformInt } from "pure-rand/distribution/uniformInt";
import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus";
import { CallError } from "../errors.js";
import { requireCount } from "./scalar-guard.js";

/** A source of random numbers that remembers where it is; each call moves it on. */
export type RandomStream = Readonly<{
  /** Uniform in [0, 1), a multiple of 2⁻⁵³. */
  uniform: () => number;
  /** Standard normal. */
  normal: () => number;
  /** Whole number from 0 to below − 1, each equally likely. */
  integer: (below: number) => number;
  /** The items in random order, as a new list. */
  shuffle: <T>(items: readonly T[]) => T[];
  /** A new stream, independent of this one and of every other split. */
  split: () => RandomStream;
}>;

type Generator = ReturnType<typeof xoroshiro128plusFromState>;

/** A 32-bit number well mixed, so that related states do not make related streams. */
const mixed = (value: number): number => {
  let bits = (value + 0x9e3779b9) | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return (bits ^ (bits >>> 16)) | 0;
};

const streamFrom = (generator: Generator): RandomStream => {
  let spare: number | undefined;
  const uniform = (): number => uniformFloat64(generator);
  const integer = (below: number): number => {
    requireCount("integer", "the limit", below, 1);
    return uniformInt(generator, 0, below - 1);
  };
  return {
    uniform,
    integer,
    normal: () => {
      if (spare !== undefined) {
        const value = spare;
        spare = undefined;
        return value;
      }
      // Marsaglia's polar method: a point in the unit disc gives two independent normals
      for (;;) {
        const a = 2 * uniform() - 1;
        const b = 2 * uniform() - 1;
        const square = a * a + b * b;
        if (square > 0 && square < 1) {
          const factor = Math.sqrt((-2 * Math.log(square)) / square);
          spare = b * factor;
          return a * factor;
        }
      }
    },
    shuffle: (items) => {
      const order = [...items];
      for (let i = order.length - 1; i > 0; i--) {
        const j = integer(i + 1);
        const kept = order[i] as (typeof order)[number];
        order[i] = order[j] as (typeof order)[number];
        order[j] = kept;
      }
      return order;
    },
    split: () => {
      const state = Array.from({ length: 4 }, () => mixed(generator.next()));
      return streamFrom(xoroshiro128plusFromState(state));
    },
  };
};

/**
 * A stream of random numbers that depends on the seed alone.
 *
 * @param seed whole number
 * @returns a stream; use `split` to give each part of a task its own, so that adding draws to one part does not
 *   change another
 * @throws {CallError} "not-a-seed" when the seed is not a whole number
 * @source generator: Blackman D, Vigna S (2021) ACM Transactions on Mathematical Software 47:36 (xoroshiro128+);
 *   normals: Marsaglia G, Bray TA (1964) SIAM Review 6:260–264
 */
export const randomStream = (seed: number): RandomStream => {
  if (!Number.isSafeInteger(seed)) {
    throw new CallError({
      code: "not-a-seed",
      where: "randomStream",
      needs: "a whole number as seed",
      got: String(seed),
    });
  }
  // both halves of a 53-bit seed count
  const low = seed | 0;
  const high = Math.floor(seed / 2 ** 32) | 0;
  return streamFrom(
    xoroshiro128plusFromState([
      mixed(low),
      mixed(low ^ 0x5bd1e995),
      mixed(high),
      mixed(low + high + 1),
    ]),
  );
};
