import type { OutcomeRow } from "../records/outcome-row.js";
import type { ChangeContext } from "./arm-change.js";
import type { ArmContrast, ArmRelation } from "./arm-relation.js";
import { relationCorrelation } from "./arm-relation.js";
import { pooledDeviation } from "./arm-summary.js";
import { fewPeopleFactor, fewPeopleNotes } from "./few-people.js";
import { overDeviation } from "./over-deviation.js";
import { printedDeviation } from "./read-means.js";
import type { PeopleOfDifference, PrintedDifference } from "./read-difference.js";
import { differenceFreedom, readDifference } from "./read-difference.js";
import { readyEffect } from "./ready-effect.js";
import type { Refusal } from "./refusal.js";
import { isRefusal, rowNote } from "./refusal.js";
import { manyPeople, rowParticipants } from "./row-participants.js";
import {
  correctedStandardisedDifference,
  standardisedDifferenceFromT,
} from "./standardised-mean-difference.js";

/**
 * The effect of a row whose numbers are already a difference from its comparator.
 *
 * Which scales can be reached: the outcome's own unit; deviations at baseline or after when both arms print theirs
 * (the unadjusted deviation standardises an adjusted difference); deviations of the changes from
 * the test or interval; any scale for an effect computed elsewhere. A log ratio cannot be had from a difference.
 *
 * @param treated  the row with the printed difference
 * @param comparator  the matching row of the other arm, for its people and baseline deviation
 * @param relation  whether the arms share people
 * @param context  resolved options
 * @returns estimate, variance and story, or why this scale cannot be reached
 * @source Cochrane Handbook for Systematic Reviews of Interventions, chapter 6 and section 10.5.2
 */
export const printedDifference = (
  treated: OutcomeRow,
  comparator: OutcomeRow | undefined,
  relation: ArmRelation,
  context: ChangeContext,
): ArmContrast | Refusal => {
  const { scale } = context.options;
  const own = rowParticipants(treated);
  if (isRefusal(own))
    return (scale === "raw-mean-difference" ? differenceWithError(treated) : undefined) ?? own;
  const other = comparator === undefined ? undefined : rowParticipants(comparator);
  const first = own.participants;
  const second = other === undefined || isRefusal(other) ? undefined : other.participants;
  const ready = readyEffect(
    treated,
    scale,
    second === undefined || relation !== "different people"
      ? undefined
      : { treated: first, control: second },
  );
  if (ready !== undefined) {
    if (isRefusal(ready)) return ready;
    return story(ready, { first, second: second ?? first, route: ready.route });
  }
  if (second === undefined) {
    const alone = scale === "raw-mean-difference" ? differenceWithError(treated) : undefined;
    if (alone !== undefined) return alone;
    return {
      refused:
        "its numbers are a difference from a comparator, and no comparator row says how many people that was",
    };
  }
  const people = { first, second, same: relation !== "different people" };
  const printed = readDifference(treated, people);
  if (isRefusal(printed)) return printed;
  const scaled = onScale(printed, { treated, comparator, people, relation, context });
  if (isRefusal(scaled)) return scaled;
  const route = `difference from the comparator as printed; ${printed.words}`;
  const fewest = Math.min(first, second);
  const factor =
    scale === "raw-mean-difference"
      ? fewPeopleFactor(fewest, differenceFreedom(people), context.options)
      : 1;
  return {
    ...story({ ...scaled, variance: factor * scaled.variance }, { first, second, route }),
    notes: fewPeopleNotes(treated, fewest, factor),
    ...(people.same &&
      scale !== "raw-mean-difference" && {
        betweenLimbs: relationCorrelation(relation, context.options),
      }),
  };
};

/**
 * A difference in the outcome's own unit that prints its standard error or interval, with nothing known of the
 * comparator's people: the error stands as printed, and an interval is read by the normal quantile.
 */
const differenceWithError = (row: OutcomeRow): ArmContrast | undefined => {
  const isError = row.spreadKind === "standard error" || row.spreadKind?.startsWith("95%") === true;
  const printed = readDifference(row, { first: manyPeople, second: manyPeople, same: false });
  if (isRefusal(printed)) return undefined;
  const { difference, standardError, words } = printed;
  if (difference === undefined || standardError === undefined) return undefined;
  if (row.changeSpread === undefined ? row.intervalLow === undefined : !isError) return undefined;
  const message =
    "how many people stand on either side is not given; the printed error of the difference is used as it stands";
  return {
    ...story(
      { estimate: difference, variance: standardError ** 2 },
      { first: 1, second: 1, route: `difference from the comparator as printed; ${words}` },
    ),
    notes: [rowNote(row, "people-unknown", message)],
  };
};

