/** How far people differ in their own response to training, beyond what people without training show. */
import type { Interval } from "../synthesis/synthesis-results.js";
import { effectsFromRows } from "../effects/effects-from-rows.js";
import type { Effect } from "../effects/effect.js";
import { gaussLegendre } from "../numeric/quadrature.js";
import type { OutcomeRow } from "../records/outcome-row.js";

/** Variance of people's log changes in one arm. */
export type ChangeSpread = Readonly<{ variance: number; participants: number }>;

/** One control group and the trained arms it stands beside, all tested alike. */
export type ResponseComparison = Readonly<{
  study: string;
  trained: readonly ChangeSpread[];
  control: ChangeSpread;
}>;

export type IndividualResponse = Readonly<{
  /** Possible deviations of people's own log response with their weights. */
  points: readonly Readonly<{ weight: number; deviation: number }>[];
  /** Posterior median. */
  deviation: number;
  interval: Interval;
  comparisons: number;
  /**
   * Pooled difference of the variances as a signed root, with limits; negative when controls varied more. Absent
   * without a comparison.
   */
  signedDeviation?: Readonly<{ estimate: number; low: number; high: number }>;
  /** Pooled deviation of the controls' changes: measurement error and everyday variation. */
  controlDeviation?: number;
  source: "the file's trained and control arms" | "the prior alone";
}>;

const placeOf = ({ row, cohort }: Effect): string =>
  [
    cohort,
    row.outcome,
    row.method ?? "",
    row.testAngleDegrees ?? "",
    row.testSitePercent ?? "",
    row.weekMeasured ?? row.weeks ?? "",
    row.testSide ?? "",
  ].join("\u0000");

/** Only spreads that a paper printed or that follow from what it printed; an assumed correlation says nothing. */
const isPrinted = ({ correlationSource }: Effect): boolean =>
  correlationSource === "stated in the source" ||
  correlationSource === "computed from printed deviations" ||
  correlationSource === "not needed";

/**
 * Trained and control arms of one study whose spread of changes is printed, one comparison a cohort.
 *
 * The variance of people's log changes is the number of people times the sampling variance of the mean log
 * change. Readings whose spread rests on an assumed pre–post correlation are left out. Of a cohort's
 * readings (angles, sites, times) the first that has both arms is used, so that people count once.
 *
 * @param rows rows of one outcome family, trained and control arms
 * @source Hopkins WG (2015) Sportscience 19:1–7; Atkinson G, Batterham AM (2015) Experimental Physiology 100:577–588
 */
export const responseComparisons = (rows: readonly OutcomeRow[]): readonly ResponseComparison[] => {
  const { effects } = effectsFromRows(rows, {
    scale: "log-ratio-of-means",
    contrast: "change-within-arm",
    armKinds: ["isometric", "no exercise"],
  });
  const places = new Map<string, { trained: Effect[]; control: Effect[] }>();
  for (const effect of effects) {
    if (!isPrinted(effect) || effect.row.statistic === "effect computed elsewhere") continue;
    const key = placeOf(effect);
    const place = places.get(key) ?? { trained: [], control: [] };
    (effect.row.armKind === "no exercise" ? place.control : place.trained).push(effect);
    places.set(key, place);
  }
  const spread = ({ variance, participants }: Effect): ChangeSpread => ({
    variance: variance * participants,
    participants,
  });
  const done = new Set<string>();
  const comparisons: ResponseComparison[] = [];
  for (const { trained, control } of places.values()) {
    const [other] = control;
    const usable = trained.filter(({ participants }) => participants > 1);
    if (other === undefined || usable.length === 0 || !(other.participants > 1)) continue;
    if (done.has(other.cohort)) continue;
    done.add(other.cohort);
    comparisons.push({ study: other.study, trained: usable.map(spread), control: spread(other) });
  }
  return comparisons;
};

/** Log density of a sample variance, up to terms without the true one: (n−1)s²/v is χ² with n−1 degrees. */
const logVarianceDensity = ({ variance, participants }: ChangeSpread, truth: number): number =>
  -0.5 * (participants - 1) * (Math.log(truth) + variance / truth);

const points = 10;
/** Points below this share of the highest are dropped. */
const negligible = 1e-5;
const nuisancePoints = 120;

/** ln ∫ p(trained | φ + r²) p(control | φ) dlnφ for one comparison, φ the controls' true variance. */
const logLikelihood = ({ trained, control }: ResponseComparison, response: number): number => {
  const { nodes, weights } = gaussLegendre(nuisancePoints);
  const centre = Math.log(control.variance);
  const half = Math.min(6, 12 / Math.sqrt(Math.max(1, (control.participants - 1) / 2)));
  const logs = Array.from(nodes, (node, i) => {
    const truth = Math.exp(centre + half * node);
    return trained.reduce(
      (sum, arm) => sum + logVarianceDensity(arm, truth + response ** 2),
      logVarianceDensity(control, truth) + Math.log(weights[i]!),
    );
  });
  const top = Math.max(...logs);
  return top + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - top), 0));
};

