/** Each trial left out in turn and predicted from the others: whether it fell inside the range given for it. */
import { disjointSets } from "../numeric/disjoint-sets.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import {
  addSquares,
  blockErrors,
  whitenedWeights,
  type ComponentModel,
} from "./component-models.js";
import { factorise, forwardSolved, solveFactored, squaresOf } from "./conditional-posterior.js";
import { mixtureQuantiles } from "./normal-mixture.js";
import type { EvidenceArm } from "./support.js";

/** A range and what was found, log scale. */
export type Predicted = Interval & Readonly<{ estimate: number; found: number; inside: boolean }>;

/** A trial's arms together (the mean of their means), and each by itself. */
export type LeftOutTrial = Predicted &
  Readonly<{ study: string; arms: readonly (Predicted & Readonly<{ arm: string }>)[] }>;

export type LeftOutInTurn = Readonly<{
  trials: readonly LeftOutTrial[];
  /** Trials without which flat priors leave a coefficient without any evidence, so that nothing predicts them. */
  notPredicted: readonly string[];
  inside: number;
  /** How many should, and how many would in 95 of 100 files for which the ranges are right. */
  expected: number;
  usual: Interval;
  /** Fewest components, in effect, that a trial's prediction rests on. */
  fewestComponents: number;
}>;

const confidence = 0.95;

/** The counts that a binomial variable stays between in at least 95 of 100 cases, cutting at most half of the rest on each side. */
const usualCount = (trials: number): Interval => {
  const tail = (1 - confidence) / 2;
  let chance = (1 - confidence) ** trials;
  let [low, high] = [0, trials];
  let below = 0;
  for (let count = 0; count <= trials; count++) {
    if (below <= tail) low = count;
    below += chance;
    if (1 - below <= tail + 1e-12) {
      high = count;
      break;
    }
    chance *= ((trials - count) / (count + 1)) * (confidence / (1 - confidence));
  }
  return { low, high };
};

/** Sum of squares of L⁻¹x. */
const forwardSquares = (factor: Float64Array, x: Float64Array): number =>
  squaresOf(forwardSolved(factor, x));

/**
 * Every trial predicted from the others.
 *
 *   w₋ᵢ ∝ w / p(yᵢ | y₋ᵢ, component)      a′yᵢ ~ N(a′F X b₋ᵢ, a′(Mᵢ + F X P₋ᵢ⁻¹ XᵀF)a) in each component
 *
 * In each component the coefficients are fitted anew without the trial, exactly; components (shapes, deviations, course) stay
 * where they are and are weighed anew. The range is that of a new group, with the spread of studies, arms and readings, and the
 * trial's own error. Trials that share people are left out together.
 *
 * @param models of one posterior
 * @param arms of the effects in the models
 * @param estimates of the effects
 * @source Gelfand AE, Dey DK, Chang H (1992) Bayesian Statistics 4:147–167 (predictions without a case, by weighing anew);
 *   Ionides EL (2008) Journal of Computational and Graphical Statistics 17:295–311 (weights capped at the mean times √n)
 */
