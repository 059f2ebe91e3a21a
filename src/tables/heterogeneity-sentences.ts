import { withUnit } from "../protocol/with-unit.js";
import type { EffectScale } from "../effects/effect.js";
import type { MultilevelResult, PooledResult } from "../synthesis/synthesis-results.js";
import {
  confidenceWords,
  formatCount,
  formatInterval,
  formatNumber,
  formatPercent,
  pValueText,
} from "./number-format.js";
import { scaleDisplay, shownInterval } from "./scale-display.js";

/** Below this many studies what differs between them cannot be told from chance. */
const fewStudies = 5;

const counted = (count: number, one: string, many: string): string =>
  `${formatCount(count)} ${count === 1 ? one : many}`;

/**
 * How far studies differ, in sentences: prediction interval first, then τ², I² and Q, each with what it
 * means.
 *
 * No word such as "low" or "high" is put on I²: it is a share, and says nothing about how far effects
 * differ in size.
 */
export const heterogeneitySentences = (
  result: PooledResult | MultilevelResult,
  options: Readonly<{ scale: EffectScale }>,
): readonly string[] => {
  const { heterogeneity, predictionInterval, standardError, studies, story } = result;
  const level = confidenceWords(story.confidence);
  const unit = scaleDisplay(options.scale).unit;
  const sentences: string[] = [];
  sentences.push(
    predictionInterval === null
      ? `With ${counted(studies, "study", "studies")} no range of a further study can be given.`
      : `The true effect of a further study of this kind is expected between ` +
          withUnit(
            shownInterval(predictionInterval, options.scale, standardError).replace(
              " to ",
              " and ",
            ),
            unit,
          ) +
          ` (${level} range of a further study).`,
  );
  if (heterogeneity.betweenVariance === null) {
    sentences.push("The variance between studies cannot be estimated from these effects.");
  } else {
    const interval = heterogeneity.betweenVarianceInterval;
    sentences.push(
      `The variance between studies (τ²) is ${formatNumber(heterogeneity.betweenVariance, { digits: 4 })}` +
        (interval === null
          ? "."
          : ` (${level} interval ${formatInterval(interval, { digits: 4 })}), on the scale of the model.`),
    );
  }
  if (heterogeneity.iSquaredPercent !== null) {
    const interval = heterogeneity.iSquaredInterval;
    sentences.push(
      `I² is ${formatPercent(heterogeneity.iSquaredPercent, { digits: 0 })}` +
        (interval === null
          ? ""
          : ` (${level} interval ${formatInterval(interval, { digits: 0 })}%)`) +
        ": the share of the variation between estimates that sampling error does not explain, not the size of the differences.",
    );
  }
  if (heterogeneity.q !== null && heterogeneity.qP !== null) {
    const freedom = formatCount(heterogeneity.qDegreesOfFreedom);
    sentences.push(
      `Q is ${formatNumber(heterogeneity.q)} on ${freedom} ` +
        `${heterogeneity.qDegreesOfFreedom === 1 ? "degree" : "degrees"} of freedom (${pValueText(heterogeneity.qP)}).`,
    );
  }
  if (studies < fewStudies) {
    sentences.push(
      `With ${counted(studies, "study", "studies")} how far studies differ can hardly be estimated; ` +
        "a small τ² here is no sign that they agree.",
    );
  }
  return sentences;
};
