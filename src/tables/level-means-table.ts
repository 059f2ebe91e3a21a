import type { EffectScale } from "../effects/effect.js";
import type { LevelMeans } from "../synthesis/level-means.js";
import { storyNotes } from "./note-lines.js";
import { confidenceWords, formatCount, plainNumber } from "./number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "./scale-display.js";
import { csvNumbers, csvTexts, type Table } from "./table.js";

const none = "none";
const notEstimable = "not estimable";

/** The mean of every level with its interval and the range of a further study, and whether a difference may be claimed. */
export const levelMeansTable = (
  { levels, story }: LevelMeans,
  { id, title, scale }: Readonly<{ id: string; title: string; scale: EffectScale }>,
): Table => {
  const { heading, unit } = scaleDisplay(scale);
  const level = confidenceWords(story.confidence);
  return {
    id,
    title,
    columns: [
      { key: "level", label: "Level", align: "left" },
      { key: "studies", label: "Studies", align: "right" },
      { key: "effects", label: "Effects", align: "right" },
      { key: "shown", label: heading, unit, align: "right" },
      { key: "shownInterval", label: `${level} interval`, align: "right" },
      { key: "shownPrediction", label: "Range of a further study", align: "right" },
      { key: "remark", label: "Remark", align: "left" },
    ],
    csvColumns: [
      ...csvTexts("level"),
      ...csvNumbers(
        "studies",
        "effects",
        "estimate",
        "standardError",
        "intervalLow",
        "intervalHigh",
        "predictionLow",
        "predictionHigh",
        "degreesOfFreedom",
      ),
      ...csvTexts("remark"),
    ],
    rows: levels.map(
      ({ level: name, studies, effects, mean, predictionInterval, tooFewToClaim }) => ({
        level: name,
        studies: formatCount(studies),
        effects: formatCount(effects),
        remark:
          mean === null
            ? "one study is no average"
            : tooFewToClaim
              ? "too few studies to claim a difference"
              : "",
        ...(mean === null
          ? { shown: none, shownInterval: none, shownPrediction: none }
          : {
              shown: shownEstimate(mean.estimate, scale, mean.standardError),
              shownInterval: shownInterval(mean.interval, scale, mean.standardError),
              shownPrediction:
                predictionInterval === null
                  ? notEstimable
                  : shownInterval(predictionInterval, scale, mean.standardError),
              estimate: plainNumber(mean.estimate),
              standardError: plainNumber(mean.standardError),
              intervalLow: plainNumber(mean.interval.low),
              intervalHigh: plainNumber(mean.interval.high),
              degreesOfFreedom:
                mean.degreesOfFreedom === Infinity ? "" : plainNumber(mean.degreesOfFreedom),
            }),
        ...(predictionInterval === null
          ? {}
          : {
              predictionLow: plainNumber(predictionInterval.low),
              predictionHigh: plainNumber(predictionInterval.high),
            }),
      }),
    ),
    notes: storyNotes(story),
  };
};
