import { boundText } from "../records/cell-reading.js";
import {
  missingSpread,
  pairedReading,
  routeOf,
  spreadOfChanges,
  type ArmChange,
  type ChangeContext,
} from "./arm-change.js";
import type { ArmReading } from "./arm-reading.js";
import type { ScaledEstimate } from "./arm-summary.js";
import { fewPeopleFactor, fewPeopleNotes } from "./few-people.js";
import {
  distanceFromZero,
  logRatioFromPercentChange,
  logRatioOfMeansFromChange,
  logRatioOfMeansPaired,
} from "./log-ratio-of-means.js";
import type { ResolvedCorrelation } from "./pre-post-correlation.js";
import type { Refusal } from "./refusal.js";
import { isRefusal, rowNote } from "./refusal.js";
import { tFromP } from "./standard-deviation-from-test.js";

/** A change whose variance takes the arm's own spread as known, widened where few people stand behind it. */
const asChange = (
  scaled: ScaledEstimate,
  { row, participants }: ArmReading,
  { options }: ChangeContext,
  story: Pick<ArmChange, "route" | "notes"> & Readonly<{ correlation?: ResolvedCorrelation }>,
): ArmChange => {
  const factor = fewPeopleFactor(participants, participants - 1, options);
  const variance = factor * scaled.variance;
  return {
    estimate: scaled.estimate,
    variance,
    loading: { mean: Math.sqrt(variance), spread: 0 },
    ...story,
    notes: [...story.notes, ...fewPeopleNotes(row, participants, factor)],
  };
};

/**
 * Mean change in the outcome's own unit.
 *
 *   D = m₂ − m₁      V = s_c²/n      s_c = deviation of the changes
 *
 * @source none: variance of the mean of paired differences
 */
export const rawChange = (reading: ArmReading, context: ChangeContext): ArmChange | Refusal => {
  const { meanChange, participants } = reading;
  if (meanChange === undefined) {
    return { refused: "the mean change is not printed in the outcome's unit" };
  }
  const spread = spreadOfChanges(reading, context);
  if (isRefusal(spread)) return spread;
  const scaled = {
    scale: "raw-mean-difference" as const,
    estimate: meanChange,
    variance: spread.deviation ** 2 / participants,
  };
  return asChange(scaled, reading, context, {
    route: routeOf(reading.meansRoute, spread.words, "mean change"),
    notes: reading.notes,
    ...(spread.correlation !== undefined && { correlation: spread.correlation }),
  });
};

/**
 * Log ratio of the mean after to the mean before, by the best route the row allows.
 *
 * @source none: as `logRatioOfMeansPaired` and its companions
 */
export const logRatioChange = (
  reading: ArmReading,
  context: ChangeContext,
): ArmChange | Refusal => {
  const { meanBefore, meanAfter, participants, row } = reading;
  if (meanBefore === undefined || meanAfter === undefined) return fromPercent(reading, context);
  if (!(meanBefore > 0 && meanAfter > 0)) {
    const which =
      meanBefore > 0 ? `after training is ${meanAfter}` : `before training is ${meanBefore}`;
    return { refused: `the mean ${which}: a ratio has no meaning unless both means are above 0` };
  }
  const correlation = context.correlationOf(reading);
  const paired = pairedReading(reading, correlation.value);
  if (paired !== undefined) {
    if (!(paired.before.deviation > 0 || paired.after.deviation > 0)) {
      return { refused: "the spread before and after is 0" };
    }
    const order = context.options.logRatioOrder;
    const distance = Math.min(
      distanceFromZero({ ...paired.before, participants }),
      distanceFromZero({ ...paired.after, participants }),
    );
    const notes = [
      ...reading.notes,
      ...(distance >= 3
        ? []
        : [
            rowNote(
              row,
              "mean-near-zero",
              `a mean stands only ${distance.toFixed(1)} standard errors above 0 (3 or more wanted); its log ratio is doubtful`,
            ),
          ]),
    ];
    const words = `paired log ratio of means, ${order === "second-order" ? "second order (Lajeunesse 2015)" : "first order"}`;
    const change = reading.correlation === undefined ? "" : reading.changeRoute;
    return asChange(logRatioOfMeansPaired(paired, { order }), reading, context, {
      route: routeOf(reading.meansRoute, change, words),
      notes,
      correlation,
    });
  }
  if (reading.changeDeviation !== undefined && reading.changeDeviation > 0) {
    const scaled = logRatioOfMeansFromChange({
      meanBefore,
      meanAfter,
      changeDeviation: reading.changeDeviation,
      participants,
    });
    return asChange(scaled, reading, context, {
      route: routeOf(
        reading.meansRoute,
        reading.changeRoute,
        "log ratio of means with the spread of the changes relative to the geometric mean of the two means",
      ),
      notes: [
        ...reading.notes,
        rowNote(
          row,
          "deviations-not-printed",
          "deviations at both times are not printed; the variance comes from the spread of the changes alone and is rather too large than too small",
        ),
      ],
    });
  }
  if (reading.percentDeviation !== undefined) return fromPercent(reading, context);
  return borrowing({ ...reading, meanBefore, meanAfter }, context, missingSpread(reading));
};

