/**
 * A regression with random intercepts once its standard deviations are given: there the coefficients are
 * exactly normal. Longer than most files because the inner loop is written out for speed.
 */
import { CallError } from "../errors.js";
import { disjointSets } from "../numeric/disjoint-sets.js";
import type { Matrix } from "../numeric/matrix.js";
import type { KnownCovariance } from "../synthesis/synthesis-input.js";

/** A random intercept: effects with the same number share it. */
export type RandomIntercept = Readonly<{ name: string; groupOf: ArrayLike<number> }>;

/** y = F(Xβ + Σ_k Z_k u_k) + e, with e ~ N(0, V) known and F a diagonal of factors, 1 unless a curve is given. */
export type RegressionProblem = Readonly<{
  estimates: ArrayLike<number>;
  variances: ArrayLike<number>;
  /** Known covariances of effects that share people or controls; the diagonal replaces `variances`. */
  covariances: readonly KnownCovariance[];
  /** Effects × coefficients. */
  design: Matrix;
  intercepts: readonly RandomIntercept[];
  /** Factor of each effect's row for a value of the curve's parameter; absent when there is no curve. */
  curve?: (parameter: number) => ArrayLike<number>;
}>;

/** Normal prior of one coefficient; an infinite deviation is flat. */
export type NormalPrior = Readonly<{ mean: number; deviation: number }>;

/** Coefficients given the deviations: mean, and L with LLᵀ the precision matrix (row-major, lower). */
export type ConditionalPosterior = Readonly<{
  /** ln p(y | deviations), coefficients integrated out; constant terms of flat priors are left out. */
  logDensity: number;
  mean: Float64Array;
  precisionFactor: Float64Array;
}>;

type Block = Readonly<{
  rows: Int32Array;
  covariance: Float64Array;
  /** Group numbers of the block's rows, one array for each random intercept. */
  groups: readonly Int32Array[];
  /** Columns of the design that are not 0 in every row of the block. */
  columns: Int32Array;
}>;

/** What the effects say at one set of deviations, before any prior of the coefficients has its part. */
export type RegressionParts = Readonly<{
  /** XᵀFM⁻¹FX (row-major, lower), and XᵀFM⁻¹r with r = y − FXm₀. */
  precision: Float64Array;
  cross: Float64Array;
  /** −½ [ n ln 2π + ln|M| + r′M⁻¹r ]. */
  logDensity: number;
}>;

/** Effects tied by a covariance or a group: their positions, LLᵀ = M, and r and FX multiplied by L⁻¹ (row-major). */
export type WhitenedBlock = Readonly<{
  rows: Int32Array;
  factor: Float64Array;
  residuals: Float64Array;
  design: Float64Array;
}>;

export type CompiledRegression = Readonly<{
  columns: number;
  /** Sums over all effects at one set of deviations, or block by block; undefined where M is singular. */
  parts: (deviations: ArrayLike<number>, parameter?: number) => RegressionParts | undefined;
  blocks: (
    deviations: ArrayLike<number>,
    parameter?: number,
  ) => readonly WhitenedBlock[] | undefined;
  /** Evaluates one set of deviations (and the curve's parameter); undefined where precision is singular. */
  at: (deviations: ArrayLike<number>, parameter?: number) => ConditionalPosterior | undefined;
}>;

const logTwoPi = Math.log(2 * Math.PI);
const where = "bayesianRegression";

/** Rows tied by a known covariance or a shared intercept, as lists of positions. */
const tiedRows = (problem: RegressionProblem): readonly Int32Array[] => {
  const rows = disjointSets(problem.estimates.length);
  for (const { indices } of problem.covariances)
    for (const index of indices) rows.unite(indices[0]!, index);
  for (const { groupOf } of problem.intercepts) rows.uniteAlike(groupOf);
  return rows.groups().map((members) => Int32Array.from(members));
};

const blocksOf = (problem: RegressionProblem): readonly Block[] => {
  const n = problem.estimates.length;
  const { columns: p, values: x } = problem.design;
  const knownOf = new Int32Array(n).fill(-1);
  const placeOf = new Int32Array(n);
  problem.covariances.forEach(({ indices }, block) =>
    indices.forEach((row, place) => {
      knownOf[row] = block;
      placeOf[row] = place;
    }),
  );
  const covarianceOf = (a: number, b: number): number => {
    const known = problem.covariances[knownOf[a]!];
    if (known !== undefined && knownOf[a] === knownOf[b])
      return known.values[placeOf[a]! * known.indices.length + placeOf[b]!]!;
    return a === b ? problem.variances[a]! : 0;
  };
  return tiedRows(problem).map((rows) => {
    const size = rows.length;
    const covariance = new Float64Array(size * size);
    for (let i = 0; i < size; i++)
      for (let j = 0; j < size; j++) covariance[i * size + j] = covarianceOf(rows[i]!, rows[j]!);
    return {
      rows,
      covariance,
      groups: problem.intercepts.map(({ groupOf }) =>
        Int32Array.from(rows, (row) => groupOf[row]!),
      ),
      columns: Int32Array.from({ length: p }, (_, a) => a).filter((a) =>
        rows.some((row) => x[row * p + a] !== 0),
      ),
    };
  });
};

