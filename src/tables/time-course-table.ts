import type { TimeCourse } from "../dose/time-course.js";
import type { EffectScale } from "../effects/effect.js";
import { kebabName } from "./dose-table.js";
import {
  confidenceWords,
  formatCount,
  formatNumber,
  openLimits,
  sharePercent,
} from "./number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "./scale-display.js";
import type { Table } from "./table.js";

const one = (value: number): string => formatNumber(value, { digits: 1 });

/** How fast the gain comes, in a sentence; or why that cannot be told. */
export const timeConstantSentence = ({ timeConstant, confidence }: TimeCourse): string => {
  if (timeConstant.kind === "told")
    return `63% of the final gain is reached after ${one(timeConstant.weeks)} weeks (${confidenceWords(confidence)} interval ${openLimits(timeConstant.interval, one)}).`;
  const { atLeast, atMost, reason } = timeConstant;
  const limit =
    atLeast !== undefined
      ? ` (at least ${one(atLeast)} weeks)`
      : atMost !== undefined
        ? ` (at most ${one(atMost)} weeks)`
        : "";
  return `How fast the gain comes cannot be told: ${reason}${limit}.`;
};

/** The gain week by week, and what share of the reference week's gain is there; or why it cannot be told. */
export const timeCourseTable = (answer: TimeCourse, family: string, scale: EffectScale): Table => {
  const { gains, shares, courses, referenceWeek } = answer;
  const unit = scaleDisplay(scale).sign;
  const weighed = courses.flatMap(({ name, weight }) =>
    weight === null ? [] : [`${name} ${sharePercent(weight)}`],
  );
  return {
    id: `time-course-${kebabName(family)}`,
    title: `Gain over the weeks: ${family}`,
    columns: [
      { key: "week", label: "Week", align: "right" },
      { key: "gain", label: "Gain (interval)", align: "right" },
      { key: "share", label: `Share of the ${referenceWeek}-week gain`, align: "right" },
    ],
    rows: [...gains]
      .sort((a, b) => a.week - b.week)
      .map(({ week, estimate, interval, beyondData }) => {
        const share = shares.find((each) => each.week === week);
        return {
          week: `${week}${beyondData ? " (beyond the data)" : ""}`,
          gain: `${shownEstimate(estimate, scale, 0.1)}${unit} (${shownInterval(interval, scale, 0.1)})`,
          share:
            share === undefined
              ? ""
              : `${sharePercent(share.share)} (${formatNumber(100 * share.interval.low, { digits: 0 })} to ${formatNumber(100 * share.interval.high, { digits: 0 })})`,
        };
      }),
    notes: [
      timeConstantSentence(answer),
      ...(scaleDisplay(scale).shownAsPercent && shares.length > 0
        ? [
            "Shares are of the logarithm of the gain, as the effects are; of the percentages they are a little smaller.",
          ]
        : []),
      `${answer.effects} effects from ${answer.studies} ${answer.studies === 1 ? "study" : "studies"} and ${formatCount(answer.people)} people, all of arms measured more than once.`,
      ...(weighed.length === 0 ? [] : [`Courses by their weights: ${weighed.join(", ")}.`]),
      ...answer.notes.map(
        ({ message }) => `${message.charAt(0).toUpperCase()}${message.slice(1)}.`,
      ),
      ...answer.assumptions.map((each) => `${each.charAt(0).toUpperCase()}${each.slice(1)}.`),
    ],
  };
};