/** The two rows of a printed difference, with who stands behind them. */
type DifferenceArms = Readonly<{
  treated: OutcomeRow;
  comparator: OutcomeRow | undefined;
  people: PeopleOfDifference;
  relation: ArmRelation;
  context: ChangeContext;
}>;

type Scaled = Readonly<{ estimate: number; variance: number }>;

const story = (
  scaled: Scaled,
  { first, second, route }: Readonly<{ first: number; second: number; route: string }>,
): ArmContrast => {
  // Each arm's share of the variance, as that of a mean: in inverse proportion to its people.
  const people = first + second;
  return {
    estimate: scaled.estimate,
    variance: scaled.variance,
    treatedLoading: { mean: Math.sqrt((scaled.variance * second) / people), spread: 0 },
    comparatorLoading: { mean: -Math.sqrt((scaled.variance * first) / people), spread: 0 },
    correlations: [],
    route,
    notes: [],
  };
};

const onScale = (printed: PrintedDifference, arms: DifferenceArms): Scaled | Refusal => {
  const { first, second, same } = arms.people;
  const { scale, standardisedVarianceForm, smallSampleFactor } = arms.context.options;
  const { difference, standardError, t } = printed;
  if (scale === "raw-mean-difference") {
    return difference === undefined || standardError === undefined
      ? { refused: "the difference itself is not printed in the outcome's unit" }
      : { estimate: difference, variance: standardError ** 2 };
  }
  const fewest = Math.min(first, second);
  if (same ? fewest < 4 : first + second < 5) {
    return {
      refused: same
        ? "a standardised contrast within people needs at least four people"
        : "a standardised contrast needs at least five people in the two arms together",
    };
  }
  const { limbsBaselineCorrelation } = arms.context.options;
  const changes = relationCorrelation(arms.relation, arms.context.options);
  if (scale === "standardised-mean-change-change-deviation") {
    if (t === undefined)
      return { refused: "the difference has no test or spread to standardise by" };
    if (same) {
      // In units of one limb's deviation of changes, the variance of the people's differences is 2(1−ρ).
      const variance = (2 * (1 - changes)) / fewest;
      return overDeviation({
        difference: t * Math.sqrt(variance),
        variance,
        deviation: 1,
        degreesOfFreedom: (2 * (fewest - 1)) / (1 + changes ** 2),
      });
    }
    const uncorrected = standardisedDifferenceFromT({ t, treated: first, control: second });
    return correctedStandardisedDifference(
      { uncorrected, treated: first, control: second },
      { varianceForm: standardisedVarianceForm, smallSample: smallSampleFactor },
    );
  }
  const isAfter = scale === "standardised-mean-change-after-deviation";
  if (!isAfter && scale !== "standardised-mean-change-baseline-deviation") {
    return {
      refused:
        "its numbers are a difference from the comparator, from which this scale cannot be reached",
    };
  }
  const deviationOf = (row: OutcomeRow | undefined, people: number): number | undefined =>
    row && printedDeviation(row, isAfter ? row.postSpread : row.preSpread, people);
  const own = deviationOf(arms.treated, first);
  const other = deviationOf(arms.comparator, second);
  if (difference === undefined || standardError === undefined) {
    return { refused: "the difference itself is not printed in the outcome's unit" };
  }
  if (own === undefined || other === undefined) {
    return {
      refused: `deviations ${isAfter ? "after training" : "at baseline"} of both arms are needed to standardise the printed difference`,
    };
  }
  const deviation = pooledDeviation(
    { deviation: own, participants: first },
    { deviation: other, participants: second },
  );
  if (!(deviation > 0)) return { refused: "the deviation to standardise by is 0 in both arms" };
  const degreesOfFreedom = same
    ? (2 * (fewest - 1)) / (1 + limbsBaselineCorrelation ** 2)
    : first + second - 2;
  return overDeviation(
    { difference, variance: standardError ** 2, deviation, degreesOfFreedom },
    same ? "exact" : smallSampleFactor,
  );
};
