/** How an average of a group is said: the headline, and what stands under it. */
import type { Contrast, EffectSet } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import { scales } from "../effects/scales.js";
import { withUnit } from "../protocol/with-unit.js";
import type { PermutationTest } from "../synthesis/permutation-test.js";
import type {
  Coefficient,
  HeadlineResult,
  Interval,
  PooledResult,
} from "../synthesis/synthesis-results.js";
import { capital, confidenceWords, counted, pValueText } from "../tables/number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "../tables/scale-display.js";
import type { Average } from "./average.js";
import type { HeadlineLines } from "./headline-lines.js";
import { leftOut } from "./outcome-groups.js";
import type { PoolGroup } from "./pool-groups.js";
import type { RulingDoubt } from "./ruling-doubt.js";

/** One group with its averages, made when they are asked for. */
export type PreparedGroup = Readonly<{
  group: PoolGroup;
  headline: () => Average;
  wider: () => Average | undefined;
  /** What stands beside the headline; undefined where nothing does. */
  lines: () => HeadlineLines | undefined;
  /** A permutation p of each moderator, where it was asked for. */
  permuted: () => readonly PermutationTest[];
  /** The row in doubt about its spread that rules the average, if one does. */
  inDoubt: () => RulingDoubt | undefined;
  /** Rows of its kind that have no weight, in a sentence that follows a refusal; empty where there are none. */
  rows: string;
}>;

/** Below this many studies an average says little about studies to come. */
const fewStudies = 5;

/** How the effects of a table of ready effects are shown: as they stand. */
export const ownScale = "raw-mean-difference";

/** What a set's numbers stand in; nothing for a table of ready effects. */
export type Shown = Pick<EffectSet, "scale" | "unit"> | undefined;

/** A written number, or a span of two, in what a set's numbers stand in. */
const inUnit = (written: string, set: Shown): string =>
  withUnit(written, set === undefined ? "" : (set.unit ?? scaleDisplay(set.scale).unit));

/** A number of a set as people read it: "4.1%", "1.6 points". */
export const shownOf = (
  { estimate, standardError }: Pick<Coefficient, "estimate" | "standardError">,
  set: Shown,
): string => inUnit(shownEstimate(estimate, set?.scale ?? ownScale, standardError), set);

const falls = (set: Shown): boolean => set !== undefined && scales[set.scale].falls === true;

/** A number that stands alone: "4.1%", and of a fall "4.1% down". */
export const wayOf = (
  { estimate, standardError }: Pick<Coefficient, "estimate" | "standardError">,
  set: Shown,
): string => {
  const shown = shownOf({ estimate, standardError }, set);
  return falls(set) ? `${shown.replace("\u2212", "")} ${estimate < 0 ? "up" : "down"}` : shown;
};

/** Bounds as people read them: "1.0 to 9.0%", and of a fall "from 9.0% down to 1.0% up". */
export const rangeOf = ({ low, high }: Interval, set: Shown, standardError: number): string =>
  falls(set)
    ? `from ${wayOf({ estimate: high, standardError }, set)} to ${wayOf({ estimate: low, standardError }, set)}`
    : inUnit(shownInterval({ low, high }, set?.scale ?? ownScale, standardError), set);

/**
 * A number with its interval, as people read them.
 *
 * @param set    scale and unit; undefined for ready effects
 * @param behind what stands behind the number, in words; in the brackets after the interval
 */
export const withInterval = (
  {
    estimate,
    standardError,
    interval,
  }: Pick<Coefficient, "estimate" | "standardError" | "interval">,
  set: Shown,
  confidence: number,
  behind: string,
): string => {
  const shown = shownEstimate(estimate, set?.scale ?? ownScale, standardError);
  const number = falls(set)
    ? `${estimate < 0 ? "rises" : "falls"} by ${shown.replace("\u2212", "")}%`
    : // Positive is better on every scale; of points, of which fewer may be better, that is said.
      `${inUnit(shown, set)}${set?.unit === undefined ? "" : estimate < 0 ? ", which is worse," : " better"}`;
  return `${number} (${confidenceWords(confidence)} interval ${rangeOf(interval, set, standardError)}; ${behind})`;
};

/** An average with its interval and what stands behind it. */
export const averageWords = (result: HeadlineResult | PooledResult, set: Shown): string =>
  withInterval(
    result,
    set,
    result.story.confidence,
    `${counted(result.effects, "effect")} in ${counted(result.studies, "study", "studies")}`,
  );

/** What a group is about, as a sentence begins: the kind of outcome, and what is compared. */
export const aboutGroup = (
  { label, headline: { set } }: Pick<PoolGroup, "label" | "headline">,
  contrast: Contrast,
): string => capital(set === undefined ? label : `${label}, ${contrastShortLabel(contrast)}`);

/** The headline of one group: the average, or what is missing for one. */
export const groupHeadline = (
  { group, headline, rows, inDoubt }: PreparedGroup,
  { contrast }: Readonly<{ contrast: Contrast }>,
): string => {
  const average = headline();
  const set = group.headline.set;
  const about = aboutGroup(group, contrast);
  if (average.kind === "refusal") return `${about}: no average, as ${average.reason}.${rows}`;
  const asked =
    average.askedFor.length === 0 ? "" : `, as asked for: ${average.askedFor.join(", ")}`;
  const told = `${averageWords(average.result, set)} on average${asked}.`;
  const doubt = inDoubt();
  if (doubt === undefined) return `${about}: ${told}`;
  const { line, study, doubt: name, weightPercent, without } = doubt;
  return `${about}: in doubt, ${told} Line ${line} (${study}) has ${Math.round(weightPercent)}% of the weight, and its spread is in doubt (${name}). Without it: ${
    without.kind === "refusal"
      ? `no average, as ${without.reason}.`
      : `${averageWords(without.result, set)}.`
  }`;
};

/** Where a further study would fall. */
export const furtherStudySentence = (
  {
    predictionInterval,
    standardError,
  }: Pick<HeadlineResult, "predictionInterval" | "standardError">,
  set: Shown,
): string =>
  predictionInterval === null
    ? "Too few studies to say what a further one would find."
    : `Range of a further study: ${rangeOf(predictionInterval, set, standardError)}.`;

/** Said of an average of few studies. */
export const fewStudiesSentence = (studies: number): readonly string[] =>
  studies < fewStudies
    ? [
        `With ${counted(studies, "study", "studies")} this describes those studies; it is no general rule.`,
      ]
    : [];

/** What stands under a headline: the range of a further study, wider selections, arms left out. */
export const groupSentences = (prepared: PreparedGroup): readonly string[] => {
  const { group, headline, wider, permuted } = prepared;
  const average = headline();
  const all = wider();
  const { set } = group.headline;
  const sentences: string[] = [];
  if (average.kind === "average") {
    const { studies } = average.result;
    sentences.push(furtherStudySentence(average.result, set));
    const papers = new Set(group.headline.set?.effects.map(({ study }) => study)).size;
    // Papers on the same people are one study; a reader who counts papers should not be puzzled.
    if (papers > studies)
      sentences.push(
        `The studies were published in ${papers} papers; papers on the same people are one study.`,
      );
    sentences.push(...fewStudiesSentence(studies));
  }
  if (all !== undefined)
    sentences.push(
      all.kind === "refusal"
        ? `All angles and weeks: no average, as ${all.reason}.`
        : `All angles and weeks: ${averageWords(all.result, set)}.`,
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
