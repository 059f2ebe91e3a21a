/** The chance that further trials decide a question, by simulation: truth drawn from its uncertainty, the answer asked again. */
import { findRoot } from "../numeric/find-root.js";
import { randomStream, type RandomStream } from "../numeric/random-stream.js";

/** What one study tells of the quantity asked about, with the variance of its error. */
export type ToldByStudy = Readonly<{ estimate: number; variance: number }>;

/** The average of what studies find, and the variance of what they find truly. */
export type Truth = Readonly<{ mean: number; variance: number }>;

/** What is assumed where studies say nothing: deviation of the mean around zero, and scale of the spread between studies. */
export type TruthPrior = Readonly<{ mean: number; spread: number }>;

/** Draws may put the spread at so many times what the studies themselves lie apart. */
const widest = 5;

const weighted = (studies: readonly ToldByStudy[], spread: number) => {
  let [weights, sum, q] = [0, 0, 0];
  for (const { estimate, variance } of studies) {
    const weight = 1 / (variance + spread);
    weights += weight;
    sum += weight * estimate;
  }
  const mean = sum / weights;
  for (const { estimate, variance } of studies) q += (estimate - mean) ** 2 / (variance + spread);
  return { mean, variance: 1 / weights, q };
};

/**
 * A sampler of the truth behind some studies.
 *
 *   Q(τ²) = Σ (y_i − μ(τ²))² / (v_i + τ²) has a χ² distribution on k − 1 degrees of freedom at the true τ²: q is drawn
 *   from it and Q(τ²) = q solved, 0 where Q(0) is below q; then μ from N(μ(τ²), 1/Σ 1/(v_i + τ²))
 *
 * Below two studies τ is drawn half-normal with the stated scale; without any, μ around zero with the stated deviation.
 *
 * @param studies one each, independent
 * @source Viechtbauer (2007) Statistics in Medicine 26:37–52 (Q against its χ²), read as a distribution of τ²
 */
export const truthSampler = (
  studies: readonly ToldByStudy[],
  prior: TruthPrior,
): ((stream: RandomStream) => Truth) => {
  const own = studies.map(({ estimate }) => estimate);
  const apart = own.length === 0 ? 0 : Math.max(...own) - Math.min(...own);
  const error = Math.max(0, ...studies.map(({ variance }) => variance));
  const most = widest ** 2 * (apart ** 2 + error);
  return (stream) => {
    let variance = 0;
    if (studies.length < 2) variance = (prior.spread * stream.normal()) ** 2;
    else {
      let q = 0;
      for (let freedom = 1; freedom < studies.length; freedom += 1) q += stream.normal() ** 2;
      const above = (spread: number): number => weighted(studies, spread).q - q;
      if (above(0) > 0) variance = above(most) >= 0 ? most : findRoot(above, 0, most);
    }
    if (studies.length === 0) return { mean: prior.mean * stream.normal(), variance };
    const at = weighted(studies, variance);
    return { mean: at.mean + Math.sqrt(at.variance) * stream.normal(), variance };
  };
};

/** A share of simulations, with the standard error that comes of their number. */
export type Chance = Readonly<{ share: number; error: number }>;

export type ChanceOfTrials = Chance &
  Readonly<{
    trials: number;
    people: number;
    /** Share of each decision. */
    each: Readonly<Record<string, number>>;
  }>;

/** How trials are made and asked about. */
export type FurtherTrials<Trial> = Readonly<{
  truth: (stream: RandomStream) => Truth;
  /** A trial that finds `found` truly, made with normal draws of its own, and so many people in each group. */
  trialOf: (found: number, noise: readonly number[], people: number) => Trial;
  /** Draws that a trial takes. */
  draws: number;
  /** The decision with some trials added; undefined where the question stays open. */
  decide: (added: readonly Trial[]) => string | undefined;
}>;

export type FurtherTrialsOptions = Readonly<{
  /** Numbers of trials and of people in each group, every pair of which is asked about. */
  plans: readonly Readonly<{ trials: number; people: number }>[];
  simulations: number;
  seed: number;
  tell?: (line: string) => void;
}>;

const chanceOf = (count: number, all: number): Chance => ({
  share: count / all,
  error: Math.sqrt(((count / all) * (1 - count / all)) / all),
});

/**
 * How often further trials decide, for every number of trials and of people in a group.
 *
 * In each simulation the truth is drawn once; trial j finds μ + τ z_j truly, whatever its size, and its errors are the
 * same draws at every size, so that plans differ by their plan alone. The Monte Carlo error of a share p of B is √(p(1 − p)/B).
 *
 * @source Roloff et al. (2013) Statistics in Medicine 32:11–24 (power of an updated synthesis), with mean and τ² uncertain
 */
export const furtherTrials = <Trial>(
  { truth, trialOf, draws, decide }: FurtherTrials<Trial>,
  { plans, simulations, seed, tell }: FurtherTrialsOptions,
): readonly ChanceOfTrials[] => {
  const counts = plans.map(() => new Map<string, number>());
  const most = Math.max(...plans.map(({ trials }) => trials));
  const root = randomStream(seed);
  for (let round = 0; round < simulations; round += 1) {
    if (round % 50 === 0) tell?.(`simulated future ${round + 1} of ${simulations}`);
    const stream = root.split();
    const { mean, variance } = truth(stream);
    const futures = Array.from({ length: most }, () => ({
      found: mean + Math.sqrt(variance) * stream.normal(),
      noise: Array.from({ length: draws }, () => stream.normal()),
    }));
    for (const [place, { trials, people }] of plans.entries()) {
      const decision = decide(
        futures.slice(0, trials).map(({ found, noise }) => trialOf(found, noise, people)),
      );
      if (decision !== undefined)
        counts[place]!.set(decision, (counts[place]!.get(decision) ?? 0) + 1);
    }
  }
  return plans.map((plan, place) => {
    const own = [...counts[place]!];
    return {
      ...plan,
      ...chanceOf(
        own.reduce((sum, [, count]) => sum + count, 0),
        simulations,
      ),
      each: Object.fromEntries(own.map(([decision, count]) => [decision, count / simulations])),
    };
  });
};
