/**
 * Bayesian regression of effects with random intercepts, exact up to quadrature: given the standard
 * deviations the coefficients are normal, and the deviations are integrated over by a product rule.
 */
import { CallError, ConvergenceError } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import {
  compiledRegression,
  type NormalPrior,
  type RegressionProblem,
} from "./conditional-posterior.js";
import { deviationCoordinates, type DeviationPrior } from "./deviation-coordinates.js";
import { mergedMixture, mixtureQuantiles } from "./normal-mixture.js";
import { posteriorMixture } from "./posterior-mixture.js";
import { productRule, quadratureRegion, type Limits, type Region } from "./quadrature-region.js";

export type { NormalPrior, RandomIntercept, RegressionProblem } from "./conditional-posterior.js";
export type { DeviationPrior } from "./deviation-coordinates.js";

export type RegressionPriors = Readonly<{
  /** One for each column of the design. */
  coefficients: readonly NormalPrior[];
  /** One for each random intercept. */
  deviations: readonly DeviationPrior[];
  /** Prior of the natural logarithm of the curve's parameter; needed when the problem has a curve. */
  logParameter?: NormalPrior;
}>;

export type QuadratureOptions = Readonly<{
  /** Points in each variable of the first rule. */
  points?: number;
  /** Largest change of a checked quantile, on the effects' scale, when points are added. Infinity skips the check. */
  tolerance?: number;
  /** Most points in each variable. */
  maxPoints?: number;
  /** Where the points run out, a last change of the quantiles that is taken; with it points are added in longer steps. */
  enough?: number;
  /** Sums of coefficients whose quantiles are checked; each coefficient and the mean fitted value where absent. */
  checkedRows?: readonly ArrayLike<number>[];
}>;
export const quadratureDefaults = {
  tolerance: 1e-4,
} as const satisfies QuadratureOptions;

/** First and most points in each variable, by the number of variables. */
const pointsFor = (variables: number): Readonly<{ first: number; most: number }> =>
  [
    { first: 1, most: 1 },
    { first: 16, most: 400 },
    { first: 10, most: 60 },
    { first: 8, most: 30 },
    { first: 8, most: 18 },
  ][variables] ?? { first: 5, most: 10 };

export type RegressionPosterior = Readonly<{
  columns: number;
  /** Weights of the points kept, adding up to 1. */
  weights: Float64Array;
  /** Points × random intercepts: the standard deviations at each point. */
  deviations: Float64Array;
  /** The curve's parameter at each point; NaN-free and present only with a curve. */
  parameters?: Float64Array;
  /** Points × coefficients. */
  means: Float64Array;
  /** Points × coefficients × coefficients: lower L with LLᵀ = precision. */
  precisionFactors: Float64Array;
  priors: RegressionPriors;
  /** ln of the density of the data, all integrated out; comparable between models with the same flat priors only. */
  logEvidence: number;
  quadrature: Readonly<{
    variables: number;
    pointsEach: number;
    /** Points left after those of negligible weight were dropped. */
    pointsKept: number;
    /** Largest change of a checked quantile at the last refinement; undefined when the check was skipped. */
    largestChange?: number;
    tolerance: number;
  }>;
}>;

/** The curve's parameter is integrated over this many prior deviations of its logarithm to each side. */
const parameterReach = 4;

const logNormalDensity = (u: number, { mean, deviation }: NormalPrior): number =>
  -0.5 * ((u - mean) / deviation) ** 2 - Math.log(deviation * Math.sqrt(2 * Math.PI));

/** Points whose weights together are below this are dropped; where points are few, only those that add nothing. */
const negligibleIn = (variables: number): number => (variables < 3 ? 1e-9 : 1e-5);

