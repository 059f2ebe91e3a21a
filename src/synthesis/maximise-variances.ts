/** The search for the variance parts: several starts, safeguarded Newton steps, the bound at zero. */
import { ConvergenceError } from "../errors.js";
import {
  likelihoodValue,
  withDerivatives,
  type LikelihoodKind,
  type LikelihoodPoint,
  type LikelihoodValue,
} from "./block-likelihood.js";
import type { BlockProblem } from "./block-problem.js";
import { invertSymmetric } from "./invert-symmetric.js";

export type MaximiseVariancesOptions = Readonly<{
  likelihood: LikelihoodKind;
  fixed: readonly (number | undefined)[];
  starts: readonly (readonly number[])[];
  maxIterations: number;
}>;

type Settled = Readonly<{
  point: LikelihoodPoint;
  iterations: number;
  /** Score in standard errors of the parts, squared: the Newton decrement. */
  decrement: number;
  settled: boolean;
}>;

/** A decrement below this is rounding: the parts are within 1e-10 of a standard error. */
const decrementTolerance = 1e-20;
/** What is accepted when rounding lets the search come no closer. */
const decrementAccepted = 1e-11;
/** A search this close to a top that another reached, in standard errors squared, would end on it too. */
const sameTop = 0.01;
/** Above this many rows only the best start is followed; the likelihood is then close to quadratic. */
const manyRows = 400;

/**
 * The best point of the likelihood over θ ≥ 0, and the iterations it took.
 *
 * The likelihood is looked at on a coarse lattice of total variance and its split between the parts;
 * the best lattice points (and the caller's) are each followed by Newton steps on the average
 * information, halved until the likelihood does not fall, with parts at zero left out while their
 * score pushes outward. Near the top the information is replaced by finite differences of the
 * analytic score. A search that comes within a tenth of a standard error of a top already reached is
 * given up, as it would end there. The best end wins.
 *
 * @throws {ConvergenceError} when no start settles
 * @source Gilmour, Thompson and Cullis (1995) Biometrics 51:1440–1450; Bertsekas (1982) SIAM Journal on
 *   Control 20:221–246 (bounded Newton steps)
 */
export const maximiseVariances = (
  problem: BlockProblem,
  options: MaximiseVariancesOptions,
): Settled => {
  const search: Search = {
    fixed: options.fixed,
    maxIterations: options.maxIterations,
    scale: Math.max(problem.residualMeanSquare, problem.meanVariance * 1e-6, 1e-300),
    valueAt: (variances) => likelihoodValue(problem, variances, options.likelihood),
    derived: (value) => withDerivatives(problem, value, options.likelihood),
  };
  const ends: Settled[] = [];
  for (const start of startsOf(problem, options, search.valueAt)) {
    const end = climb(start, search, ends);
    if (end !== undefined) ends.push(end);
  }
  let best: Settled | undefined;
  for (const end of ends) {
    if (best === undefined || end.point.logLikelihood > best.point.logLikelihood) best = end;
  }
  if (best === undefined || !best.settled) {
    throw new ConvergenceError({
      where: "fitBlocks",
      iterations: best?.iterations ?? 0,
      lastChange: Math.sqrt(best?.decrement ?? Infinity),
      tolerance: Math.sqrt(decrementAccepted),
      try:
        best === undefined
          ? "check the known covariances: with no variance between effects they are not positive definite"
          : "leave out a level that few groups inform, or check for variances that differ by many orders of magnitude",
    });
  }
  return best;
};

type ValueAt = (variances: ArrayLike<number>) => LikelihoodValue | undefined;

type Search = Readonly<{
  fixed: readonly (number | undefined)[];
  maxIterations: number;
  /** Variance of the values, to which differences are small. */
  scale: number;
  valueAt: ValueAt;
  derived: (value: LikelihoodValue) => LikelihoodPoint;
}>;

const startsOf = (
  problem: BlockProblem,
  options: MaximiseVariancesOptions,
  evaluate: ValueAt,
): readonly LikelihoodValue[] => {
  const parts = problem.components;
  const hold = (values: readonly number[]) =>
    values.map((value, index) => options.fixed[index] ?? value);
  const given = options.starts
    .map((start) => evaluate(hold(start)))
    .filter((point) => point !== undefined);
  if (given.length > 0) return given;
  const total = Math.max(
    problem.residualMeanSquare - problem.meanVariance,
    problem.residualMeanSquare * 0.05,
    problem.meanVariance * 1e-3,
  );
  const free = Array.from({ length: parts }, (_, k) => k).filter(
    (k) => options.fixed[k] === undefined,
  );
  const splits: (readonly number[])[] = [];
  const even = free.map(() => 1 / free.length);
  splits.push(even);
  if (free.length > 1) {
    for (const chosen of free.keys()) {
      splits.push(free.map((_, k) => (k === chosen ? 0.9 : 0.1 / (free.length - 1))));
    }
  }
  const candidates: LikelihoodValue[] = [];
  for (const size of problem.rows > manyRows ? [1] : [1, 0.1, 0.001, 4]) {
    for (const split of splits) {
      const values = new Array<number>(parts).fill(0);
      free.forEach((k, position) => (values[k] = total * size * split[position]!));
      const point = evaluate(hold(values));
      if (point !== undefined) candidates.push(point);
    }
  }
  const atZero = free.length > 0 ? evaluate(hold(new Array<number>(parts).fill(0))) : undefined;
  if (atZero !== undefined) candidates.push(atZero);
  candidates.sort((a, b) => b.logLikelihood - a.logLikelihood);
  return candidates.slice(0, problem.rows > manyRows ? 1 : 4);
};

