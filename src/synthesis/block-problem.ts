/**
 * A linear mixed model in blocks of rows, as the block engine takes it.
 *
 *   y_j = X_j β + u_j + e_j      M_j = Var(y_j) = V_j + Σ_k θ_k B_jk,  θ ≥ 0
 *
 * Blocks are independent, except through shared intercepts: random intercepts whose group has rows
 * in several blocks. They add θ_k z z' over those blocks (z = 1 for the group's rows).
 */
import { CallError } from "../errors.js";
import { disjointSets } from "../numeric/disjoint-sets.js";
import type { Matrix } from "../numeric/matrix.js";
import {
  coefficientsFromBasis,
  orthonormalDesign,
  type OrthonormalDesign,
} from "./orthonormal-design.js";

/** Rows that belong together: values, design, known covariance, one component per variance part. */
export type LikelihoodBlock = Readonly<{
  y: Float64Array;
  /** rows × coefficients; every block has the same columns. */
  design: Matrix;
  /** rows × rows, symmetric, positive definite together with the components. */
  covariance: Matrix;
  /** One rows × rows symmetric matrix per variance part; undefined stands for zero. */
  components: readonly (Matrix | undefined)[];
}>;

/** One group of a random intercept with rows in several blocks. */
export type SharedIntercept = Readonly<{
  /** Which variance part it belongs to. */
  component: number;
  members: readonly Readonly<{ block: number; rows: readonly number[] }>[];
}>;

/** The entries of a component that are not zero. */
export type SparseComponent = Readonly<{
  rows: Int32Array;
  columns: Int32Array;
  values: Float64Array;
}>;

/** One block, ready: where its rows and its square matrix stand among those of all blocks, and its parts. */
export type PreparedBlock = Readonly<{
  rows: number;
  /** Its first row. */
  from: number;
  /** The first entry of its square matrix. */
  square: number;
  components: readonly (SparseComponent | undefined)[];
  /** Columns of the cluster's shared part that touch this block, with their rows. */
  shared: readonly Readonly<{ column: number; rows: readonly number[] }>[];
}>;

/** Blocks tied together by shared intercepts; independent of all other clusters. */
export type BlockCluster = Readonly<{
  blocks: readonly number[];
  /** Variance part of each shared column. */
  sharedComponents: readonly number[];
}>;

/**
 * All blocks in the form the likelihood works on. What has a value for each row stands in one array, block after block, and
 * so does what has a square matrix for each block: the likelihood is asked for a great many times, and an array for each
 * block would take longer than the sums.
 */
export type BlockProblem = Readonly<{
  blocks: readonly PreparedBlock[];
  /** The basis, and what is left of y after ordinary least squares as a last column; rows × (columns + 1). */
  basisAndY: Float64Array;
  /** Known covariances, a square matrix for each block. */
  covariances: Float64Array;
  clusters: readonly BlockCluster[];
  design: OrthonormalDesign;
  /** Coefficients taken out of y beforehand, on the basis. */
  offset: Float64Array;
  rows: number;
  columns: number;
  components: number;
  /** Mean square of y around its least-squares fit. */
  residualMeanSquare: number;
  /** Mean of the known variances. */
  meanVariance: number;
}>;

const where = "fitBlocks";

/**
 * The problem in the form the likelihood works on.
 *
 * @throws {CallError} "no-blocks", "unequal-columns", "aliased-columns", "too-few-rows"
 * @source none: bookkeeping
 */
export const blockProblem = (
  blocks: readonly LikelihoodBlock[],
  shared: readonly SharedIntercept[],
): BlockProblem => {
  const first = blocks[0];
  if (first === undefined) {
    throw new CallError({ code: "no-blocks", where, needs: "at least one block", got: "none" });
  }
  const columns = first.design.columns;
  const components = first.components.length;
  for (const block of blocks) checkBlock(block, columns, components);
  const rows = blocks.reduce((total, block) => total + block.y.length, 0);
  if (rows <= columns) {
    throw new CallError({
      code: "too-few-rows",
      where,
      needs: "more effects than coefficients",
      got: `${rows} effects and ${columns} coefficients`,
    });
  }
  const design = orthonormalDesign(blocks.map((block) => block.design));
  if (design.aliased.length > 0) {
    throw new CallError({
      code: "aliased-columns",
      where,
      needs: "design columns that are not sums of one another",
      got: `dependent columns at ${design.aliased.join(", ")}`,
    });
  }
  const { offset, residuals, residualSquares } = withoutLeastSquares(blocks, design);
  const { clusters, sharedByBlock } = clustersOf(blocks.length, shared);
  let varianceTotal = 0;
  for (const block of blocks) {
    const n = block.y.length;
    for (let i = 0; i < n; i++) varianceTotal += block.covariance.values[i * n + i]!;
  }
  const stride = columns + 1;
  const basisAndY = new Float64Array(rows * stride);
  const covariances = new Float64Array(
    blocks.reduce((total, { y }) => total + y.length * y.length, 0),
  );
  let from = 0;
  let square = 0;
  const prepared = blocks.map((block, index): PreparedBlock => {
    const n = block.y.length;
    const basis = design.bases[index]!;
    for (let i = 0; i < n; i++) {
      const row = (from + i) * stride;
      for (let j = 0; j < columns; j++) basisAndY[row + j] = basis[i * columns + j]!;
      basisAndY[row + columns] = residuals[index]![i]!;
    }
    covariances.set(block.covariance.values, square);
    const ready = {
      rows: n,
      from,
      square,
      components: block.components.map((component) => component && sparse(component)),
      shared: sharedByBlock[index]!,
    };
    from += n;
    square += n * n;
    return ready;
  });
  return {
    blocks: prepared,
    basisAndY,
    covariances,
    clusters,
    design,
    offset,
    rows,
    columns,
    components,
    residualMeanSquare: residualSquares / (rows - columns),
    meanVariance: varianceTotal / rows,
  };
};