/**
 * The posterior of the coefficients of a regression with random intercepts and known covariances.
 *
 *   y = F(Xβ + Σ_k Z_k u_k) + e,  u_k ~ N(0, σ_k² I),  e ~ N(0, V) known;  β ~ N(m₀, S₀),  σ_k ~ its prior
 *
 * Given σ the coefficients are normal with mean b and precision P (`compiledRegression`); the posterior is the
 * mixture of these over points of σ, weighted by p(σ)·p(y | σ). Points are a Gauss–Legendre product rule in a box that
 * adapts to the density; they are added until the 2.5, 50 and 97.5% points of every coefficient and of the fitted values'
 * mean (or of the sums asked for) move by less than the tolerance.
 *
 * Converges as said; the same input gives the same digits.
 *
 * @param problem effects, covariances, design, random intercepts, and a curve if there is one
 * @param priors one normal for each column, one for each random intercept
 * @throws {CallError} "bad-prior", "shape", or "not-identified" when flat priors leave a coefficient without any evidence
 * @throws {ConvergenceError} when the points run out before the quantiles settle
 * @source Rubin DB (1981) Journal of Educational Statistics 6:377–401; Gelman A (2006) Bayesian Analysis 1:515–534
 */
export const bayesianRegression = (
  problem: RegressionProblem,
  priors: RegressionPriors,
  options: QuadratureOptions = {},
): RegressionPosterior => {
  const tolerance = options.tolerance ?? quadratureDefaults.tolerance;
  if (priors.deviations.length !== problem.intercepts.length) {
    throw new CallError({
      code: "bad-prior",
      where: "bayesianRegression",
      needs: "one deviation prior for each random intercept",
      got: `${priors.deviations.length} for ${problem.intercepts.length}`,
    });
  }
  if ((problem.curve === undefined) !== (priors.logParameter === undefined)) {
    throw new CallError({
      code: "bad-prior",
      where: "bayesianRegression",
      needs: "a prior of the curve's parameter exactly when there is a curve",
      got: problem.curve === undefined ? "a prior and no curve" : "a curve and no prior",
    });
  }
  const regression = compiledRegression(problem, priors.coefficients);
  const levels = problem.intercepts.length;
  const coordinates = deviationCoordinates(priors.deviations);
  const log = priors.logParameter;
  const conditional: Conditional = (place) => {
    const { deviations, logPrior } = coordinates.at(place.slice(0, levels));
    const u = place[levels];
    const parameter = u === undefined ? undefined : Math.exp(u);
    const found = regression.at(deviations, parameter);
    if (found === undefined) {
      throw new CallError({
        code: "not-identified",
        where: "bayesianRegression",
        needs: "evidence or a proper prior for every coefficient",
        got: "columns of the design that the effects cannot tell apart, with flat priors",
        try: "give the coefficients normal priors, or leave columns out",
      });
    }
    const ofParameter = log === undefined || u === undefined ? 0 : logNormalDensity(u, log);
    return {
      ...found,
      deviations,
      parameter,
      logPosterior: found.logDensity + logPrior + ofParameter,
    };
  };
  const logDensity = (place: readonly number[]): number => conditional(place).logPosterior;
  const limits: readonly Limits[] = [
    ...coordinates.limits,
    ...(log === undefined
      ? []
      : [
          {
            low: log.mean - parameterReach * log.deviation,
            high: log.mean + parameterReach * log.deviation,
            mirrored: true,
          },
        ]),
  ];
  const start = [...coordinates.start, ...(log === undefined ? [] : [log.mean])];
  const variables = limits.length;
  const region = quadratureRegion(logDensity, limits, start);

  const pointsOf = pointsFor(variables);
  const most = options.maxPoints ?? pointsOf.most;
  let pointsEach = Math.min(most, options.points ?? pointsOf.first);
  let current = pointsIn(conditional, region, pointsEach);
  const rows = options.checkedRows ?? usualRows(problem.design);
  let checked = tolerance === Infinity ? [] : quantilesOf(current, rows);
  let largestChange: number | undefined;
  if (tolerance < Infinity && variables > 0) {
    for (;;) {
      const more = Math.max(
        pointsEach + 1,
        variables < 3 || options.enough !== undefined ? Math.ceil(pointsEach * 1.35) : 0,
      );
      if (more > most) {
        if (largestChange !== undefined && largestChange <= (options.enough ?? tolerance)) break;
        throw new ConvergenceError({
          where: "bayesianRegression",
          iterations: pointsEach,
          lastChange: largestChange ?? Infinity,
          tolerance,
          try: "allow more points, or a wider tolerance",
        });
      }
      const finer = pointsIn(conditional, region, more);
      const quantiles = quantilesOf(finer, rows);
      largestChange = quantiles.reduce(
        (change, value, i) => Math.max(change, Math.abs(value - checked[i]!)),
        0,
      );
      [current, checked, pointsEach] = [finer, quantiles, more];
      if (largestChange <= tolerance) break;
    }
  }
  const { logEvidence, ...posterior } = current;
  return {
    columns: regression.columns,
    ...posterior,
    priors,
    logEvidence,
    quadrature: {
      variables,
      pointsEach,
      pointsKept: posterior.weights.length,
      ...(largestChange === undefined ? {} : { largestChange }),
      tolerance,
    },
  };
};

