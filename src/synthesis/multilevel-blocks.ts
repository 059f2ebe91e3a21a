/** Effects with nested (or crossed) random intercepts and known covariances, as blocks of the engine. */
import { CallError } from "../errors.js";
import { cholesky } from "../numeric/cholesky.js";
import { disjointSets } from "../numeric/disjoint-sets.js";
import type { Matrix } from "../numeric/matrix.js";
import type { LikelihoodBlock, SharedIntercept } from "./block-problem.js";
import type { KnownCovariance, SynthesisEffect } from "./synthesis-input.js";

/** Group of each effect at one level: equal numbers share a random intercept. */
export type LevelGroups = Readonly<{ level: string; groupOf: Int32Array; groups: number }>;

export type MultilevelBlocks = Readonly<{
  blocks: readonly LikelihoodBlock[];
  sharedIntercepts: readonly SharedIntercept[];
  /** Positions of the effects in each block. */
  rowsOf: readonly (readonly number[])[];
}>;

/** Sampling variances and covariances of a list of effects. */
export type SamplingCovariance = Readonly<{
  variances: Float64Array;
  /** Known blocks: positions ascending, values row-major. */
  known: readonly KnownCovariance[];
  /** The known block of each effect, or −1. */
  knownOf: Int32Array;
  /** Place of each effect inside its known block. */
  placeOf: Int32Array;
}>;

/** Groups are kept in one dense block while it has no more rows than this. */
const blockLimit = 64;

/**
 * Sampling covariance of the effects at the given positions.
 *
 * @param positions effects in use, ascending, as positions in the caller's list
 * @throws {CallError} "bad-covariance" when a block is not square, names an effect twice or one that is not there,
 *   is not symmetric or not positive definite
 * @source none: bookkeeping
 */
export const samplingCovariance = (
  effects: readonly SynthesisEffect[],
  knownCovariances: readonly KnownCovariance[],
  positions: readonly number[],
  where: string,
): SamplingCovariance => {
  const refuse = (got: string): never => {
    throw new CallError({
      code: "bad-covariance",
      where,
      needs:
        "known covariances that are square, symmetric, positive definite, with each effect in one block only",
      got,
    });
  };
  const placeInUse = new Map(positions.map((position, place) => [position, place]));
  const variances = Float64Array.from(positions, (position) => effects[position]!.variance);
  const knownOf = new Int32Array(positions.length).fill(-1);
  const placeOf = new Int32Array(positions.length);
  const known: KnownCovariance[] = [];
  const seen = new Set<number>();
  for (const block of knownCovariances) {
    const n = block.indices.length;
    if (block.values.length !== n * n) refuse(`${block.values.length} values for ${n} effects`);
    for (const index of block.indices) {
      const effect = effects[index];
      if (effect === undefined) return refuse(`position ${index} of ${effects.length} effects`);
      if (seen.has(index)) refuse(`effect ${effect.effectId} twice`);
      seen.add(index);
    }
    const kept = block.indices.flatMap((index, i) => (placeInUse.has(index) ? [i] : []));
    if (kept.length === 0) continue;
    const order = kept.sort(
      (a, b) => placeInUse.get(block.indices[a]!)! - placeInUse.get(block.indices[b]!)!,
    );
    const values = order.flatMap((i) => order.map((j) => block.values[i * n + j]!));
    const size = order.length;
    const names = () => order.map((i) => effects[block.indices[i]!]!.effectId).join(", ");
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < i; j++) {
        const [a, b] = [values[i * size + j]!, values[j * size + i]!];
        if (!(Math.abs(a - b) <= 1e-8 * Math.max(Math.abs(a), Math.abs(b)))) {
          refuse(`${a} and ${b} for the same pair among ${names()}`);
        }
      }
    }
    if (!isPositiveDefinite(values, size)) refuse(`a block that is not, for effects ${names()}`);
    const indices = order.map((i) => placeInUse.get(block.indices[i]!)!);
    indices.forEach((place, i) => {
      knownOf[place] = known.length;
      placeOf[place] = i;
      variances[place] = values[i * size + i]!;
    });
    known.push({ indices, values });
  }
  return { variances, known, knownOf, placeOf };
};

/** Judged on correlations, so that units do not matter. */
const isPositiveDefinite = (values: readonly number[], size: number): boolean => {
  const roots = Array.from({ length: size }, (_, i) => Math.sqrt(values[i * size + i]!));
  if (!roots.every((root) => root > 0 && root < Infinity)) return false;
  const scaled = Float64Array.from(
    values,
    (value, at) => value / roots[Math.floor(at / size)]! / roots[at % size]!,
  );
  return cholesky({ rows: size, columns: size, values: scaled }) !== undefined;
};

