/** The components of a posterior as the regressions that they are, for checks that put data in or take them out. */
import type { RegressionProblem } from "./bayesian-regression.js";
import type { CondensedPosterior } from "./condensed-posterior.js";
import {
  compiledRegression,
  factorise,
  solveFactored,
  type NormalPrior,
  type WhitenedBlock,
} from "./conditional-posterior.js";
import type { Choice } from "./projection-design.js";

/** One component: r = y − FXm₀ and G = FX over its own columns, both multiplied by L⁻¹ with LLᵀ = M. */
export type ComponentModel = Readonly<{
  weight: number;
  columns: number;
  /** Blocks of effects tied to each other, the same in every component; designs have the component's columns alone. */
  blocks: readonly WhitenedBlock[];
  /** GᵀG + S₀⁻¹ (row-major, lower), its factor, and Gᵀr. */
  precision: Float64Array;
  factor: Float64Array;
  cross: Float64Array;
  /** The coefficients' means, less those of their priors. */
  mean: Float64Array;
}>;

/**
 * Every component of a posterior as a regression at its own deviations and course.
 *
 * @param priors of the design's columns as `ProjectionDesign` has them
 * @source none: the model of `compiledRegression`
 */
export const componentModels = (
  problem: RegressionProblem,
  priors: readonly NormalPrior[],
  choices: readonly Choice[],
  posterior: CondensedPosterior,
): readonly ComponentModel[] => {
  const { rows: _rows, columns: p } = problem.design;
  const regression = compiledRegression(problem, priors);
  const own = priors.map(({ deviation }) => deviation);
  for (const { options } of choices)
    for (const { column, deviation } of options) if (column !== undefined) own[column] = deviation;
  const { columns: q, weights, active, levelVariances, parameters } = posterior;
  const levels = problem.intercepts.length;
  return Array.from(weights, (weight, component): ComponentModel => {
    const columns = active
      .slice(component * q, (component + 1) * q)
      .filter((column) => column >= 0);
    const r = columns.length;
    const deviations = levelVariances
      .slice(component * levels, (component + 1) * levels)
      .map(Math.sqrt);
    const blocks = regression
      .blocks(deviations, problem.curve === undefined ? undefined : parameters[component])!
      .map((block) => {
        const size = block.rows.length;
        const design = new Float64Array(size * r);
        for (let i = 0; i < size; i++)
          for (let a = 0; a < r; a++) design[i * r + a] = block.design[i * p + columns[a]!]!;
        return { ...block, design };
      });
    const precision = new Float64Array(r * r);
    const cross = new Float64Array(r);
    for (const block of blocks) addSquares(precision, cross, block, r, 1);
    columns.forEach((column, a) => (precision[a * r + a]! += 1 / own[column]! ** 2));
    const factor = precision.slice();
    factorise(factor, r);
    const mean = new Float64Array(r);
    solveFactored(factor, cross, mean);
    return { weight, columns: r, blocks, precision, factor, cross, mean };
  });
};

/** Adds sign × GᵀG and sign × Gᵀr of a block to sums. */
export const addSquares = (
  precision: Float64Array,
  cross: Float64Array,
  { residuals, design }: WhitenedBlock,
  columns: number,
  sign: 1 | -1,
): void => {
  for (let i = 0; i < residuals.length; i++) {
    const line = i * columns;
    for (let a = 0; a < columns; a++) {
      const x = sign * design[line + a]!;
      cross[a]! += x * residuals[i]!;
      for (let b = 0; b <= a; b++) precision[a * columns + b]! += x * design[line + b]!;
    }
  }
};

/** Σ weights·(row i of Lz) over a block's rows is v·z with v = Lᵀ weights; `weightOf` gives a row's weight. */
export const whitenedWeights = (
  { rows, factor }: WhitenedBlock,
  weightOf: (row: number) => number,
): Float64Array => {
  const size = rows.length;
  const found = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    const weight = weightOf(rows[i]!);
    if (weight !== 0) for (let j = 0; j <= i; j++) found[j]! += weight * factor[i * size + j]!;
  }
  return found;
};

/** Residuals r − Gb of a block, still multiplied by L⁻¹. */
export const blockErrors = (
  { residuals, design }: WhitenedBlock,
  mean: Float64Array,
): Float64Array =>
  residuals.map((residual, i) => {
    let total = residual;
    for (let a = 0; a < mean.length; a++) total -= design[i * mean.length + a]! * mean[a]!;
    return total;
  });
