/**
 * The posterior over many regressions that differ in the shapes of their doses, each weighed by its evidence.
 * Long because one search through all of them is written out for speed.
 */
import type { Matrix } from "../numeric/matrix.js";
import {
  bayesianRegression,
  type NormalPrior,
  type QuadratureOptions,
  type RegressionPosterior,
  type RegressionPriors,
  type RegressionProblem,
} from "./bayesian-regression.js";
import {
  addSecondMoment,
  cells,
  fullParameters,
  lowerFactor,
  parameterWeight,
  standardised,
  type CondensedPosterior,
} from "./condensed-posterior.js";
import { compiledRegression, factorise, solveFactored } from "./conditional-posterior.js";
import type { Choice } from "./projection-design.js";

export type ShapeAverage = Readonly<{
  posterior: CondensedPosterior;
  /** Weight of each option of each choice, in their order. */
  weights: readonly (readonly number[])[];
  /** Models weighed. */
  models: number;
  quadrature: RegressionPosterior["quadrature"];
}>;

/** Groups of deviations and course at which all models are weighed, and components that are kept. */
const cellCount = 64;
const componentCount = 600;

/** Steps of the golden ratio fall evenly into an interval however many are taken. */
const goldenStep = (Math.sqrt(5) - 1) / 2;

/** A covariance's largest directions are kept until so much of its variance is left. */
const leftOver = 0.01;

/** Columns that span the prior covariance Σ w s² x xᵀ of a choice: a pivoted factor of it. */
const spanOf = (design: Matrix, { options }: Choice): readonly Float64Array[] => {
  const { rows, columns: p, values } = design;
  const parts = options.flatMap(({ column, deviation, weight }) =>
    column === undefined
      ? []
      : [
          Float64Array.from(
            { length: rows },
            (_, i) => Math.sqrt(weight) * deviation * values[i * p + column]!,
          ),
        ],
  );
  const left = Float64Array.from({ length: rows }, (_, i) =>
    parts.reduce((sum, part) => sum + part[i]! ** 2, 0),
  );
  const enough = leftOver * left.reduce((sum, value) => sum + value, 0);
  const found: Float64Array[] = [];
  while (found.length < parts.length && left.reduce((sum, value) => sum + value, 0) > enough) {
    const top = left.indexOf(Math.max(...left));
    const pivot = Math.sqrt(left[top]!);
    const column = Float64Array.from({ length: rows }, (_, i) => {
      let total = 0;
      for (const part of parts) total += part[i]! * part[top]!;
      for (const one of found) total -= one[i]! * one[top]!;
      return total / pivot;
    });
    column.forEach((value, i) => (left[i] = Math.max(0, left[i]! - value ** 2)));
    found.push(column);
  }
  return found;
};

/** ln of the evidence of every model at one point, models in the order of their digits, the first slowest. */
type Weigher = (precision: Float64Array, cross: Float64Array, into: Float64Array) => number;

/**
 * Weighs all models at a point from one matrix of sums.
 *
 *   ln p(y) = −½ ( ln|P| − Σ ln s⁻² − c′P⁻¹c ) + what they share,    P = XᵀM⁻¹X + S⁻¹ over the model's columns
 *
 * The columns of every model are eliminated once; a model then adds one row to the factor for each choice, and models that begin
 * alike share those rows.
 */
