import type { ChangeContext } from "./arm-change.js";
import { routeOf } from "./arm-change-of-means.js";
import type { ArmReading } from "./arm-reading.js";
import type { ArmContrast, ArmRelation } from "./arm-relation.js";
import { relationCorrelation } from "./arm-relation.js";
import type { ScaledEstimate } from "./arm-summary.js";
import { pooledDeviation } from "./arm-summary.js";
import type { EffectScale } from "./effect.js";
import type { ResolvedCorrelation } from "./pre-post-correlation.js";
import { prePostControlFromParts } from "./pre-post-control.js";
import type { Refusal } from "./refusal.js";
import { isRefusal } from "./refusal.js";
import { missingSpread, spreadOfChanges } from "./spread-of-changes.js";
import { correctedStandardisedDifference } from "./standardised-mean-difference.js";
import { withinPersonFromParts } from "./within-person-contrast.js";

// Longer than most: the three standardised scales share one shape, and are best read side by side.

/** What one arm brings to a pooled contrast: its value, its scatter, and the deviation to divide by. */
type Side = Readonly<{
  value: number;
  /** Standard deviation of the people around the value. */
  scatter: number;
  denominator: number;
  /** Degrees of freedom of the deviation to divide by, where they are not the people less one. */
  freedom?: number;
  participants: number;
  correlation?: ResolvedCorrelation;
  words: string;
}>;

/**
 * One arm against another over a deviation pooled over both arms.
 *
 * Deviations at baseline, after training, or pooled over the two: Morris 2008. Deviations of the changes, and a
 * standardised mean difference: a difference of independent groups. Arms made of the same people: the contrast within
 * a person. The degrees of freedom of a deviation pooled over arms whose own have νᵢ are
 *
 *   ν = (N−2)²/Σ((nᵢ−1)²/νᵢ)  for different people,   2·min(ν₁, ν₂)/(1+ρ²)  for the same
 *   νᵢ = nᵢ−1, or 2(nᵢ−1)/(1+rᵢ²) pooled over before and after;  ρ = correlation of the limbs before training
 *
 * which are N−2 and 2(n−1)/(1+ρ²) for the first.
 *
 * @source Morris SB (2008) Organizational Research Methods 11:364–386; Hedges LV (1981) Journal of
 *   Educational Statistics 6:107–128
 */
export const pooledContrast = (
  treated: ArmReading,
  comparator: ArmReading,
  relation: ArmRelation,
  context: ChangeContext,
): ArmContrast | Refusal => {
  const first = sideOf(treated, context);
  if (isRefusal(first)) return first;
  const second = sideOf(comparator, context);
  if (isRefusal(second)) {
    return {
      refused: `its comparator (arm "${comparator.row.arm}", line ${comparator.row.line}) cannot be used: ${second.refused}`,
    };
  }
  const samePeople = relation !== "different people";
  const few = tooFew(first, second, samePeople);
  if (few !== undefined) return few;
  const deviation = pooledDeviation(
    { deviation: first.denominator, participants: first.participants },
    { deviation: second.denominator, participants: second.participants },
  );
  if (!(deviation > 0)) return { refused: "the deviation to standardise by is 0 in both arms" };
  const scaled = samePeople
    ? samePeopleEstimate(first, second, relation, context)
    : differentPeopleEstimate(first, second, deviation, context);
  const freedom = first.participants + second.participants - 2;
  const loading = (side: Side, sign: 1 | -1) => ({
    mean: (sign * side.scatter) / deviation / Math.sqrt(side.participants),
    spread:
      (-scaled.estimate * (side.participants - 1)) / (freedom * Math.sqrt(2 * freedomOf(side))),
  });
  const correlations = [first.correlation, second.correlation].filter((one) => one !== undefined);
  const inArms =
    first.words === second.words
      ? `in each arm: ${first.words}`
      : `trained arm: ${first.words}; comparator: ${second.words}`;
  return {
    estimate: scaled.estimate,
    variance: scaled.variance,
    treatedLoading: loading(first, 1),
    comparatorLoading: loading(second, -1),
    correlations,
    ...(samePeople && { betweenLimbs: relationCorrelation(relation, context.options) }),
    route: routeOf(inArms, formulaWords(relation, context)),
    notes: [...treated.notes, ...comparator.notes],
  };
};

const freedomOf = ({ freedom, participants }: Side): number => freedom ?? participants - 1;

const tooFew = (first: Side, second: Side, samePeople: boolean): Refusal | undefined => {
  if (samePeople) {
    return Math.min(first.participants, second.participants) < 4
      ? { refused: "a standardised contrast within people needs at least four people" }
      : undefined;
  }
  return first.participants + second.participants < 5
    ? { refused: "a standardised contrast needs at least five people in the two arms together" }
    : undefined;
};