/** Lower Cholesky factor in place; ln det, or NaN when not positive definite. */
export const factorise = (a: Float64Array, size: number): number => {
  let logDeterminant = 0;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let total = a[i * size + j]!;
      for (let k = 0; k < j; k++) total -= a[i * size + k]! * a[j * size + k]!;
      if (i === j) {
        if (!(total > 1e-14 * Math.abs(a[i * size + i]!))) return NaN;
        const pivot = Math.sqrt(total);
        a[i * size + i] = pivot;
        logDeterminant += 2 * Math.log(pivot);
      } else a[i * size + j] = total / a[j * size + j]!;
    }
  }
  return logDeterminant;
};

/** L⁻¹b. */
export const forwardSolved = (factor: Float64Array, b: ArrayLike<number>): Float64Array => {
  const size = b.length;
  const z = new Float64Array(size);
  for (let a = 0; a < size; a++) {
    let total = b[a]!;
    for (let k = 0; k < a; k++) total -= factor[a * size + k]! * z[k]!;
    z[a] = total / factor[a * size + a]!;
  }
  return z;
};

/** Sum of squares. */
export const squaresOf = (z: Float64Array): number => {
  let squares = 0;
  for (const value of z) squares += value * value;
  return squares;
};

/** x with LLᵀx = b, written to `x`; returns b′x. */
export const solveFactored = (
  factor: Float64Array,
  b: ArrayLike<number>,
  x: Float64Array,
): number => {
  const size = x.length;
  x.set(forwardSolved(factor, b));
  const product = squaresOf(x);
  for (let a = size - 1; a >= 0; a--) {
    let total = x[a]!;
    for (let k = a + 1; k < size; k++) total -= factor[k * size + a]! * x[k]!;
    x[a] = total / factor[a * size + a]!;
  }
  return product;
};

/**
 * A regression made ready to be evaluated at many sets of deviations.
 *
 *   M = V + F(Σ_k σ_k² Z_k Z_kᵀ)F     P = XᵀF M⁻¹ F X + S₀⁻¹     b = m₀ + P⁻¹ XᵀF M⁻¹ (y − FXm₀)
 *   β | σ, y ~ N(b, P⁻¹)
 *   ln p(y | σ) = −½ [ n ln 2π + ln|M| + ln|P| + ln|S₀| + r′M⁻¹r − c′P⁻¹c ],  r = y − FXm₀, c = XᵀFM⁻¹r
 *
 * @param priors one for each coefficient
 * @throws {CallError} "shape" when sizes disagree, "bad-prior" for a deviation that is not above 0
 * @source Lindley DV, Smith AFM (1972) Journal of the Royal Statistical Society B 34:1–41
 */
