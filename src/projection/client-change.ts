/** One client's change from before training to each later test, against the error of the test. */
import { manyToOneQuantile } from "../numeric/many-to-one-t.js";
import { grouped } from "../records/grouped.js";

/** One trial: the day it was made on and the natural logarithm of its value. */
export type LogTrial = Readonly<{ day: number; logValue: number }>;

/** What the error of one test is taken from before the client's own repeats. */
export type PublishedError = Readonly<{
  /** Log scale; 0.05 is about 5%. */
  deviation: number;
  /** People it was measured in; 20 where it is not known. */
  people?: number;
}>;

/** What people show who do not train, log scale. */
export type UntrainedChange = Readonly<{
  /** Mean change. */
  mean: number;
  /** Variance of the mean, and between groups. */
  meanVariance: number;
  /** Variance of people's changes beyond the error of two tests. */
  personVariance: number;
}>;

export type ClientChangeOptions = Readonly<{
  /** Day on which training began; the first day of the log where left out. */
  start?: number;
  published?: PublishedError;
  /** Absent where nothing is known of people who do not train. */
  untrained?: UntrainedChange;
  /** Later tests planned in all, repeats within 3 days left out, where more than the log has. */
  planned?: number;
  /** Share of logs without any change in which no change is called one. */
  confidence?: number;
}>;

/**
 * Days, of choices that are ours: tests this near to each other are one test made twice; tests so long before the last
 * one before training are too old to be a baseline.
 */
export const clientDays = { together: 3, baseline: 28 } as const;
export const clientChangeDefaults = { confidence: 0.95, people: 20, planned: 0 } as const;

/** A published error stands for the client's own as this many repeats would: people differ in theirs. Ours. */
const repeatsAcrossPeople = 10;

/** A test made on one day, or on some days near each other. */
export type Occasion = Readonly<{
  /** Of its first day. */
  day: number;
  weeks: number;
  days: number;
  trials: number;
  /** Mean of its days' means, log scale. */
  logValue: number;
}>;

/** The change up to one occasion. */
export type OccasionChange = Occasion &
  Readonly<{
    /** As measured, log scale. */
    measured: number;
    /** With the change without training taken off. */
    change: number;
    /** Limits of `change` that hold for all occasions of the log at once. */
    low: number;
    high: number;
    call: "more" | "less" | "within the error";
  }>;

export type ClientError = Readonly<{
  /** Of one test on one day, log scale. */
  deviation: number;
  degreesOfFreedom: number;
  /** Of the published error: how many repeats it counts as; 0 without one. */
  publishedRepeats: number;
  /** Repeats of the client on other days, and their deviation. */
  ownRepeats: number;
  ownDeviation?: number;
  /** Trials within days beyond the first of each, where their mean errs by more than all this: they widen it. */
  trialsWiden: number;
}>;

export type ClientChange = Readonly<{
  baseline: Occasion;
  occasions: readonly OccasionChange[];
  /** Days older than the baseline reaches back. */
  tooOld: readonly number[];
  error: ClientError;
  /** Deviations of a difference that it must exceed, and how many later tests that holds for. */
  threshold: number;
  thresholdFor: number;
  /** Smallest change of one further test on one day that would be called one, log scale. */
  detectable: number;
}>;

type Day = Readonly<{ day: number; logValue: number; trials: number; squares: number }>;

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
const squaresOf = (values: readonly number[]): number => {
  const mean = meanOf(values);
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
};

const daysOf = (trials: readonly LogTrial[]): readonly Day[] =>
  [...grouped(trials, ({ day }) => String(day)).values()]
    .map((ofDay): Day => {
      const values = ofDay.map(({ logValue }) => logValue);
      return {
        day: ofDay[0]!.day,
        logValue: meanOf(values),
        trials: values.length,
        squares: squaresOf(values),
      };
    })
    .sort((a, b) => a.day - b.day);

/** Days before training as one group, later ones as those near each other. */
const groupsOf = (days: readonly Day[], start: number) => {
  const before = days.filter(({ day }) => day <= start + clientDays.together);
  const last = before.at(-1)?.day ?? 0;
  const baseline = before.filter(({ day }) => day >= last - clientDays.baseline);
  const later: Day[][] = [];
  for (const day of days.slice(before.length)) {
    const group = later.at(-1);
    if (group !== undefined && day.day - group[0]!.day <= clientDays.together) group.push(day);
    else later.push([day]);
  }
  return {
    baseline,
    later,
    tooOld: before.slice(0, before.length - baseline.length).map(({ day }) => day),
  };
};

/**
 * The error of one test: the published one and the client's own repeats, weighted by their degrees of freedom.
 *
 *   s² = (n₀e² + Σ(days of an occasion about their mean)²)/(n₀ + n₁),  1/n₀ = 1/people + 1/10
 *
 * Trials within a day say nothing of how days differ; they count only where the mean of a day's trials errs by more.
 */
