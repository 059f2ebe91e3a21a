/**
 * The least value of a smooth function of several variables, each within bounds.
 *
 * Longer than most files of this room: the search, its step and its curvature update share state that
 * would be harder to follow when passed between files.
 */
import { type CallErrorCode, CallError } from "../errors.js";
import { cholesky, solveCholesky } from "./cholesky.js";
import { numericalGradient } from "./finite-difference.js";
import { dot, identity, multiplyVector, scale, submatrix, type Matrix } from "./matrix.js";
import { nelderMead } from "./nelder-mead.js";

export type Objective = (x: readonly number[]) => number;

export type MinimiseOptions = Readonly<{
  /** Gradient of f; central differences when absent. */
  gradient?: (x: readonly number[]) => ArrayLike<number>;
  /** One for each variable; −Infinity where there is none. */
  lower?: readonly number[];
  upper?: readonly number[];
  /** Largest |gradient · max(|x|, 1)| / max(|f|, 1) over the free variables that counts as flat. */
  tolerance?: number;
  maxIterations?: number;
}>;
export const minimiseDefaults = {
  tolerance: 1e-9,
  maxIterations: 500,
} as const satisfies MinimiseOptions;

export type Minimum = Readonly<{
  x: number[];
  value: number;
  /** Gradient at x, by differences when none was given. */
  gradient: Float64Array;
  iterations: number;
  /** False when the search stopped for any other reason than flatness. */
  converged: boolean;
}>;

/** Where rounding stops progress, a gradient this many times the tolerance still counts as flat. */
const slackAtRounding = 1e3;
/** From this steepness on, gradients by differences are taken to fourth order. */
const fineFrom = 1e-4;
/** Once flat, up to this many further steps are taken while they still move the place. */
const polishingSteps = 20;
const enoughDecrease = 1e-4;
const longestBacktrack = 40;

type Bounds = Readonly<{ lower: readonly number[]; upper: readonly number[] }>;
type Place = Readonly<{ x: number[]; value: number; gradient: Float64Array }>;
type Problem = Bounds &
  Readonly<{
    f: Objective;
    gradientAt: (x: readonly number[], fine: boolean) => Float64Array;
    tolerance: number;
  }>;

const refuse = (code: CallErrorCode, needs: string, got: string): never => {
  throw new CallError({ code, where: "minimise", needs, got });
};

const clip = (x: readonly number[], bounds: Bounds): number[] =>
  x.map((value, i) =>
    Math.min(Math.max(value, bounds.lower[i] as number), bounds.upper[i] as number),
  );

/** Is variable i held at its bound by a push of the given sign (the gradient, or minus the step)? */
const heldBy = (x: readonly number[], i: number, push: number, bounds: Bounds): boolean =>
  ((x[i] as number) <= (bounds.lower[i] as number) && push > 0) ||
  ((x[i] as number) >= (bounds.upper[i] as number) && push < 0);

/** Largest relative gradient among variables that are free to move down it. */
const steepness = (place: Place, bounds: Bounds): number => {
  let most = 0;
  place.gradient.forEach((slope, i) => {
    if (heldBy(place.x, i, slope, bounds)) return;
    most = Math.max(most, Math.abs(slope) * Math.max(Math.abs(place.x[i] as number), 1));
  });
  return most / Math.max(Math.abs(place.value), 1);
};

/** Quasi-Newton step over the free variables, zero for those held at a bound. */
const newtonStep = (place: Place, curvature: Matrix, bounds: Bounds): number[] | undefined => {
  const { x, gradient } = place;
  let free = x.map((_, i) => i).filter((i) => !heldBy(x, i, gradient[i] as number, bounds));
  while (free.length > 0) {
    const factor = cholesky(submatrix(curvature, free));
    if (factor === undefined) return undefined;
    const solved = solveCholesky(
      factor,
      Float64Array.from(free, (i) => -(gradient[i] as number)),
    );
    const outward = free.filter((i, k) => heldBy(x, i, -(solved[k] as number), bounds));
    if (outward.length === 0) {
      const step = x.map(() => 0);
      free.forEach((i, k) => (step[i] = solved[k] as number));
      return step;
    }
    free = free.filter((i) => !outward.includes(i));
  }
  return undefined;
};

