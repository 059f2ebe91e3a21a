/** The course of a gain over the weeks, drawn. */
import type { TimeCourse } from "../dose/time-course.js";
import type { EffectScale } from "../effects/effect.js";
import { CallError } from "../errors.js";
import { kebabName } from "../tables/dose-table.js";
import {
  capital,
  confidenceWords,
  counted,
  formatNumber,
  sharePercent,
} from "../tables/number-format.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import { timeConstantSentence } from "../tables/time-course-table.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { gainChart, runsOutWords } from "./gain-chart.js";
import { spreadOf } from "./gain-panel.js";
import { drawnChart } from "./row-chart.js";
import { oneLine } from "./wrap-text.js";

export type TimeCourseFigureInput = Readonly<{
  /** File-name form; from the family where not given. */
  id?: string;
  answer: TimeCourse;
  family: string;
  scale: EffectScale;
  /** Effects whose interval stands on a borrowed spread, by their ids. */
  borrowed?: readonly string[];
}>;

/**
 * The course of the gain over the weeks: the fitted rise with its band, and every arm that was measured more than once
 * as a line of its own.
 *
 * Below, the share of the reference week's gain that is there at some weeks. Without an answer the lines stand
 * alone, with the reason above them.
 *
 * @throws {CallError} "no-repeated-weeks" where no arm was measured more than once
 */
export const timeCourseFigure = (input: TimeCourseFigureInput, room: Room = roomOf()): Figure => {
  const { answer, family, scale, borrowed = [] } = input;
  const { points, span, curve, shares, referenceWeek, timeConstant } = answer;
  if (points.length === 0 || span === undefined) {
    throw new CallError({
      code: "no-repeated-weeks",
      where: "timeCourseFigure",
      needs: "an arm measured at two weeks or more",
      got: "none",
    });
  }
  const display = scaleDisplay(scale);
  const shown = (value: number): number => display.toShown(value);
  const confidence = confidenceWords(answer.confidence);
  // A course is fitted to effects as they are analysed, and its shares are of those.
  const inLogarithms = display.shownAsPercent ? " (of its logarithm)" : "";
  const told = shares.filter(({ week }) => week <= span.last);
  const chart = gainChart(
    {
      gainTitle: display.label,
      x: { title: "Weeks trained", domain: [0, span.last * 1.03], whole: true },
      names: { curve: "course", each: `${confidence} interval` },
      panels: [
        {
          name: "course",
          points: points.map((point) => {
            const { study, arm, series, week, estimate } = point;
            return {
              x: week,
              gain: shown(estimate),
              ...spreadOf(point, borrowed, shown),
              series,
              full: oneLine(
                `${study}, ${arm}: week ${week}, ${display.write(estimate)}${display.sign}`,
              ),
            };
          }),
          curve: curve.map(({ week, estimate, interval }) => ({
            x: week,
            gain: shown(estimate),
            low: shown(interval.low),
            high: shown(interval.high),
            reached: true,
          })),
        },
      ],
      below:
        room.size !== "page"
          ? []
          : told.map(({ week, share, interval }) => ({
              x: week,
              lines: [
                sharePercent(share),
                `${formatNumber(100 * interval.low, { digits: 0 })} to ${sharePercent(interval.high)}`,
              ],
            })),
    },
    room,
  );
  const name = capital(family);
  const title =
    timeConstant.kind === "told"
      ? `${name}: ${timeConstantSentence(answer).slice(0, -1)}`
      : `${name}: how fast the gain comes cannot be told from this file`;
  const end = answer.gains.find(({ week }) => week === referenceWeek);
  const said = [
    ...(end === undefined
      ? []
      : [
          `Gain at ${referenceWeek} weeks: ${valueText(display, { estimate: end.estimate, ...end.interval })}${end.beyondData ? ", beyond the data" : ""}.`,
        ]),
    ...(timeConstant.kind === "told" ? [] : [timeConstantSentence(answer)]),
    `${counted(answer.effects, "effect")} from ${counted(answer.studies, "study", "studies")} that measured an arm more than once.`,
  ].join(" ");
  const courses = answer.courses
    .flatMap(({ name: course, weight }) =>
      weight === null ? [] : [`${course} ${sharePercent(weight)}`],
    )
    .join(", ");
  const description = oneLine(`${title}. ${said}`);
  return {
    id: input.id ?? `time-course-${kebabName(family)}`,
    title,
    brief: `Points: effects, joined for each arm and measurement.${chart.runsOut ? ` ${runsOutWords}` : ""}`,
    caption: [
      "Points: effects, joined for each arm and measurement.",
      ...(answer.shown === undefined
        ? []
        : [
            `Thick: ${answer.shown === "rising and flattening" ? "rising and flattening course" : answer.shown}, from nothing at baseline, with its ${confidence} interval.`,
          ]),
      ...(chart.runsOut ? [runsOutWords] : []),
      ...(told.length === 0
        ? []
        : [
            room.size === "page"
              ? `Numbers under the weeks: share of the ${referenceWeek}-week gain that is there${inLogarithms}.`
              : `Share of the ${referenceWeek}-week gain${inLogarithms}: ${told.map(({ week, share }) => `${sharePercent(share)} at ${week} weeks`).join(", ")}.`,
          ]),
      ...(courses === ""
        ? []
        : [`Courses compared on the same effects, by their weights: ${courses}.`]),
      `${answer.assumptions.map(capital).join(". ")}.`,
      ...answer.notes.map(({ message }) => `${capital(message)}.`),
    ].join(" "),
    ...drawnChart(chart, { text: [title], subtitle: [said], description }),
    data: [
      ...points.map(({ study, arm, week, estimate }) => ({
        kind: "effect",
        study,
        arm,
        week,
        estimate,
        low: null,
        high: null,
        shown: shown(estimate),
      })),
      ...curve.map(({ week, estimate, interval }) => ({
        kind: answer.shown ?? "curve",
        study: "",
        arm: "",
        week,
        estimate,
        low: interval.low,
        high: interval.high,
        shown: shown(estimate),
      })),
    ],
  };
};
