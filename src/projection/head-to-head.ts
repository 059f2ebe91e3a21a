/** Trials that set two arms like two protocols against each other inside one study. */
import { samplingCovarianceOf } from "../effects/sampling-covariance.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import { poolEffects } from "../synthesis/pool-effects.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { doseDistance, supportLimits, type DosePlace, type EvidenceArm } from "./support.js";

export type HeadToHeadTrial = Readonly<{
  study: string;
  citation: string;
  doi?: string;
  lines: readonly number[];
  /** The arm like the first protocol, and the one like the second. */
  firstArm: string;
  secondArm: string;
  firstDistance: number;
  secondDistance: number;
  /** Difference of the two arms' effects, first less second, log scale, mean of the readings they share. */
  estimate: number;
  standardError: number;
  interval: Interval;
  readings: number;
}>;

export type HeadToHead = Readonly<{
  trials: readonly HeadToHeadTrial[];
  /** Absent without a trial; of one trial, that trial. */
  pooled?: Readonly<{ estimate: number; interval: Interval; method: string }>;
}>;

/** Half of a 95% interval of a normal, in standard deviations. */
export const normalHalfWidth = 1.959963984540054;

const readingOf = ({ row }: Effect): string =>
  [
    row.outcome,
    row.method ?? "",
    row.testAngleDegrees ?? "",
    row.testSitePercent ?? "",
    row.weekMeasured ?? row.weeks ?? "",
  ].join("\u0000");

/** Readings two arms share: pairs of positions of their effects. */
const sharedReadings = (
  set: EffectSet,
  first: EvidenceArm,
  second: EvidenceArm,
): readonly (readonly [number, number])[] =>
  first.effects.flatMap((a) => {
    const reading = readingOf(set.effects[a]!);
    const b = second.effects.find((other) => readingOf(set.effects[other]!) === reading);
    return b === undefined ? [] : [[a, b] as const];
  });

/**
 * Trials of a file that compare arms like two protocols, and their pooled difference.
 *
 * A pair of arms of one study counts when the one is within two steps of the first protocol and nearer to it than to the
 * second, and the other likewise for the second. The difference is the mean over the readings both arms have (outcome,
 * angle, site, week), with the covariances of people shared between them; of each study the pair that lies nearest is
 * used. Several studies are pooled with random effects and guarded Hartung–Knapp intervals.
 *
 * @param set the effects of the goal, with covariances
 * @param arms the same effects as arms
 * @param places the two protocols
 * @source Borenstein M and others (2009) Introduction to Meta-Analysis, chapter 24 (mean of dependent differences)
 */
export const headToHead = (
  set: EffectSet,
  arms: readonly EvidenceArm[],
  places: readonly [DosePlace, DosePlace],
): HeadToHead => {
  const covariance = samplingCovarianceOf(set);
  const [firstPlace, secondPlace] = places;
  const candidates = arms.map((arm) => ({
    arm,
    toFirst: doseDistance(arm.place, firstPlace),
    toSecond: doseDistance(arm.place, secondPlace),
  }));
  const likeFirst = candidates.filter(
    ({ toFirst, toSecond }) => toFirst <= supportLimits.near && toFirst < toSecond,
  );
  const likeSecond = candidates.filter(
    ({ toFirst, toSecond }) => toSecond <= supportLimits.near && toSecond < toFirst,
  );
  const best = new Map<string, HeadToHeadTrial>();
  for (const one of likeFirst) {
    for (const other of likeSecond) {
      if (one.arm.cohort !== other.arm.cohort) continue;
      const readings = sharedReadings(set, one.arm, other.arm);
      if (readings.length === 0) continue;
      const before = best.get(one.arm.cohort);
      const far = one.toFirst + other.toSecond;
      if (before !== undefined && before.firstDistance + before.secondDistance <= far) continue;
      let total = 0;
      let variance = 0;
      for (const [a, b] of readings) {
        total += set.effects[a]!.estimate - set.effects[b]!.estimate;
        for (const [c, d] of readings)
          variance += covariance(a, c) + covariance(b, d) - covariance(a, d) - covariance(b, c);
      }
      const estimate = total / readings.length;
      const standardError = Math.sqrt(Math.max(variance, 1e-12)) / readings.length;
      best.set(one.arm.cohort, {
        study: one.arm.study,
        citation: one.arm.citation,
        ...(one.arm.doi === undefined ? {} : { doi: one.arm.doi }),
        lines: readings.flatMap(([a, b]) => [set.effects[a]!.row.line, set.effects[b]!.row.line]),
        firstArm: one.arm.arm,
        secondArm: other.arm.arm,
        firstDistance: one.toFirst,
        secondDistance: other.toSecond,
        estimate,
        standardError,
        interval: {
          low: estimate - normalHalfWidth * standardError,
          high: estimate + normalHalfWidth * standardError,
        },
        readings: readings.length,
      });
    }
  }
  const trials = [...best.values()].sort(
    (a, b) => a.firstDistance + a.secondDistance - (b.firstDistance + b.secondDistance),
  );
  const [only] = trials;
  if (only === undefined) return { trials };
  if (trials.length === 1) {
    return {
      trials,
      pooled: {
        estimate: only.estimate,
        interval: only.interval,
        method: "one trial, normal interval",
      },
    };
  }
  const result = poolEffects(
    trials.map(({ study, estimate, standardError }) => ({
      effectId: study,
      study,
      estimate,
      variance: standardError ** 2,
    })),
  );
  return {
    trials,
    pooled: {
      estimate: result.estimate,
      interval: result.interval,
      method: `${result.story.model}; ${result.story.intervalMethod}`,
    },
  };
};