const weigher = (choices: readonly Choice[], priors: readonly NormalPrior[]): Weigher => {
  const p = priors.length;
  const chosen = new Set(
    choices.flatMap(({ options }) => options.flatMap(({ column }) => column ?? [])),
  );
  const fixed = priors.flatMap((_, a) => (chosen.has(a) ? [] : [a]));
  const free = [...chosen];
  const order = [...fixed, ...free];
  const placeOf = new Map(order.map((column, place) => [column, place]));
  const k = fixed.length;
  const depth = choices.length;
  // Rows of the small factor over the choices made so far, and the solved right side.
  const rows = Array.from({ length: depth }, () => new Float64Array(depth));
  const solved = new Float64Array(depth);
  const path = new Int32Array(depth);
  return (precision, cross, into) => {
    const reduced = new Float64Array(p * p);
    const right = new Float64Array(p);
    for (let i = 0; i < p; i++) {
      const a = order[i]!;
      for (let j = 0; j <= i; j++) {
        const b = order[j]!;
        reduced[i * p + j] = a >= b ? precision[a * p + b]! : precision[b * p + a]!;
      }
      if (i < k) reduced[i * p + i]! += 1 / priors[a]!.deviation ** 2;
      right[i] = cross[a]!;
    }
    let shared = 0;
    for (let j = 0; j < k; j++) {
      const pivot = Math.sqrt(reduced[j * p + j]!);
      const z = right[j]! / pivot;
      const { deviation } = priors[order[j]!]!;
      shared += 0.5 * z * z - Math.log(pivot) - (deviation === Infinity ? 0 : Math.log(deviation));
      for (let i = j + 1; i < p; i++) reduced[i * p + j]! /= pivot;
      for (let i = j + 1; i < p; i++) {
        const l = reduced[i * p + j]!;
        right[i]! -= l * z;
        for (let m = j + 1; m <= i; m++) reduced[i * p + m]! -= l * reduced[m * p + j]!;
      }
    }
    let next = 0;
    const go = (level: number, made: number, log: number): void => {
      if (level === depth) {
        into[next++] = log;
        return;
      }
      for (const { column, deviation, weight } of choices[level]!.options) {
        const here = log + Math.log(weight);
        if (column === undefined) {
          go(level + 1, made, here);
          continue;
        }
        const i = placeOf.get(column)!;
        const row = rows[made]!;
        let square = reduced[i * p + i]! + 1 / deviation ** 2;
        let z = right[i]!;
        for (let j = 0; j < made; j++) {
          const other = path[j]!;
          let total = i >= other ? reduced[i * p + other]! : reduced[other * p + i]!;
          for (let m = 0; m < j; m++) total -= row[m]! * rows[j]![m]!;
          row[j] = total / rows[j]![j]!;
          square -= row[j]! ** 2;
          z -= row[j]! * solved[j]!;
        }
        const pivot = Math.sqrt(square);
        row[made] = pivot;
        solved[made] = z / pivot;
        path[made] = i;
        go(level + 1, made + 1, here + 0.5 * solved[made] ** 2 - Math.log(pivot * deviation));
      }
    };
    go(0, 0, shared);
    return next;
  };
};

/**
 * A posterior averaged over models, one for each way to choose a column from every choice.
 *
 *   w ∝ ∫ p(model) p(y | model, σ, c) p(σ, c)      σ = deviations of the levels, c = the course's constant
 *
 * A regression whose doses have the covariance that the prior of all models together gives them is integrated over σ and c
 * (`bayesianRegression`). Its points are put into 64 cells; in each cell every model is weighed exactly at the cell's middle,
 * against that regression. Of models × cells 600 are drawn at even steps of their weight, each at one point of its cell, and there
 * coefficients are exactly normal. The same input gives the same digits.
 *
 * @param problem with every column that a model may have
 * @param priors of the coefficients as `ProjectionDesign` has them, of the deviations, and of the course
 * @source Hoeting JA, Madigan D, Raftery AE, Volinsky CT (1999) Statistical Science 14:382–401 (averages over models)
 */