/**
 * Posterior of the deviation of people's own response.
 *
 *   changes without training: variance φ (test error and everyday variation), its own in each study;
 *   changes with training: φ + r²;   r ~ half-normal(scale)
 *
 * Sample variances are χ²; each φ is integrated out with a flat prior on its logarithm, r by quadrature. The signed
 * root of the pooled difference of variances is given beside it, because a difference can be negative and
 * cutting it at zero would hide that.
 *
 *   D = s_T² − s_C²,  SE(D) = √(2[s_T⁴/(n_T−1) + s_C⁴/(n_C−1)]),  pooled by 1/SE²
 *
 * @param comparisons may be empty: the prior then stands alone
 * @param scale of the half-normal prior, above 0
 * @source Hopkins WG (2015); Atkinson G, Batterham AM (2015); for the likelihood, the χ² law of sample variances
 */
export const individualResponse = (
  comparisons: readonly ResponseComparison[],
  scale: number,
): IndividualResponse => {
  const logPosterior = (response: number): number =>
    comparisons.reduce(
      (sum, one) => sum + logLikelihood(one, response),
      -0.5 * (response / scale) ** 2,
    );
  // The range is narrowed to where the posterior has not fallen by e⁻¹²; the second rule stands there.
  const first = rule(0, 5 * scale, 24, logPosterior);
  const top = Math.max(...first.map(({ log }) => log));
  const inside = first.filter(({ log }) => log > top - 12);
  const step = (5 * scale) / 16;
  const low = Math.max(0, (inside[0]?.deviation ?? 0) - step);
  const high = Math.min(5 * scale, (inside.at(-1)?.deviation ?? scale) + step);
  const found = rule(low, high, points, logPosterior);
  const highest = Math.max(...found.map(({ log }) => log));
  const masses = found
    .map(({ deviation, log }) => ({ deviation, mass: Math.exp(log - highest) }))
    .filter(({ mass }) => mass > negligible);
  const total = masses.reduce((sum, { mass }) => sum + mass, 0);
  const weighted = masses.map(({ deviation, mass }) => ({ deviation, weight: mass / total }));
  const fine = rule(low, high, 200, logPosterior);
  const signed = signedDeviation(comparisons);
  return {
    points: weighted,
    deviation: quantileOf(fine, 0.5),
    interval: { low: quantileOf(fine, 0.025), high: quantileOf(fine, 0.975) },
    comparisons: comparisons.length,
    ...(signed === undefined ? {} : { signedDeviation: signed }),
    ...(comparisons.length === 0 ? {} : { controlDeviation: pooledControl(comparisons) }),
    source: comparisons.length === 0 ? "the prior alone" : "the file's trained and control arms",
  };
};

type RulePoint = Readonly<{ deviation: number; log: number }>;

const rule = (
  low: number,
  high: number,
  count: number,
  log: (response: number) => number,
): readonly RulePoint[] => {
  const { nodes, weights } = gaussLegendre(count);
  return Array.from(nodes, (node, i) => {
    const deviation = low + ((high - low) / 2) * (1 + node);
    return { deviation, log: log(deviation) + Math.log(weights[i]!) };
  });
};

const quantileOf = (found: readonly RulePoint[], probability: number): number => {
  const top = Math.max(...found.map(({ log }) => log));
  const masses = found.map(({ log }) => Math.exp(log - top));
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  let below = 0;
  for (let i = 0; i < found.length; i++) {
    const mass = masses[i]! / total;
    if (below + mass >= probability) return found[i]!.deviation;
    below += mass;
  }
  return found.at(-1)!.deviation;
};

const pooledControl = (comparisons: readonly ResponseComparison[]): number => {
  let squares = 0;
  let degrees = 0;
  for (const { control } of comparisons) {
    squares += (control.participants - 1) * control.variance;
    degrees += control.participants - 1;
  }
  return Math.sqrt(squares / degrees);
};

const signedRoot = (value: number): number => Math.sign(value) * Math.sqrt(Math.abs(value));

const signedDeviation = (
  comparisons: readonly ResponseComparison[],
): IndividualResponse["signedDeviation"] => {
  if (comparisons.length === 0) return undefined;
  let total = 0;
  let weight = 0;
  for (const { trained, control } of comparisons) {
    const degrees = trained.reduce((sum, { participants }) => sum + participants - 1, 0);
    const pooled =
      trained.reduce((sum, arm) => sum + (arm.participants - 1) * arm.variance, 0) / degrees;
    const variance =
      2 * (pooled ** 2 / degrees + control.variance ** 2 / (control.participants - 1));
    total += (pooled - control.variance) / variance;
    weight += 1 / variance;
  }
  const [difference, error] = [total / weight, 1 / Math.sqrt(weight)];
  const reach = 1.959963984540054 * error;
  return {
    estimate: signedRoot(difference),
    low: signedRoot(difference - reach),
    high: signedRoot(difference + reach),
  };
};