/** Curvature after a move, by the damped update that keeps it positive definite. */
const updatedCurvature = (curvature: Matrix, move: Float64Array, change: Float64Array): Matrix => {
  const image = multiplyVector(curvature, move);
  const own = dot(move, image);
  if (!(own > 0)) return curvature;
  const seen = dot(move, change);
  const weight = seen >= 0.2 * own ? 1 : (0.8 * own) / (own - seen);
  const blended = change.map((value, i) => weight * value + (1 - weight) * (image[i] as number));
  const product = dot(move, blended);
  if (!(product > 0)) return curvature;
  const n = move.length;
  const values = curvature.values.map((value, index) => {
    const i = Math.floor(index / n);
    const j = index % n;
    return (
      value +
      ((blended[i] as number) * (blended[j] as number)) / product -
      ((image[i] as number) * (image[j] as number)) / own
    );
  });
  return values.every(Number.isFinite) ? { rows: n, columns: n, values } : curvature;
};

/** A better place along the step bent at the bounds, or undefined when there is none. */
const searched = (
  problem: Problem,
  place: Place,
  step: readonly number[],
  fine: boolean,
): Place | undefined => {
  const { f, gradientAt } = problem;
  const placeAt = (length: number): number[] =>
    clip(
      place.x.map((value, i) => value + length * (step[i] as number)),
      problem,
    );
  const rounding = 10 * Number.EPSILON * Math.abs(place.value);
  const flatness = steepness(place, problem);
  let length = 1;
  for (let attempt = 0; attempt < longestBacktrack; attempt++) {
    const x = placeAt(length);
    const move = x.map((value, i) => value - (place.x[i] as number));
    if (move.every((value) => value === 0)) return undefined;
    const slope = dot(place.gradient, move);
    const value = f(x);
    if (Number.isFinite(value) && slope < 0) {
      if (value <= place.value + enoughDecrease * slope) {
        let best = { x, value };
        if (attempt === 0) {
          // a step that keeps falling steeply was too short: try longer ones
          const straight = value - place.value < 0.9 * slope;
          for (let longer = 2; straight && longer <= 1024; longer *= 2) {
            const further = placeAt(longer);
            const there = f(further);
            if (!(there < best.value)) break;
            best = { x: further, value: there };
          }
        }
        return { ...best, gradient: gradientAt(best.x, fine) };
      }
      // below the rounding of f the gradient is the better judge
      if (value <= place.value + rounding && -slope <= 1e3 * rounding) {
        const next = { x, value, gradient: gradientAt(x, fine) };
        if (steepness(next, problem) < 0.7 * flatness) return next;
      }
    }
    if (Number.isFinite(value) && slope < 0) {
      const parabola = (-0.5 * slope) / (value - place.value - slope);
      length *= parabola > 0.1 && parabola < 0.7 ? parabola : parabola <= 0.1 ? 0.1 : 0.5;
    } else {
      length *= 0.25;
    }
  }
  return undefined;
};

/** Would the step change no variable in its first eight digits? */
const isNegligible = (step: readonly number[], x: readonly number[]): boolean =>
  step.every((change, i) => Math.abs(change) <= 1e-8 * Math.max(Math.abs(x[i] as number), 1e-3));

type Run = Readonly<{ place: Place; iterations: number; flat: boolean; stalled: boolean }>;

const quasiNewton = (problem: Problem, start: Place, maxIterations: number): Run => {
  const n = start.x.length;
  const freshCurvature = (place: Place): Matrix => {
    const length = Math.sqrt(dot(place.gradient, place.gradient));
    const size = Math.max(1, Math.sqrt(dot(place.x, place.x)));
    return scale(identity(n), Math.max(length / size, 1e-8));
  };
  let place = start;
  let curvature = freshCurvature(place);
  let fresh = true;
  let fine = false;
  let polished = 0;
  for (let iterations = 0; iterations < maxIterations; iterations++) {
    if (!fine && steepness(place, problem) <= fineFrom) {
      fine = true;
      place = { ...place, gradient: problem.gradientAt(place.x, true) };
    }
    const flat = steepness(place, problem) <= problem.tolerance;
    const step = newtonStep(place, curvature, problem);
    const settled = step === undefined || isNegligible(step, place.x) || polished > polishingSteps;
    if (flat && settled) return { place, iterations, flat, stalled: false };
    if (flat) polished++;
    const next = step === undefined ? undefined : searched(problem, place, step, fine);
    if (next === undefined) {
      if (flat) return { place, iterations, flat, stalled: false };
      if (fresh) return { place, iterations, flat, stalled: true };
      curvature = freshCurvature(place);
      fresh = true;
      continue;
    }
    const move = Float64Array.from(next.x, (value, i) => value - (place.x[i] as number));
    const change = next.gradient.map((value, i) => value - (place.gradient[i] as number));
    const seen = dot(move, change);
    if (fresh && seen > 0) {
      curvature = scale(identity(n), dot(change, change) / seen);
    }
    curvature = updatedCurvature(curvature, move, change);
    fresh = false;
    place = next;
  }
  return { place, iterations: maxIterations, flat: false, stalled: false };
};