const sparse = (component: Matrix): SparseComponent => {
  let count = 0;
  for (const value of component.values) if (value !== 0) count += 1;
  const rows = new Int32Array(count);
  const columns = new Int32Array(count);
  const values = new Float64Array(count);
  let entry = 0;
  for (let i = 0; i < component.rows; i++) {
    for (let j = 0; j < component.columns; j++) {
      const value = component.values[i * component.columns + j]!;
      if (value === 0) continue;
      rows[entry] = i;
      columns[entry] = j;
      values[entry] = value;
      entry += 1;
    }
  }
  return { rows, columns, values };
};

const checkBlock = (block: LikelihoodBlock, columns: number, components: number): void => {
  const n = block.y.length;
  const square = (matrix: Matrix | undefined) =>
    matrix === undefined || (matrix.rows === n && matrix.columns === n);
  if (
    block.design.columns !== columns ||
    block.components.length !== components ||
    block.design.rows !== n ||
    !square(block.covariance) ||
    !block.components.every(square)
  ) {
    throw new CallError({
      code: "unequal-columns",
      where,
      needs: `blocks of ${columns} columns and ${components} variance parts, with square matrices`,
      got: `a block of ${n} values, a ${block.design.rows} × ${block.design.columns} design and ${block.components.length} variance parts`,
    });
  }
};

/** y minus its least-squares fit: the likelihood then never subtracts large numbers from each other. */
const withoutLeastSquares = (blocks: readonly LikelihoodBlock[], design: OrthonormalDesign) => {
  const p = design.columns;
  const offset = new Float64Array(p);
  let residuals = blocks.map((block) => Float64Array.from(block.y));
  for (let pass = 0; pass < 2; pass++) {
    const share = new Float64Array(p);
    residuals.forEach((values, index) => {
      const basis = design.bases[index]!;
      for (let i = 0; i < values.length; i++) {
        for (let j = 0; j < p; j++) share[j]! += basis[i * p + j]! * values[i]!;
      }
    });
    residuals = residuals.map((values, index) => {
      const basis = design.bases[index]!;
      return values.map((value, i) => {
        let fitted = 0;
        for (let j = 0; j < p; j++) fitted += basis[i * p + j]! * share[j]!;
        return value - fitted;
      });
    });
    for (let j = 0; j < p; j++) offset[j]! += share[j]!;
  }
  let residualSquares = 0;
  for (const values of residuals) for (const value of values) residualSquares += value * value;
  return { offset, residuals, residualSquares };
};

/** Blocks joined by shared intercepts, and each block's list of shared columns. */
const clustersOf = (blockCount: number, shared: readonly SharedIntercept[]) => {
  const joined = disjointSets(blockCount);
  for (const { members } of shared)
    for (const { block } of members) joined.unite(members[0]!.block, block);
  const sharedComponents = new Map<number, number[]>();
  const sharedByBlock = Array.from(
    { length: blockCount },
    () => [] as { column: number; rows: readonly number[] }[],
  );
  for (const intercept of shared) {
    if (intercept.members.length === 0) continue;
    const key = joined.root(intercept.members[0]!.block);
    const list = sharedComponents.get(key) ?? [];
    for (const member of intercept.members) {
      sharedByBlock[member.block]!.push({ column: list.length, rows: member.rows });
    }
    list.push(intercept.component);
    sharedComponents.set(key, list);
  }
  const clusters: readonly BlockCluster[] = joined.groups().map((blocks) => ({
    blocks,
    sharedComponents: sharedComponents.get(joined.root(blocks[0]!)) ?? [],
  }));
  return { clusters, sharedByBlock };
};

/** Coefficients on the caller's design from coefficients on the basis of what was left of y. */
export const callerCoefficients = (
  problem: BlockProblem,
  onBasis: ArrayLike<number>,
): Float64Array =>
  coefficientsFromBasis(
    problem.design,
    Float64Array.from(problem.offset, (value, index) => value + onBasis[index]!),
  );