/** Where the steps from a start end; undefined where they come close to a top that another start led to. */
const climb = (
  start: LikelihoodValue,
  search: Search,
  tops: readonly Settled[],
): Settled | undefined => {
  let point = search.derived(start);
  let iterations = 0;
  let lastPolish = Infinity;
  for (;;) {
    if (tops.some((top) => isNear(point, top))) return undefined;
    const free = freeParts(point, search.fixed);
    if (free.length === 0) return { point, iterations, decrement: 0, settled: true };
    let step = newtonStep(point.information, point.score, free);
    if (step.decrement < 1e-4) {
      const sharper = observedInformation(point, free, search);
      if (sharper !== undefined) step = newtonStep(sharper, point.score, free);
    }
    const { decrement } = step;
    if (decrement <= decrementTolerance) return { point, iterations, decrement, settled: true };
    if (iterations >= search.maxIterations) {
      return { point, iterations, decrement, settled: decrement <= decrementAccepted };
    }
    iterations += 1;
    const polishing = decrement < 1e-6;
    const next = moved(point, free, step.direction, polishing, search.valueAt);
    const stuck = next === undefined || (polishing && decrement >= lastPolish * 0.25);
    if (stuck) {
      const settled = decrement <= decrementAccepted * Math.max(1, roundingOf(point));
      return { point, iterations, decrement, settled };
    }
    if (polishing) lastPolish = decrement;
    point = search.derived(next);
  }
};

/**
 * Whether a point lies below a top and next to it, measured by the top's information. Where rounding kept the first search
 * from the very top, another may still come closer.
 */
const isNear = (
  { variances, logLikelihood }: LikelihoodPoint,
  { point: top, decrement }: Settled,
): boolean => {
  if (decrement > decrementTolerance || logLikelihood > top.logLikelihood) return false;
  const parts = variances.length;
  let distance = 0;
  for (let k = 0; k < parts; k++)
    for (let l = 0; l < parts; l++)
      distance +=
        (variances[k]! - top.variances[k]!) *
        top.information[k * parts + l]! *
        (variances[l]! - top.variances[l]!);
  return distance < sameTop;
};

/** How much larger than one the likelihood's own rounding is, against 1e-12. */
const roundingOf = (point: LikelihoodPoint): number => Math.abs(point.logLikelihood) * 1e-3;

const freeParts = (
  point: LikelihoodPoint,
  fixed: readonly (number | undefined)[],
): readonly number[] => {
  const free: number[] = [];
  point.variances.forEach((variance, k) => {
    if (fixed[k] === undefined && (variance > 0 || point.score[k]! > 0)) free.push(k);
  });
  return free;
};

const newtonStep = (information: Float64Array, score: Float64Array, free: readonly number[]) => {
  const parts = score.length;
  const size = free.length;
  let ridge = 0;
  for (let attempt = 0; attempt < 30; attempt++) {
    const matrix = new Float64Array(size * size);
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++)
        matrix[i * size + j] = information[free[i]! * parts + free[j]!]!;
      const diagonal = Math.abs(matrix[i * size + i]!);
      matrix[i * size + i]! += ridge * (diagonal > 0 ? diagonal : 1);
    }
    if (!Number.isNaN(invertSymmetric(matrix, size))) {
      let decrement = 0;
      const direction = free.map((_, i) => {
        let total = 0;
        for (let j = 0; j < size; j++) total += matrix[i * size + j]! * score[free[j]!]!;
        decrement += total * score[free[i]!]!;
        return total;
      });
      if (Number.isFinite(decrement)) return { direction, decrement };
    }
    ridge = ridge === 0 ? 1e-8 : ridge * 10;
  }
  return { direction: free.map((k) => score[k]!), decrement: Infinity };
};

/** The next point along the direction, kept at or above zero; undefined when nothing is gained. */
const moved = (
  point: LikelihoodPoint,
  free: readonly number[],
  direction: readonly number[],
  polishing: boolean,
  evaluate: ValueAt,
): LikelihoodValue | undefined => {
  const slack = polishing ? 1e-9 * (1 + Math.abs(point.logLikelihood)) : 0;
  for (let length = 1; length > 1e-12; length /= 2) {
    const values = Float64Array.from(point.variances);
    free.forEach((k, i) => (values[k] = Math.max(0, values[k]! + length * direction[i]!)));
    const next = evaluate(values);
    if (next !== undefined && next.logLikelihood >= point.logLikelihood - slack) {
      if (polishing || next.logLikelihood > point.logLikelihood) return next;
    }
  }
  return undefined;
};

/** Minus the second derivatives, by one-sided differences of the analytic score. */
const observedInformation = (
  point: LikelihoodPoint,
  free: readonly number[],
  { scale, valueAt, derived }: Search,
): Float64Array | undefined => {
  const parts = point.score.length;
  const answer = new Float64Array(parts * parts);
  for (const k of free) {
    const values = Float64Array.from(point.variances);
    const width = Math.max(values[k]! * 1e-5, scale * 1e-9);
    values[k]! += width;
    const next = valueAt(values);
    if (next === undefined) return undefined;
    const { score } = derived(next);
    for (const l of free) {
      answer[l * parts + k] = -(score[l]! - point.score[l]!) / width;
    }
  }
  for (let k = 0; k < parts; k++) {
    for (let l = 0; l < k; l++) {
      const mean = (answer[k * parts + l]! + answer[l * parts + k]!) / 2;
      answer[k * parts + l] = mean;
      answer[l * parts + k] = mean;
    }
  }
  return answer;
};