export const compiledRegression = (
  problem: RegressionProblem,
  priors: readonly NormalPrior[],
): CompiledRegression => {
  const p = problem.design.columns;
  const n = problem.estimates.length;
  if (problem.design.rows !== n || priors.length !== p || problem.variances.length !== n) {
    throw new CallError({
      code: "shape",
      where,
      needs: "a design row and a variance for each effect, and a prior for each column",
      got: `${n} effects, a ${problem.design.rows} × ${p} design and ${priors.length} priors`,
    });
  }
  for (const { mean, deviation } of priors) {
    if (!(deviation > 0) || !Number.isFinite(mean)) {
      throw new CallError({
        code: "bad-prior",
        where,
        needs: "priors with a finite mean and a deviation above 0",
        got: `mean ${mean}, deviation ${deviation}`,
      });
    }
  }
  const blocks = blocksOf(problem);
  const largest = blocks.reduce((size, { rows }) => Math.max(size, rows.length), 0);
  const scratch = new Float64Array(largest * largest);
  // Whitened columns of a block one after the other, the residual last.
  const white = new Float64Array(largest * (p + 1));
  const x = problem.design.values;
  // y − Xm₀ splits into y and Xm₀, because a curve multiplies the second alone.
  const fromPrior = Float64Array.from({ length: n }, (_, row) => {
    let total = 0;
    for (let a = 0; a < p; a++) total += x[row * p + a]! * priors[a]!.mean;
    return total;
  });
  let logPriorPrecision = 0;
  for (const { deviation } of priors)
    if (Number.isFinite(deviation)) logPriorPrecision -= 2 * Math.log(deviation);
  const ones = new Float64Array(n).fill(1);

  /** Factors and whitened rows of one block after the other; false where a covariance is singular. */
  const walk = (
    deviations: ArrayLike<number>,
    parameter: number | undefined,
    take: (block: Block, logDeterminant: number) => void,
  ): boolean => {
    const factors =
      problem.curve === undefined || parameter === undefined ? ones : problem.curve(parameter);
    for (const block of blocks) {
      const { rows, covariance, groups, columns } = block;
      const size = rows.length;
      scratch.set(covariance);
      for (let k = 0; k < groups.length; k++) {
        const variance = deviations[k]! ** 2;
        if (variance === 0) continue;
        const group = groups[k]!;
        for (let i = 0; i < size; i++) {
          const scaled = variance * factors[rows[i]!]!;
          for (let j = 0; j <= i; j++)
            if (group[i] === group[j]) scratch[i * size + j]! += scaled * factors[rows[j]!]!;
        }
      }
      const part = factorise(scratch, size);
      if (Number.isNaN(part)) return false;
      const count = columns.length;
      for (let c = 0; c <= count; c++) {
        const a = c < count ? columns[c]! : p;
        const to = c * size;
        for (let i = 0; i < size; i++) {
          const row = rows[i]!;
          let total =
            c < count
              ? factors[row]! * x[row * p + a]!
              : problem.estimates[row]! - factors[row]! * fromPrior[row]!;
          const line = i * size;
          for (let k = 0; k < i; k++) total -= scratch[line + k]! * white[to + k]!;
          white[to + i] = total / scratch[line + i]!;
        }
      }
      take(block, part);
    }
    return true;
  };

  const parts: CompiledRegression["parts"] = (deviations, parameter) => {
    const precision = new Float64Array(p * p);
    const cross = new Float64Array(p);
    let squares = 0;
    let logDeterminant = 0;
    const sound = walk(deviations, parameter, ({ rows, columns }, part) => {
      logDeterminant += part;
      const size = rows.length;
      const count = columns.length;
      const last = count * size;
      for (let i = 0; i < size; i++) squares += white[last + i]! ** 2;
      for (let c = 0; c < count; c++) {
        const a = columns[c]!;
        const from = c * size;
        let total = 0;
        for (let i = 0; i < size; i++) total += white[from + i]! * white[last + i]!;
        cross[a]! += total;
        for (let d = 0; d <= c; d++) {
          const other = d * size;
          let product = 0;
          for (let i = 0; i < size; i++) product += white[from + i]! * white[other + i]!;
          precision[a * p + columns[d]!]! += product;
        }
      }
    });
    return sound
      ? { precision, cross, logDensity: -0.5 * (n * logTwoPi + logDeterminant + squares) }
      : undefined;
  };

  const blocksAt: CompiledRegression["blocks"] = (deviations, parameter) => {
    const found: WhitenedBlock[] = [];
    const sound = walk(deviations, parameter, ({ rows, columns }) => {
      const size = rows.length;
      const design = new Float64Array(size * p);
      columns.forEach((a, c) => {
        for (let i = 0; i < size; i++) design[i * p + a] = white[c * size + i]!;
      });
      const last = columns.length * size;
      found.push({
        rows,
        factor: scratch.slice(0, size * size),
        residuals: white.slice(last, last + size),
        design,
      });
    });
    return sound ? found : undefined;
  };

  const at: CompiledRegression["at"] = (deviations, parameter) => {
    const found = parts(deviations, parameter);
    if (found === undefined) return undefined;
    const { precision, cross } = found;
    for (let a = 0; a < p; a++) precision[a * p + a]! += 1 / priors[a]!.deviation ** 2;
    const logPrecision = factorise(precision, p);
    if (Number.isNaN(logPrecision)) return undefined;
    const mean = new Float64Array(p);
    const explained = solveFactored(precision, cross, mean);
    for (let a = 0; a < p; a++) mean[a]! += priors[a]!.mean;
    return {
      logDensity: found.logDensity - 0.5 * (logPrecision - logPriorPrecision - explained),
      mean,
      precisionFactor: precision,
    };
  };
  return { columns: p, parts, blocks: blocksAt, at };
};