export const leftOutInTurn = (
  models: readonly ComponentModel[],
  arms: readonly EvidenceArm[],
  estimates: ArrayLike<number>,
): LeftOutInTurn => {
  const blocks = models[0]!.blocks;
  const sets = disjointSets(estimates.length);
  for (const { rows } of blocks) rows.forEach((row) => sets.unite(rows[0]!, row));
  sets.uniteAlike(
    arms.reduce((of, { cohort, effects }) => {
      effects.forEach((row) => (of[row] = cohort));
      return of;
    }, new Array<string>(estimates.length).fill("")),
  );
  const fewest: number[] = [];
  const notPredicted: string[] = [];
  const trials = sets.groups().flatMap((members): readonly LeftOutTrial[] => {
    const rows = new Set(members);
    const own = arms.filter(({ effects }) => rows.has(effects[0]!));
    const positions = blocks.flatMap((block, at) => (rows.has(block.rows[0]!) ? [at] : []));
    // Weights of rows: each arm's mean, and the mean of the arms.
    const wanted = own.map(
      ({ effects }) => new Map(effects.map((row) => [row, 1 / effects.length])),
    );
    const all = new Map(
      wanted.flatMap((one) => [...one].map(([row, weight]) => [row, weight / own.length] as const)),
    );
    const sums = [all, ...wanted];
    const logs = new Float64Array(models.length);
    const means = sums.map(() => new Float64Array(models.length));
    const deviations = sums.map(() => new Float64Array(models.length));
    const founds = sums.map((weights) =>
      [...weights].reduce((sum, [row, weight]) => sum + weight * estimates[row]!, 0),
    );
    models.forEach((model, k) => {
      const r = model.columns;
      const without = model.precision.slice();
      const cross = model.cross.slice();
      const taken = positions.map((at) => model.blocks[at]!);
      for (const block of taken) addSquares(without, cross, block, r, -1);
      let logDensity = -factorise(without, r);
      if (Number.isNaN(logDensity)) {
        logs[k] = -Infinity;
        deviations.forEach((one) => (one[k] = 1));
        return;
      }
      const mean = new Float64Array(r);
      solveFactored(without, cross, mean);
      // p(yᵢ | others) by the two determinants and G′e, all of the size of the coefficients.
      const pull = new Float64Array(r);
      let squares = 0;
      const errors = taken.map((block) => blockErrors(block, mean));
      taken.forEach((block, b) => {
        const size = block.rows.length;
        errors[b]!.forEach((error, i) => {
          squares += error ** 2;
          for (let a = 0; a < r; a++) pull[a]! += error * block.design[i * r + a]!;
          logDensity += 2 * Math.log(block.factor[i * size + i]!);
        });
      });
      for (let a = 0; a < r; a++) logDensity += 2 * Math.log(model.factor[a * r + a]!);
      logs[k] =
        Math.log(model.weight) + 0.5 * (logDensity + squares - forwardSquares(model.factor, pull));
      sums.forEach((weights, s) => {
        const x = new Float64Array(r);
        let [moved, variance] = [0, 0];
        taken.forEach((block, b) => {
          whitenedWeights(block, (row) => weights.get(row) ?? 0).forEach((v, i) => {
            moved += v * errors[b]![i]!;
            variance += v * v;
            for (let a = 0; a < r; a++) x[a]! += v * block.design[i * r + a]!;
          });
        });
        means[s]![k] = founds[s]! - moved;
        deviations[s]![k] = Math.sqrt(variance + forwardSquares(without, x));
      });
    });
    const study = [...new Set(own.map((arm) => arm.study))].join(" and ");
    const top = logs.reduce((high, log) => Math.max(high, log), -Infinity);
    if (top === -Infinity) {
      notPredicted.push(study);
      return [];
    }
    const masses = logs.map((log) => Math.exp(log - top));
    // No component may stand for more than the root of their number: one that fits by chance would be the whole answer.
    const most = masses.reduce((sum, mass) => sum + mass, 0) / Math.sqrt(masses.length);
    const capped = masses.map((mass) => Math.min(mass, most));
    const total = capped.reduce((sum, mass) => sum + mass, 0);
    const weights = capped.map((mass) => mass / total);
    fewest.push(1 / weights.reduce((sum, weight) => sum + weight ** 2, 0));
    const [whole, ...each] = sums.map((_, s): Predicted => {
      const [low, estimate, high] = mixtureQuantiles(
        { weights, means: means[s]!, deviations: deviations[s]! },
        [(1 - confidence) / 2, 0.5, (1 + confidence) / 2],
      ) as [number, number, number];
      const found = founds[s]!;
      return { low, estimate, high, found, inside: low <= found && found <= high };
    });
    return [{ study, ...whole!, arms: each.map((one, i) => ({ arm: own[i]!.arm, ...one })) }];
  });
  return {
    trials,
    notPredicted,
    inside: trials.filter(({ inside }) => inside).length,
    expected: confidence * trials.length,
    usual: usualCount(trials.length),
    fewestComponents: Math.min(models.length, ...fewest),
  };
};