export const shapeAverage = (
  problem: RegressionProblem,
  priors: RegressionPriors,
  choices: readonly Choice[],
  quadrature: QuadratureOptions = {},
): ShapeAverage => {
  const { design } = problem;
  const { rows: n, columns: p } = design;
  const chosen = new Set(
    choices.flatMap(({ options }) => options.flatMap(({ column }) => column ?? [])),
  );
  const fixed = priors.coefficients.flatMap((_, a) => (chosen.has(a) ? [] : [a]));
  const spans = choices.flatMap((choice) => spanOf(design, choice));
  const width = fixed.length + spans.length;
  const proposal: Matrix = {
    rows: n,
    columns: width,
    values: Float64Array.from({ length: n * width }, (_, at) => {
      const [i, a] = [Math.floor(at / width), at % width];
      return a < fixed.length ? design.values[i * p + fixed[a]!]! : spans[a - fixed.length]![i]!;
    }),
  };
  const proposalPriors = [
    ...fixed.map((a) => priors.coefficients[a]!),
    ...spans.map(() => ({ mean: 0, deviation: 1 })),
  ];
  const matched = { ...problem, design: proposal };
  const base = bayesianRegression(
    matched,
    { ...priors, coefficients: proposalPriors },
    {
      ...quadrature,
      checkedRows: checkedRows(proposal),
    },
  );
  const levels = problem.intercepts.length;
  const parameters = fullParameters(base);
  const deviationsAt = (point: number): Float64Array =>
    base.deviations.subarray(point * levels, (point + 1) * levels);
  const features = [
    standardised(parameters.map(Math.log), base.weights, parameterWeight),
    ...Array.from({ length: levels }, (_, k) =>
      standardised(
        base.weights.map((_w, point) => deviationsAt(point)[k]!),
        base.weights,
        1,
      ),
    ),
  ];
  const groups = cells(base.weights, features, cellCount)
    .map((members) => [...members].sort((a, b) => parameters[a]! - parameters[b]!))
    .sort((a, b) => parameters[a[a.length >> 1]!]! - parameters[b[b.length >> 1]!]!);
  const baseline = compiledRegression(matched, proposalPriors);
  const union = compiledRegression(problem, priors.coefficients);
  const weigh = weigher(choices, priors.coefficients);
  const models = choices.reduce((product, { options }) => product * options.length, 1);
  const logs = groups.map((members) => {
    let mass = 0;
    let log = 0;
    const squares = new Float64Array(levels);
    for (const point of members) {
      const weight = base.weights[point]!;
      mass += weight;
      log += weight * Math.log(parameters[point]!);
      deviationsAt(point).forEach((deviation, k) => (squares[k]! += weight * deviation ** 2));
    }
    const deviations = squares.map((square) => Math.sqrt(square / mass));
    const constant = Math.exp(log / mass);
    const parts = union.parts(deviations, constant)!;
    const own = new Float64Array(models);
    weigh(parts.precision, parts.cross, own);
    const against =
      Math.log(mass) + parts.logDensity - baseline.at(deviations, constant)!.logDensity;
    return own.map((value) => value + against);
  });
  const top = logs.reduce((high, own) => own.reduce((a, b) => Math.max(a, b), high), -Infinity);
  let total = 0;
  const ofModel = new Float64Array(models);
  for (const own of logs)
    for (let j = 0; j < models; j++) {
      const weight = (own[j] = Math.exp(own[j]! - top));
      ofModel[j]! += weight;
      total += weight;
    }
  const optionsOf = (model: number): readonly number[] => {
    const digits: number[] = [];
    for (let level = choices.length - 1; level >= 0; level--) {
      const base = choices[level]!.options.length;
      digits.unshift(model % base);
      model = Math.floor(model / base);
    }
    return digits;
  };
  const weights = choices.map(({ options }) => new Float64Array(options.length));
  ofModel.forEach((weight, j) => {
    if (weight > 0)
      optionsOf(j).forEach((option, level) => (weights[level]![option]! += weight / total));
  });
  // One place in each even step of weight, through the models and inside each through the cells.
  const markOf = (k: number): number =>
    ((k + (((k + 1) * goldenStep) % 1)) / componentCount) * total;
  const drawn: { model: number; cell: number }[] = [];
  let reached = 0;
  for (let j = 0; j < models; j++) {
    if (reached + ofModel[j]! < markOf(drawn.length)) {
      reached += ofModel[j]!;
      continue;
    }
    for (let i = 0; i < logs.length; i++) {
      reached += logs[i]![j]!;
      while (drawn.length < componentCount && reached >= markOf(drawn.length))
        drawn.push({ model: j, cell: i });
    }
  }
  // Rounding may leave the last steps without their place.
  while (drawn.length < componentCount) drawn.push(drawn.at(-1)!);
  const size = componentCount;
  const q = fixed.length + choices.length;
  const condensed = {
    columns: q,
    active: new Int32Array(size * q).fill(-1),
    weights: new Float64Array(size).fill(1 / size),
    means: new Float64Array(size * q),
    covarianceFactors: new Float64Array(size * q * q),
    groupDeviations: new Float64Array(size),
    levelVariances: new Float64Array(size * levels),
    parameters: new Float64Array(size),
  };
  const kept = new Map<number, ReturnType<typeof union.parts>>();
  const usedOfCell = new Int32Array(groups.length);
  drawn.forEach(({ model, cell }, component) => {
    const members = groups[cell]!;
    const share = ((usedOfCell[cell]! += 1) * Math.SQRT2) % 1;
    let aim = share * members.reduce((sum, point) => sum + base.weights[point]!, 0);
    const point = members.find((one) => (aim -= base.weights[one]!) <= 0) ?? members.at(-1)!;
    const deviations = deviationsAt(point);
    const parts = kept.get(point) ?? union.parts(deviations, parameters[point])!;
    kept.set(point, parts);
    const picked = optionsOf(model).map((option, level) => choices[level]!.options[option]!);
    const own = [
      ...fixed.map((column) => ({ column, deviation: priors.coefficients[column]!.deviation })),
      ...picked.flatMap(({ column, deviation }) =>
        column === undefined ? [] : [{ column, deviation }],
      ),
    ].sort((a, b) => a.column - b.column);
    const r = own.length;
    const precision = new Float64Array(r * r);
    own.forEach(({ column: a, deviation }, i) => {
      own
        .slice(0, i + 1)
        .forEach(({ column: b }, j) => (precision[i * r + j] = parts.precision[a * p + b]!));
      precision[i * r + i]! += 1 / deviation ** 2;
    });
    factorise(precision, r);
    const mean = new Float64Array(r);
    solveFactored(
      precision,
      own.map(({ column }) => parts.cross[column]!),
      mean,
    );
    const covariance = new Float64Array(r * r);
    addSecondMoment(covariance, 1, precision, new Float64Array(r));
    const factor = lowerFactor(covariance, r);
    own.forEach(({ column }, i) => {
      condensed.active[component * q + i] = column;
      condensed.means[component * q + i] = mean[i]! + priors.coefficients[column]!.mean;
      for (let j = 0; j <= i; j++)
        condensed.covarianceFactors[(component * q + i) * q + j] = factor[i * r + j]!;
    });
    let variance = 0;
    deviations.forEach((deviation, k) => {
      condensed.levelVariances[component * levels + k] = deviation ** 2;
      variance += deviation ** 2;
    });
    condensed.groupDeviations[component] = Math.sqrt(variance);
    condensed.parameters[component] = parameters[point]!;
  });
  return {
    posterior: condensed,
    weights: weights.map((own) => [...own]),
    models,
    quadrature: base.quadrature,
  };
};

/** Most fitted values whose quantiles are watched while the quadrature is refined. */
const mostChecked = 12;

/** Rows of the design, evenly out of all of them: projections are what has to be exact, not each coefficient. */
export const checkedRows = ({ rows, columns, values }: Matrix): readonly Float64Array[] => {
  const count = Math.min(mostChecked, rows);
  return Array.from({ length: count }, (_, i) => {
    const row = Math.floor((i * rows) / count);
    return values.slice(row * columns, (row + 1) * columns);
  });
};
