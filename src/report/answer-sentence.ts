import { formatCount, formatPercent } from "../tables/number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "../tables/scale-display.js";
import type { FamilyAnswer } from "./analysis.js";
import { shownResult } from "./pooled-answer.js";

/** Below this many studies an average says little about studies to come. */
const fewStudies = 5;

const counted = (count: number, one: string, many: string): string =>
  `${formatCount(count)} ${count === 1 ? one : many}`;

/** "%" sits on the number; any other unit stands apart. */
const unitAfter = (unit: string): string => (unit === "%" ? "%" : ` ${unit}`);

/**
 * One answer in one or two plain sentences: estimate, interval, prediction interval, how many effects
 * and studies, and how far so few studies can carry it.
 *
 * @param answer  from `analyse`
 */
export const answerSentence = (answer: FamilyAnswer, confidence: number): string => {
  const result = shownResult(answer.answer);
  if (result === undefined)
    return `No pooled answer: ${answer.answer.kind === "none" ? answer.answer.reason : ""}.`;
  const { scale } = answer.set;
  const { standardError, estimate, interval, predictionInterval, effects, studies } = result;
  const unit = unitAfter(scaleDisplay(scale).unit);
  const level = formatPercent(100 * confidence, { digits: 0 });
  const papers = new Set(answer.set.effects.map(({ study }) => study)).size;
  // Two papers on the same people are one study; a reader who counts papers should not be puzzled.
  const overlap =
    papers === studies
      ? ""
      : ` (${formatCount(papers)} papers; papers on the same people are one study)`;
  const basis = `${counted(effects, "effect", "effects")} in ${counted(studies, "study", "studies")}${overlap}`;
  const main =
    `${shownEstimate(estimate, scale, standardError)}${unit}, ${level} interval ` +
    `${shownInterval(interval, scale, standardError)}${unit}, from ${basis}.`;
  const ahead =
    predictionInterval === null
      ? "Too few studies to say what a new one would find."
      : `A new study of this kind is expected between ` +
        `${shownInterval(predictionInterval, scale, standardError).replace(" to ", " and ")}${unit}.`;
  const caution =
    studies < fewStudies && studies > 1
      ? ` With ${formatCount(studies)} studies this describes those studies; it is no general rule.`
      : studies === 1
        ? " This is one study's own result."
        : "";
  return `${main} ${ahead}${caution}`;
};