/** Sampling covariance of two effects in use. */
export const sampledTogether = (sampling: SamplingCovariance, a: number, b: number): number => {
  if (a === b) return sampling.variances[a]!;
  const block = sampling.knownOf[a]!;
  if (block < 0 || block !== sampling.knownOf[b]!) return 0;
  const { indices, values } = sampling.known[block]!;
  return values[sampling.placeOf[a]! * indices.length + sampling.placeOf[b]!]!;
};

/**
 * Groups of effects by the text of an id, numbered in text order.
 * @source none: bookkeeping
 */
export const groupsByText = (level: string, ids: readonly string[]): LevelGroups => {
  const texts = [...new Set(ids)].sort();
  const numbers = new Map(texts.map((text, number) => [text, number]));
  return { level, groupOf: Int32Array.from(ids, (id) => numbers.get(id)!), groups: texts.length };
};

/**
 * The blocks of the engine: known covariances and groups are joined into dense blocks while these stay
 * small; a group that spans several blocks becomes a shared intercept, so that ids used across the
 * whole file, or a study with thousands of effects, cost no more than they must.
 *
 * @param estimates one per effect in use
 * @param design effects × coefficients
 * @param levels one random intercept each, in the order of the variance parts
 * @source none: bookkeeping
 */
export const multilevelBlocks = (
  estimates: Float64Array,
  design: Matrix,
  sampling: SamplingCovariance,
  levels: readonly LevelGroups[],
): MultilevelBlocks => {
  const n = estimates.length;
  const join = disjointSets(n);
  for (const { indices } of sampling.known) {
    for (const index of indices) join.unite(indices[0]!, index);
  }
  const members = levels.map((level) => membersOf(level, n));
  for (const groups of members) {
    for (const group of groups) {
      const roots = new Set(group.map((row) => join.root(row)));
      let size = 0;
      for (const root of roots) size += join.size(root);
      if (size > blockLimit) continue;
      for (const root of roots) join.unite(group[0]!, root);
    }
  }
  const rowsOf = join.groups();
  const blockOf = new Int32Array(n);
  const placeIn = new Int32Array(n);
  rowsOf.forEach((rows, block) => {
    rows.forEach((row, place) => {
      blockOf[row] = block;
      placeIn[row] = place;
    });
  });
  const isShared = members.map((groups) =>
    groups.map((group) => group.some((row) => blockOf[row] !== blockOf[group[0]!])),
  );
  const sharedIntercepts = members.flatMap((groups, component) =>
    groups.flatMap((group, number) => {
      if (!isShared[component]![number]!) return [];
      const byBlock = new Map<number, number[]>();
      for (const row of group) {
        const list = byBlock.get(blockOf[row]!);
        if (list === undefined) byBlock.set(blockOf[row]!, [placeIn[row]!]);
        else list.push(placeIn[row]!);
      }
      return [{ component, members: [...byBlock].map(([block, rows]) => ({ block, rows })) }];
    }),
  );
  const p = design.columns;
  const blocks = rowsOf.map((rows): LikelihoodBlock => {
    const size = rows.length;
    const matrix = new Float64Array(size * p);
    rows.forEach((row, i) => matrix.set(design.values.subarray(row * p, (row + 1) * p), i * p));
    const covariance = new Float64Array(size * size);
    rows.forEach((a, i) => {
      rows.forEach((b, j) => (covariance[i * size + j] = sampledTogether(sampling, a, b)));
    });
    return {
      y: Float64Array.from(rows, (row) => estimates[row]!),
      design: { rows: size, columns: p, values: matrix },
      covariance: { rows: size, columns: size, values: covariance },
      components: levels.map((level, k) => sameGroup(level, isShared[k]!, rows)),
    };
  });
  return { blocks, sharedIntercepts, rowsOf };
};

/** Ones where two rows of the block share a group that lies inside the block; undefined when none does. */
const sameGroup = (
  level: LevelGroups,
  shared: readonly boolean[],
  rows: readonly number[],
): Matrix | undefined => {
  const size = rows.length;
  const values = new Float64Array(size * size);
  let any = false;
  rows.forEach((a, i) => {
    const group = level.groupOf[a]!;
    if (shared[group]!) return;
    any = true;
    rows.forEach((b, j) => {
      if (level.groupOf[b]! === group) values[i * size + j] = 1;
    });
  });
  return any ? { rows: size, columns: size, values } : undefined;
};

const membersOf = (level: LevelGroups, n: number): readonly (readonly number[])[] => {
  const members = Array.from({ length: level.groups }, () => [] as number[]);
  for (let row = 0; row < n; row++) members[level.groupOf[row]!]!.push(row);
  return members;
};
