import {
  isOverScores,
  routeOf,
  scoreDeviation,
  scoreWords,
  spreadOfChanges,
  type ChangeContext,
} from "./arm-change.js";
import type { ArmReading } from "./arm-reading.js";
import type { ArmContrast, ArmRelation } from "./arm-relation.js";
import { relationCorrelation } from "./arm-relation.js";
import { pooledDeviation } from "./arm-summary.js";
import type { ResolvedCorrelation } from "./pre-post-correlation.js";
import { overDeviation } from "./over-deviation.js";
import type { Refusal } from "./refusal.js";
import { isRefusal } from "./refusal.js";
import { correctedStandardisedDifference } from "./standardised-mean-difference.js";

// Longer than most: the three standardised scales share one shape, and are best read side by side.

type Scaled = Readonly<{ estimate: number; variance: number }>;

/** What one arm brings to a pooled contrast: its value, its scatter, and the deviation to divide by. */
type Side = Readonly<{
  value: number;
  /** Standard deviation of the people around the value. */
  scatter: number;
  denominator: number;
  /** Degrees of freedom of the deviation to divide by. */
  freedom: number;
  participants: number;
  correlation?: ResolvedCorrelation;
  words: string;
}>;

/**
 * One arm against another over a deviation pooled over both arms.
 *
 * Deviations of the scores (at baseline, after training, pooled over the two), and arms made of the same people: as
 * `overDeviation`. Deviations of the changes and standardised mean differences: as of independent groups.
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
    spread: (-scaled.estimate * (side.participants - 1)) / (freedom * Math.sqrt(2 * side.freedom)),
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
  const own = { participants, freedom: participants - 1 };
  if (options.scale === "standardised-mean-difference") {
    if (deviationAfter === undefined) {
      return { refused: "no deviation after training is printed to standardise by" };
    }
    const common = { ...own, scatter: deviationAfter, denominator: deviationAfter };
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
  if (isRefusal(spread)) return spread;
  if (meanChange === undefined) {
    return { refused: "the mean change is not printed in the outcome's unit" };
  }
  const divisor = isOverScores(options.scale)
    ? scoreDeviation(reading, options.scale, context)
    : { deviation: spread.deviation, freedom: own.freedom };
  if (isRefusal(divisor)) return divisor;
  return {
    value: meanChange,
    scatter: spread.deviation,
    denominator: divisor.deviation,
    freedom: divisor.freedom,
    participants,
    words: routeOf(reading.meansRoute, spread.words),
    ...(spread.correlation !== undefined && { correlation: spread.correlation }),
  };
};

const differentPeopleEstimate = (
  first: Side,
  second: Side,
  deviation: number,
  { options }: ChangeContext,
): Scaled => {
  const difference = first.value - second.value;
  if (isOverScores(options.scale)) {
    const people = first.participants + second.participants;
    const error = (side: Side): number => side.scatter ** 2 / side.participants;
    const share = (side: Side): number => (side.participants - 1) ** 2 / side.freedom;
    return overDeviation(
      {
        difference,
        variance: error(first) + error(second),
        deviation,
        degreesOfFreedom: (people - 2) ** 2 / (share(first) + share(second)),
      },
      options.smallSampleFactor,
    );
  }
  return correctedStandardisedDifference(
    {
      uncorrected: difference / deviation,
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
): Scaled => {
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
  const squares =
    first.scatter ** 2 + second.scatter ** 2 - 2 * ofValues * first.scatter * second.scatter;
  return overDeviation({
    difference: first.value - second.value,
    variance: squares / Math.min(first.participants, second.participants),
    deviation: Math.sqrt((first.denominator ** 2 + second.denominator ** 2) / 2),
    degreesOfFreedom: (2 * Math.min(first.freedom, second.freedom)) / (1 + ofDenominators ** 2),
  });
};

const formulaWords = (relation: ArmRelation, { options }: ChangeContext): string => {
  const within =
    relation === "different people"
      ? ""
      : `, ${relation} (correlation ${relationCorrelation(relation, options)})`;
  if (isOverScores(options.scale)) {
    return `difference of the changes over the ${scoreWords[options.scale]} pooled over both arms (Morris 2008)${within}`;
  }
  if (options.scale === "standardised-mean-change-change-deviation") {
    return `difference of the changes over the deviation of the changes pooled over both arms, ${options.smallSampleFactor} small-sample factor, variance form "${options.standardisedVarianceForm}"${within}`;
  }
  const what =
    options.standardisedDifferenceOf === "changes" ? "the changes" : "the means after training";
  return `difference of ${what} over the deviation after training pooled over both arms, ${options.smallSampleFactor} small-sample factor, variance form "${options.standardisedVarianceForm}"${within}`;
};
