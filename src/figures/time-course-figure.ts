/**
 * The course of a gain over the weeks, drawn.
 *
 * Longer than most: plot, weeks and words are one drawing.
 */
import type { TimeCourse } from "../dose/time-course.js";
import type { EffectScale } from "../effects/effect.js";
import { CallError } from "../errors.js";
import { kebabName } from "../tables/dose-table.js";
import { confidenceWords, formatNumber } from "../tables/number-format.js";
import { scaleDisplay, valueText, type ScaleDisplay } from "../tables/scale-display.js";
import { timeConstantSentence } from "../tables/time-course-table.js";
import { roundValues } from "./axis-ticks.js";
import type { Figure } from "./figure.js";
import { gainAxis } from "./gain-axis.js";
import { joinedPoints, joinedSeries } from "./joined-points.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, wrapText } from "./wrap-text.js";

export type TimeCourseFigureInput = Readonly<{
  /** File-name form; from the family where not given. */
  id?: string;
  answer: TimeCourse;
  family: string;
  scale: EffectScale;
}>;

const width = 560;
const height = 300;
const right = 20;

/** Weeks below the plot, and what share of the gain of the reference week is there at some of them. */
const weeksPanel = (
  answer: TimeCourse,
  left: number,
  xOf: (week: number) => number,
  latest: number,
): Panel => {
  const { shares, referenceWeek } = answer;
  const shown = shares.filter(({ week }) => week <= latest);
  const rowsHeight = shown.length === 0 ? 0 : 36;
  const draw = panelDrawing("weeks", plainFrame(left + width + right, 44 + rowsHeight));
  const ticks = roundValues(0, latest, 8).filter(Number.isInteger);
  const percent = (share: number): string => `${formatNumber(100 * share, { digits: 0 })}%`;
  return draw.panel([
    draw.lines("axis", "zero", [{ x: left, x2: left + width, y: 0, y2: 0 }]),
    draw.lines(
      "marks",
      "grid",
      ticks.map((week) => ({ x: left + xOf(week), x2: left + xOf(week), y: 0, y2: 5 })),
    ),
    draw.words(
      "week numbers",
      "text-small",
      ticks.map((week) => ({ x: left + xOf(week), y: 14, text: String(week) })),
      { align: "center" },
    ),
    draw.words("heading", "text-heading", [{ x: left, y: 32, text: "Weeks trained" }]),
    draw.words(
      "shares",
      "text-pooled-strong",
      shown.map(({ week, share }) => ({ x: left + xOf(week), y: 54, text: percent(share) })),
      { align: "center" },
    ),
    draw.words(
      "share intervals",
      "text-pooled",
      shown.map(({ week, interval }) => ({
        x: left + xOf(week),
        y: 68,
        text: `${formatNumber(100 * interval.low, { digits: 0 })} to ${percent(interval.high)}`,
      })),
      { align: "center", fontSize: 9.5 },
    ),
    draw.words(
      "share heading",
      "text-small",
      shown.length === 0
        ? []
        : [
            { x: 8, y: 54, text: "Share of the" },
            { x: 8, y: 67, text: `${referenceWeek}-week gain` },
          ],
    ),
  ]);
};

const coursesText = ({ courses }: TimeCourse): string =>
  courses
    .flatMap(({ name, weight }) =>
      weight === null ? [] : [`${name} ${formatNumber(100 * weight, { digits: 0 })}%`],
    )
    .join(", ");

const subtitleOf = (answer: TimeCourse, display: ScaleDisplay): string => {
  const end = answer.gains.find(({ week }) => week === answer.referenceWeek);
  return [
    `${answer.effects} effects from ${answer.studies} ${answer.studies === 1 ? "study" : "studies"} that measured an arm more than once.`,
    timeConstantSentence(answer),
    ...(end === undefined
      ? []
      : [
          `Gain at ${answer.referenceWeek} weeks: ${valueText(display, { estimate: end.estimate, ...end.interval })}${end.beyondData ? ", beyond the data" : ""}.`,
        ]),
  ].join(" ");
};

/**
 * The course of the gain over the weeks: the fitted rise with its band, and every arm that was measured more than once
 * as a line of its own.
 *
 * Below, the share of the reference week's gain that is there at some weeks. Without an answer the lines stand
 * alone, with the reason above them.
 *
 * @throws {CallError} "no-repeated-weeks" where no arm was measured more than once
 */