const errorOf = (
  groups: readonly (readonly Day[])[],
  { published }: ClientChangeOptions,
): ClientError | undefined => {
  const own = groups.reduce((sum, days) => sum + days.length - 1, 0);
  const ownSquares = groups.reduce(
    (sum, days) => sum + squaresOf(days.map(({ logValue }) => logValue)),
    0,
  );
  const counts =
    published === undefined
      ? 0
      : 1 / (1 / (published.people ?? clientChangeDefaults.people) + 1 / repeatsAcrossPeople);
  let degrees = counts + own;
  if (degrees === 0) return undefined;
  let variance = (counts * (published?.deviation ?? 0) ** 2 + ownSquares) / degrees;
  const days = groups.flat();
  const within = days.reduce((sum, { trials }) => sum + trials - 1, 0);
  // Harmonic mean of the trials a day: what the mean of a day's trials errs by on average.
  const shares = meanOf(days.map(({ trials }) => 1 / trials));
  const trialsMean =
    within === 0 ? 0 : (shares * days.reduce((sum, { squares }) => sum + squares, 0)) / within;
  const widens = trialsMean > variance;
  if (widens) {
    variance = (degrees * variance + within * trialsMean) / (degrees + within);
    degrees += within;
  }
  if (!(variance > 0)) return undefined;
  return {
    deviation: Math.sqrt(variance),
    degreesOfFreedom: degrees,
    publishedRepeats: counts,
    ownRepeats: own,
    ...(own === 0 ? {} : { ownDeviation: Math.sqrt(ownSquares / own) }),
    trialsWiden: widens ? within : 0,
  };
};

/** Why a log says nothing of a change. */
export type NoChange = "no-baseline" | "no-later-test" | "no-test-error";

/**
 * The change of one client at each test after training began, each with limits that hold for all of them at once.
 *
 *   Cⱼ = Yⱼ − Y₀ − u,   Vⱼ = s²(1/mⱼ + 1/m₀) + v,   limits Cⱼ ± q·√Vⱼ
 *
 * Y is the mean of the log values of an occasion of m days, u the mean change of people who do not train and v its
 * variance, between groups and between people included; s is the error of one test. q is the bound that the largest of
 * all |Cⱼ|/√Vⱼ keeps with the confidence where nothing changed: they share Y₀ and u, so their loadings are the roots of
 * (s²/m₀ + v)/Vⱼ. Degrees of freedom n·Vⱼ/(Vⱼ − v), n those of s, the smallest of all: fewer than by the usual square of that
 * ratio, which with an s² of few degrees of freedom lets up to 5.8% of changes of nothing through at a nominal 5%.
 * Every further day of an occasion counts as one more test: whoever repeats only what told no change looks twice. Where each
 * such test is repeated, 5 to 7% of logs of no change are called at some look (6.5 to 8.5% without that count; simulated).
 *
 * @param trials of one test
 * @returns the change, or why there is none
 * @source Dunnett CW (1955) Journal of the American Statistical Association 50:1096–1121 for q; with one later test, no
 *   repeats and a known error, q·s·√2 is the smallest detectable change
 */
export const clientChange = (
  trials: readonly LogTrial[],
  options: ClientChangeOptions = {},
): ClientChange | NoChange => {
  const days = daysOf(trials);
  const start = options.start ?? days[0]?.day ?? 0;
  const { baseline, later, tooOld } = groupsOf(days, start);
  if (baseline.length === 0) return "no-baseline";
  const error = errorOf([baseline, ...later], options);
  if (error === undefined) return "no-test-error";
  const occasion = (group: readonly Day[]): Occasion => ({
    day: group[0]!.day,
    weeks: Math.max(0, meanOf(group.map(({ day }) => day)) - start) / 7,
    days: group.length,
    trials: group.reduce((sum, one) => sum + one.trials, 0),
    logValue: meanOf(group.map(({ logValue }) => logValue)),
  });
  const square = error.deviation ** 2;
  const { mean, meanVariance, personVariance } = options.untrained ?? {
    mean: 0,
    meanVariance: 0,
    personVariance: 0,
  };
  const shared = square / baseline.length + meanVariance + personVariance;
  const one = square + shared;
  const variances = later.map((group) => square / group.length + shared);
  const repeated = later.reduce((sum, group) => sum + group.length - 1, 0);
  const planned = options.planned ?? clientChangeDefaults.planned;
  const thresholdFor = Math.max(1, later.length, planned) + repeated;
  const all = [...variances, ...Array<number>(thresholdFor - later.length).fill(one)];
  const threshold = manyToOneQuantile(
    options.confidence ?? clientChangeDefaults.confidence,
    all.map((variance) => Math.sqrt(shared / variance)),
    Math.min(
      ...all.map((variance) => {
        const byError = variance - meanVariance - personVariance;
        return error.degreesOfFreedom * (variance / byError);
      }),
    ),
  );
  const before = occasion(baseline);
  return {
    baseline: { ...before, weeks: 0 },
    tooOld,
    error,
    threshold,
    thresholdFor,
    detectable: threshold * Math.sqrt(one),
    occasions: later.map((group, j) => {
      const at = occasion(group);
      const measured = at.logValue - before.logValue;
      const change = measured - mean;
      const reach = threshold * Math.sqrt(variances[j]!);
      return {
        ...at,
        measured,
        change,
        low: change - reach,
        high: change + reach,
        call: change > reach ? "more" : change < -reach ? "less" : "within the error",
      };
    }),
  };
};
