/** How an average of a group is said: the headline, and what stands under it. */
import type { Contrast, EffectScale } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import type { PermutationTest } from "../synthesis/permutation-test.js";
import type { Coefficient, HeadlineResult, PooledResult } from "../synthesis/synthesis-results.js";
import { capital, confidenceWords, counted, pValueText } from "../tables/number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "../tables/scale-display.js";
import type { Average } from "./average.js";
import { leftOut } from "./outcome-groups.js";
import type { PoolGroup } from "./pool-groups.js";

/** One group with its averages, made when they are asked for. */
export type PreparedGroup = Readonly<{
  group: PoolGroup;
  headline: () => Average;
  wider: () => Average | undefined;
  /** A permutation p of each moderator, where it was asked for. */
  permuted: () => readonly PermutationTest[];
  /** Rows of its kind that have no weight, in a sentence that follows a refusal; empty where there are none. */
  rows: string;
}>;

/** Below this many studies an average says little about studies to come. */
const fewStudies = 5;

/** "%" sits on the number; any other unit stands apart. */
const unitAfter = (scale: EffectScale | undefined): string => {
  const unit = scale === undefined ? "" : scaleDisplay(scale).unit;
  return unit === "%" || unit === "" ? unit : ` ${unit}`;
};

/** How the effects of a table of ready effects are shown: as they stand. */
export const ownScale = "raw-mean-difference";

/**
 * A number with its interval, as people read them.
 *
 * @param behind what stands behind the number, in words; in the brackets after the interval
 */
export const withInterval = (
  {
    estimate,
    standardError,
    interval,
  }: Pick<Coefficient, "estimate" | "standardError" | "interval">,
  scale: EffectScale | undefined,
  confidence: number,
  behind: string,
): string => {
  const shown = scale ?? ownScale;
  const unit = unitAfter(scale);
  return `${shownEstimate(estimate, shown, standardError)}${unit} (${confidenceWords(confidence)} interval ${shownInterval(interval, shown, standardError)}${unit}; ${behind})`;
};

const averageWords = (
  result: HeadlineResult | PooledResult,
  scale: EffectScale | undefined,
): string =>
  withInterval(
    result,
    scale,
    result.story.confidence,
    `${counted(result.effects, "effect")} in ${counted(result.studies, "study", "studies")}`,
  );

/** The headline of one group: the average, or what is missing for one. */
export const groupHeadline = (
  { group, headline, rows }: PreparedGroup,
  { contrast }: Readonly<{ contrast: Contrast }>,
): string => {
  const average = headline();
  const set = group.headline.set;
  const about = set === undefined ? group.label : `${group.label}, ${contrastShortLabel(contrast)}`;
  if (average.kind === "refusal")
    return `${capital(about)}: no average, as ${average.reason}.${rows}`;
  const asked =
    average.askedFor.length === 0 ? "" : `, as asked for: ${average.askedFor.join(", ")}`;
  return `${capital(about)}: ${averageWords(average.result, set?.scale)} on average${asked}.`;
};

/** What stands under a headline: the range of a further study, wider selections, arms left out. */
export const groupSentences = (prepared: PreparedGroup): readonly string[] => {
  const { group, headline, wider, permuted } = prepared;
  const average = headline();
  const all = wider();
  const scale = group.headline.set?.scale;
  const sentences: string[] = [];
  if (average.kind === "average") {
    const { predictionInterval, standardError, studies } = average.result;
    sentences.push(
      predictionInterval === null
        ? "Too few studies to say what a further one would find."
        : `Range of a further study: ${shownInterval(predictionInterval, scale ?? ownScale, standardError)}${unitAfter(scale)}.`,
    );
    const papers = new Set(group.headline.set?.effects.map(({ study }) => study)).size;
    // Papers on the same people are one study; a reader who counts papers should not be puzzled.
    if (papers > studies)
      sentences.push(
        `The studies were published in ${papers} papers; papers on the same people are one study.`,
      );
    if (studies < fewStudies)
      sentences.push(
        `With ${counted(studies, "study", "studies")} this describes those studies; it is no general rule.`,
      );
  }
  if (all !== undefined)
    sentences.push(
      all.kind === "refusal"
        ? `All angles and weeks: no average, as ${all.reason}.`
        : `All angles and weeks: ${averageWords(all.result, scale)}.`,
    );
  return [
    ...sentences,
    ...permuted().map(
      ({ term, p, exact, permutations, exchanged }) =>
        `Permutation test of ${term.replaceAll("_", " ")}: ${pValueText(p)}, from ${exact ? "all " : ""}${counted(permutations, "arrangement")} of its values among ${exchanged}.`,
    ),
    ...leftOut(group.kind?.armsWithoutNearTest ?? []),
  ];
};