type Points = Pick<
  RegressionPosterior,
  "weights" | "deviations" | "parameters" | "means" | "precisionFactors" | "logEvidence"
>;

type Conditional = (place: readonly number[]) => Readonly<{
  mean: Float64Array;
  precisionFactor: Float64Array;
  deviations: readonly number[];
  parameter: number | undefined;
  logPosterior: number;
}>;

/** The posterior at the points of a rule, those of negligible weight dropped. */
const pointsIn = (conditional: Conditional, region: Region, pointsEach: number): Points => {
  const rule = productRule(
    region,
    Array.from({ length: region.variables }, () => pointsEach),
  );
  const all = rule.places.map((place) => conditional(place));
  const logs = Float64Array.from(all, ({ logPosterior }, i) => logPosterior + rule.logWeights[i]!);
  const top = logs.reduce((high, log) => Math.max(high, log), -Infinity);
  const masses = logs.map((log) => Math.exp(log - top));
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  const negligible = negligibleIn(region.variables);
  let dropped = 0;
  const leaving = new Set<number>();
  for (const index of Array.from(masses.keys()).sort((a, b) => masses[a]! - masses[b]!)) {
    const mass = masses[index]! / total;
    if (dropped + mass > negligible) break;
    dropped += mass;
    leaving.add(index);
  }
  const kept = Array.from(masses.keys()).filter((index) => !leaving.has(index));
  const found = kept.map((index) => all[index]!);
  const joined = (parts: readonly ArrayLike<number>[]): Float64Array => {
    const width = parts[0]?.length ?? 0;
    const values = new Float64Array(width * parts.length);
    parts.forEach((part, i) => values.set(part, i * width));
    return values;
  };
  return {
    weights: Float64Array.from(kept, (index) => masses[index]! / total / (1 - dropped)),
    deviations: joined(found.map(({ deviations }) => deviations)),
    ...(found[0]?.parameter === undefined
      ? {}
      : { parameters: Float64Array.from(found, ({ parameter }) => parameter!) }),
    means: joined(found.map(({ mean }) => mean)),
    precisionFactors: joined(found.map(({ precisionFactor }) => precisionFactor)),
    logEvidence: top + Math.log(total),
  };
};

/** Quantiles watched while points are added. */
const quantilesOf = (points: Points, rows: readonly ArrayLike<number>[]): readonly number[] =>
  rows.flatMap((row) => {
    const mixture = mergedMixture(posteriorMixture(points, row));
    return mixtureQuantiles(mixture, [0.025, 0.5, 0.975]);
  });

/** Each coefficient, and the mean of the fitted values. */
const usualRows = ({ rows, columns, values }: Matrix): readonly ArrayLike<number>[] => [
  Float64Array.from({ length: columns }, (_, a) => {
    let total = 0;
    for (let i = 0; i < rows; i++) total += values[i * columns + a]!;
    return total / rows;
  }),
  ...Array.from({ length: columns }, (_, a) =>
    Float64Array.from({ length: columns }, (_, b) => (a === b ? 1 : 0)),
  ),
];