/**
 * The log ratio of a row whose spread is borrowed: the same coefficient of variation before and after, the paired
 * variance with the row's correlation, widened as the coefficient is estimated, then moved to what a printed bound of p
 * allows:
 *
 *   p below α:  SE ≤ |L|/t      p above α:  SE ≥ |L|/t      t = t(1 − α/2; n − 1),  L = log ratio
 */
const borrowing = (
  reading: ArmReading & Readonly<{ meanBefore: number; meanAfter: number }>,
  context: ChangeContext,
  lacking: string,
): ArmChange | Refusal => {
  const { row, participants, meanBefore, meanAfter } = reading;
  const computedElsewhere = row.statistic === "effect computed elsewhere";
  const lent = computedElsewhere
    ? { refused: "none is borrowed for an effect computed elsewhere" }
    : context.lentTo(reading);
  if (isRefusal(lent))
    return { refused: `${lacking}; ${lent.refused}`, estimate: Math.log(meanAfter / meanBefore) };
  const { coefficient, studies, of, widened } = lent;
  const correlation = context.correlationOf(reading);
  const { estimate, variance } = logRatioOfMeansPaired(
    {
      before: {
        mean: meanBefore,
        deviation: reading.deviationBefore ?? coefficient * meanBefore,
      },
      after: { mean: meanAfter, deviation: reading.deviationAfter ?? coefficient * meanAfter },
      correlation: correlation.value,
      participants,
    },
    { order: context.options.logRatioOrder },
  );
  const error = Math.sqrt(widened * variance);
  const { pBound } = row;
  const limit =
    pBound === undefined
      ? 0
      : Math.abs(estimate) / tFromP({ p: pBound.p, degreesOfFreedom: participants - 1 });
  // An estimate of exactly no change cannot be told from it: a bound below says nothing then.
  const allowed =
    limit === 0
      ? error
      : pBound?.side === "below"
        ? Math.min(error, limit)
        : Math.max(error, limit);
  const movedTo = pBound === undefined || allowed === error ? undefined : `p ${boundText(pBound)}`;
  const words = `coefficient of variation ${coefficient.toFixed(2)} borrowed from ${studies} studies of ${of}`;
  return {
    estimate,
    variance: allowed ** 2,
    loading: { mean: allowed, spread: 0 },
    correlation,
    lent: { ...lent, ...(movedTo === undefined ? {} : { movedTo }) },
    route: routeOf(
      reading.meansRoute,
      words,
      "paired log ratio of means",
      movedTo === undefined ? "" : `standard error moved to what ${movedTo} allows`,
    ),
    notes: [
      ...reading.notes,
      rowNote(row, "spread-borrowed", `no usable spread is printed: ${words}`),
    ],
  };
};

const fromPercent = (reading: ArmReading, context: ChangeContext): ArmChange | Refusal => {
  const { percentMean, percentDeviation, participants, row } = reading;
  if (percentMean === undefined) {
    return { refused: "neither means at both times nor a percent change are printed" };
  }
  if (!(percentMean > -100)) return { refused: "a percent change of −100 has no log ratio" };
  if (percentDeviation === undefined) {
    const asMeans = {
      ...reading,
      meanBefore: 1,
      meanAfter: 1 + percentMean / 100,
      meansRoute: "mean percent change",
    };
    return borrowing(asMeans, context, "the percent change is printed without a usable spread");
  }
  if (!(percentDeviation > 0)) return { refused: "the spread of the percent changes is 0" };
  const scaled = logRatioFromPercentChange({ percentMean, percentDeviation, participants });
  return asChange(scaled, reading, context, {
    route: routeOf(
      "mean percent change",
      reading.percentRoute,
      "log ratio of means by the delta method",
    ),
    notes: [
      ...reading.notes,
      rowNote(
        row,
        "mean-of-percent-changes",
        "a mean of individual percent changes is used for the percent change of the means",
      ),
    ],
  });
};