const sideOf = (reading: ArmReading, context: ChangeContext): Side | Refusal => {
  const { options } = context;
  const { participants, meanAfter, deviationAfter, meanChange } = reading;
  if (options.scale === "standardised-mean-difference") {
    if (deviationAfter === undefined) {
      return { refused: "no deviation after training is printed to standardise by" };
    }
    const common = { scatter: deviationAfter, denominator: deviationAfter, participants };
    if (options.standardisedDifferenceOf === "changes") {
      return meanChange === undefined
        ? { refused: "the mean change is not printed in the outcome's unit" }
        : { ...common, value: meanChange, words: reading.meansRoute };
    }
    return meanAfter === undefined
      ? { refused: "the mean after training is not printed" }
      : { ...common, value: meanAfter, words: reading.meansRoute };
  }
  const spread = spreadOfChanges(reading, context);
  if (options.scale === "standardised-mean-change-change-deviation") {
    if (!isRefusal(spread) && meanChange !== undefined) {
      return {
        value: meanChange,
        scatter: spread.deviation,
        denominator: spread.deviation,
        participants,
        words: routeOf(reading.meansRoute, spread.words),
        ...(spread.correlation !== undefined && { correlation: spread.correlation }),
      };
    }
    return isRefusal(spread) ? spread : { refused: missingChange };
  }
  if (meanChange === undefined) return { refused: missingChange };
  const divisor = divisorOf(reading, context);
  if (isRefusal(divisor)) return divisor;
  if (isRefusal(spread)) return { refused: missingSpread(reading) };
  return {
    value: meanChange,
    scatter: spread.deviation,
    ...divisor,
    participants,
    words: routeOf(reading.meansRoute, spread.words),
    ...(spread.correlation !== undefined && { correlation: spread.correlation }),
  };
};

/** The deviation of one arm to divide a change by, at one time or pooled over the two. */
const divisorOf = (
  reading: ArmReading,
  context: ChangeContext,
): Pick<Side, "denominator" | "freedom"> | Refusal => {
  const { deviationBefore: before, deviationAfter: after, participants } = reading;
  const { scale } = context.options;
  if (scale === "standardised-mean-change-pooled-deviation") {
    if (before === undefined || after === undefined) {
      return { refused: "deviations at both times are needed to standardise by them" };
    }
    const correlation = context.correlationOf(reading).value;
    return {
      denominator: Math.sqrt((before ** 2 + after ** 2) / 2),
      freedom: (2 * (participants - 1)) / (1 + correlation ** 2),
    };
  }
  const isAfter = scale === "standardised-mean-change-after-deviation";
  const denominator = isAfter ? after : before;
  return denominator === undefined
    ? {
        refused: `no deviation ${isAfter ? "after training" : "at baseline"} is printed to standardise by`,
      }
    : { denominator };
};

const missingChange = "the mean change is not printed in the outcome's unit";

const differentPeopleEstimate = (
  first: Side,
  second: Side,
  deviation: number,
  { options }: ChangeContext,
): ScaledEstimate => {
  if (isOfChanges(options.scale)) {
    const people = first.participants + second.participants;
    const share = (side: Side): number => (side.participants - 1) ** 2 / freedomOf(side);
    const parts = {
      meanDifference: first.value - second.value,
      baselineDeviation: deviation,
      numeratorVariance:
        (first.scatter ** 2 / first.participants + second.scatter ** 2 / second.participants) /
        deviation ** 2,
      participants: people,
      degreesOfFreedom: (people - 2) ** 2 / (share(first) + share(second)),
    };
    const scaled = prePostControlFromParts(parts, { smallSample: options.smallSampleFactor });
    return { ...scaled, scale: options.scale };
  }
  return correctedStandardisedDifference(
    {
      uncorrected: (first.value - second.value) / deviation,
      treated: first.participants,
      control: second.participants,
    },
    { varianceForm: options.standardisedVarianceForm, smallSample: options.smallSampleFactor },
  );
};

const samePeopleEstimate = (
  first: Side,
  second: Side,
  relation: ArmRelation,
  { options }: ChangeContext,
): ScaledEstimate => {
  const changes = relationCorrelation(relation, options);
  // The correlation of what is averaged, and of what is divided by.
  const ofScores =
    options.scale === "standardised-mean-difference" &&
    options.standardisedDifferenceOf === "means-after-training";
  const ofValues = ofScores ? options.limbsBaselineCorrelation : changes;
  const ofDenominators =
    options.scale === "standardised-mean-change-change-deviation"
      ? changes
      : options.limbsBaselineCorrelation;
  return withinPersonFromParts(
    {
      meanDifference: first.value - second.value,
      differenceVariance:
        first.scatter ** 2 + second.scatter ** 2 - 2 * ofValues * first.scatter * second.scatter,
      baselineDeviation: Math.sqrt((first.denominator ** 2 + second.denominator ** 2) / 2),
      participants: Math.min(first.participants, second.participants),
      degreesOfFreedom:
        (2 * Math.min(freedomOf(first), freedomOf(second))) / (1 + ofDenominators ** 2),
    },
    { changes: ofValues, baselines: ofDenominators },
  );
};

const divisorWords = {
  "standardised-mean-change-baseline-deviation": "baseline deviation",
  "standardised-mean-change-after-deviation": "deviation after training",
  "standardised-mean-change-pooled-deviation": "deviation of before and after",
} as const satisfies Partial<Record<EffectScale, string>>;

/** Whether a scale is a change over a deviation of the scores, at one time or both. */
export const isOfChanges = (scale: EffectScale): scale is keyof typeof divisorWords =>
  scale in divisorWords;

const formulaWords = (relation: ArmRelation, { options }: ChangeContext): string => {
  const within =
    relation === "different people"
      ? ""
      : `, ${relation} (correlation ${relationCorrelation(relation, options)})`;
  if (isOfChanges(options.scale)) {
    return `difference of the changes over the ${divisorWords[options.scale]} pooled over both arms (Morris 2008)${within}`;
  }
  if (options.scale === "standardised-mean-change-change-deviation") {
    return `difference of the changes over the deviation of the changes pooled over both arms, ${options.smallSampleFactor} small-sample factor, variance form "${options.standardisedVarianceForm}"${within}`;
  }
  const what =
    options.standardisedDifferenceOf === "changes" ? "the changes" : "the means after training";
  return `difference of ${what} over the deviation after training pooled over both arms, ${options.smallSampleFactor} small-sample factor, variance form "${options.standardisedVarianceForm}"${within}`;
};