export const timeCourseFigure = (input: TimeCourseFigureInput): Figure => {
  const { answer, family, scale } = input;
  if (answer.points.length === 0 || answer.span === undefined) {
    throw new CallError({
      code: "no-repeated-weeks",
      where: "timeCourseFigure",
      needs: "an arm measured at two weeks or more",
      got: "none",
    });
  }
  const display = scaleDisplay(scale);
  const latest = answer.span.last;
  const axis = gainAxis(
    [
      ...answer.points.map(({ estimate }) => estimate),
      ...answer.curve.flatMap(({ estimate, interval }) => [estimate, interval.low, interval.high]),
    ],
    height,
    display,
  );
  const [low, high] = [0, latest * 1.03];
  const plot = panelDrawing("course", {
    width,
    height,
    x: [low, high],
    y: [axis.top, axis.bottom],
  });
  const xOf = (week: number): number => ((week - low) / (high - low)) * width;
  const title = `How does the gain grow over the weeks? ${family.charAt(0).toUpperCase()}${family.slice(1)}`;
  const subtitle = subtitleOf(answer, display);
  const description = oneLine(`${title} ${subtitle}`);
  const total = axis.width + width;
  const percent = confidenceWords(answer.confidence);
  const courses = coursesText(answer);
  return {
    id: input.id ?? `time-course-${kebabName(family)}`,
    title,
    caption: [
      `Points are effects, joined for each arm and measurement.${answer.shown === undefined ? "" : ` Thick line: ${answer.shown === "rising and flattening" ? "rising and flattening course" : answer.shown}, from nothing at baseline, with its ${percent} interval.`}`,
      courses === "" ? "" : `Courses compared on the same effects, by their weights: ${courses}.`,
      `${answer.assumptions.map((one) => `${one.charAt(0).toUpperCase()}${one.slice(1)}`).join(". ")}.`,
      ...answer.notes.map(
        ({ message }) => `${message.charAt(0).toUpperCase()}${message.slice(1)}.`,
      ),
    ]
      .filter((sentence) => sentence !== "")
      .join(" "),
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width: total * 0.98, fontSize: 16, lines: 3 })],
        subtitle: [...wrapText(subtitle, { width: total, fontSize: 11.5, lines: 5 })],
      },
      spacing: 0,
      vconcat: [
        {
          spacing: 0,
          bounds: "flush",
          hconcat: [
            axis.panel,
            plot.panel([
              plot.lines(
                "grid",
                "grid",
                axis.ticks.map(({ position }) => ({ x: low, x2: high, y: position, y2: position })),
              ),
              plot.lines("no change", "zero", [{ x: low, x2: high, y: 0, y2: 0 }]),
              plot.areas(
                "band",
                "pooled-band",
                answer.curve.map(({ week, interval }) => ({
                  x: week,
                  y: axis.cut(interval.low),
                  y2: axis.cut(interval.high),
                })),
              ),
              plot.lines(
                "weeks of one arm",
                "rest",
                joinedSeries(
                  answer.points.map(({ series, week, estimate }) => ({
                    series,
                    x: week,
                    y: estimate,
                  })),
                ),
              ),
              plot.points(
                "effects",
                "effect-point",
                answer.points.map(({ study, arm, week, estimate }) => ({
                  x: week,
                  y: estimate,
                  full: oneLine(
                    `${study}, ${arm}: week ${week}, ${display.write(estimate)}${display.sign}`,
                  ),
                })),
              ),
              plot.lines(
                "course",
                "pooled-line",
                joinedPoints(answer.curve.map(({ week, estimate }) => ({ x: week, y: estimate }))),
              ),
            ]),
          ],
        },
        weeksPanel(answer, axis.width, xOf, latest),
      ],
      config: themeConfig("light"),
    },
    data: [
      ...answer.points.map(({ study, arm, week, estimate }) => ({
        kind: "effect",
        study,
        arm,
        week,
        estimate,
        low: null,
        high: null,
        shown: display.toShown(estimate),
      })),
      ...answer.curve.map(({ week, estimate, interval }) => ({
        kind: answer.shown ?? "curve",
        study: "",
        arm: "",
        week,
        estimate,
        low: interval.low,
        high: interval.high,
        shown: display.toShown(estimate),
      })),
    ],
  };
};