const resolved = (
  f: Objective,
  start: readonly number[],
  options: MinimiseOptions,
): Problem & Readonly<{ maxIterations: number }> => {
  const n = start.length;
  const lower = options.lower ?? start.map(() => -Infinity);
  const upper = options.upper ?? start.map(() => Infinity);
  if (n === 0) refuse("no-variables", "at least one variable", "none");
  if (lower.length !== n || upper.length !== n) {
    refuse("shape", `${n} bounds, one for each variable`, `${lower.length} and ${upper.length}`);
  }
  start.forEach((value, i) => {
    if (!Number.isFinite(value))
      refuse("not-finite", "a finite start", `${value} for variable ${i}`);
    if (!((lower[i] as number) <= (upper[i] as number))) {
      refuse("bad-bounds", "bounds in order", `${lower[i]} to ${upper[i]} for variable ${i}`);
    }
  });
  const given = options.gradient;
  return {
    f,
    lower,
    upper,
    gradientAt: (x, fine) =>
      given === undefined
        ? numericalGradient(f, x, { lower, upper, order: fine ? 4 : 2 })
        : Float64Array.from(given(x)),
    tolerance: options.tolerance ?? minimiseDefaults.tolerance,
    maxIterations: options.maxIterations ?? minimiseDefaults.maxIterations,
  };
};

/**
 * A local minimum of f within the bounds.
 *
 * Quasi-Newton search with a damped curvature update, over the variables not held at a bound; a step is
 * bent at the bounds, so that a minimum on one is reached exactly. Places where f is not a number count
 * as infinitely high. When the search stalls short of flatness it goes on with the simplex search of Nelder
 * and Mead, and tries once more from there. Converges when the relative gradient of the free variables
 * falls below the tolerance (or below 1000 times it where rounding of f stops progress); gives up after
 * `maxIterations`.
 *
 * @param f finite at the start
 * @param start one number for each variable; moved inside the bounds when outside
 * @returns place, value, gradient, iterations and whether it converged: look at `converged` before use
 * @throws {CallError} "no-variables"; "shape" for bounds of another length; "bad-bounds"; "not-finite" for a start, or
 *   for f at the start
 * @source Nocedal J, Wright SJ (2006) Numerical Optimization, 2nd edition: chapters 3, 6, 16.7; damping in 18.3
 * @example
 * minimise((x) => (x[0]! - 1) ** 2 + (x[1]! + 2) ** 2, [0, 0], { lower: [0, 0] }).x // => [1, 0]
 */
export const minimise = (
  f: Objective,
  start: readonly number[],
  options: MinimiseOptions = {},
): Minimum => {
  const problem = resolved(f, start, options);
  const x = clip(start, problem);
  const value = f(x);
  if (!Number.isFinite(value)) {
    refuse("not-finite", "a finite value at the start", `${value} at (${x.join(", ")})`);
  }
  const slack = slackAtRounding * problem.tolerance;
  const flatEnough = (run: Run): boolean =>
    run.flat || (run.stalled && steepness(run.place, problem) <= slack);
  const first = quasiNewton(
    problem,
    { x, value, gradient: problem.gradientAt(x, false) },
    problem.maxIterations,
  );
  const result = (run: Run, iterations: number): Minimum => ({
    ...run.place,
    iterations,
    converged: flatEnough(run),
  });
  if (flatEnough(first) || !first.stalled) return result(first, first.iterations);
  const simplex = nelderMead(f, first.place.x, {
    lower: problem.lower,
    upper: problem.upper,
    maxIterations: 400 * x.length,
  });
  const second = quasiNewton(
    problem,
    { x: simplex.x, value: simplex.value, gradient: problem.gradientAt(simplex.x, true) },
    problem.maxIterations,
  );
  const iterations = first.iterations + simplex.iterations + second.iterations;
  return result(second.place.value <= first.place.value ? second : first, iterations);
};
