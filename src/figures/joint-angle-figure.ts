import type { JointAngle } from "../dose/joint-angle.js";
import type { JointAngleCurve } from "../dose/joint-angle-curve.js";
import type { EffectScale } from "../effects/effect.js";
import { CallError } from "../errors.js";
import { kebabName } from "../tables/dose-table.js";
import { degreesText } from "../tables/joint-angle-table.js";
import {
  capital,
  confidenceWords,
  counted,
  formatCount,
  formatNumber,
  openLimits,
} from "../tables/number-format.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { gainChart, runsOutWords } from "./gain-chart.js";
import { spreadOf } from "./gain-panel.js";
import { drawnChart } from "./row-chart.js";
import { oneLine } from "./wrap-text.js";

export type JointAngleFigureInput = Readonly<{
  /** File-name form; from the family where not given. */
  id?: string;
  answer: JointAngle;
  family: string;
  scale: EffectScale;
  /** Effects whose interval stands on a borrowed spread, by their ids. */
  borrowed?: readonly string[];
}>;

/** Names of the lengths as headings. */
const lengthHeadings: Readonly<Record<JointAngleCurve["muscleLength"], string>> = {
  short: "Trained at short muscle length",
  middle: "Trained at middle muscle length",
  long: "Trained at long muscle length",
  "not coded": "Muscle length not coded",
};

const lengthNames: Readonly<Record<JointAngleCurve["muscleLength"], string>> = {
  short: "short length",
  middle: "middle length",
  long: "long length",
  "not coded": "length not coded",
};

/** A length whose arms were tested at two distances or more has something to see. */
const worthSeeing = ({ distances }: JointAngleCurve): boolean => (distances?.distinct ?? 0) > 1;

/** Whether an answer has a length that the figure could show. */
export const hasAngles = ({ lengths }: JointAngle): boolean => lengths.some(worthSeeing);

const shownLengths = ({ answer }: JointAngleFigureInput): readonly JointAngleCurve[] => {
  const shown = answer.lengths.filter(worthSeeing);
  if (shown.length > 0) return shown;
  throw new CallError({
    code: "no-angles",
    where: "jointAngleFigure",
    needs: "a training length tested at two distances or more",
    got: "none",
  });
};

/** The half width in a sentence, or why there is none. */
const widthText = ({ halfWidth }: JointAngleCurve): string =>
  halfWidth.kind === "told"
    ? `Half of the gain is left ${degreesText(halfWidth.degrees)} from the trained angle (${openLimits(halfWidth.interval, degreesText)}).`
    : `No width: ${halfWidth.reason}.`;

const countsText = ({ effects, studies, people }: JointAngleCurve): string =>
  `${counted(effects, "effect")}, ${counted(studies, "study", "studies")}, ${formatCount(people)} people.`;

/**
 * How far a gain carries over to angles that were not trained: a panel for each training length, all on one axis of
 * gains.
 *
 * In each the effects against their distance from the trained angle, those of one arm joined; the fitted carry-over with
 * its band; and where half of the gain is left, with its interval. A length whose width cannot be told shows its
 * effects and the reason.
 *
 * @throws {CallError} "no-angles" where no length was tested at two distances
 */
export const jointAngleFigure = (input: JointAngleFigureInput, room: Room = roomOf()): Figure => {
  const { answer, family, scale, borrowed = [] } = input;
  const lengths = shownLengths(input);
  const display = scaleDisplay(scale);
  const shown = (value: number): number => display.toShown(value);
  const furthest = Math.max(...lengths.map(({ distances }) => distances!.high));
  const chart = gainChart(
    {
      gainTitle: display.label,
      x: {
        title: "From the trained angle",
        domain: [-0.03 * furthest, 1.03 * furthest],
        sign: "°",
      },
      panels: lengths.map((length) => {
        const { muscleLength, level, halfWidth, average } = length;
        return {
          name: `carry-over ${muscleLength}`,
          heading: lengthHeadings[muscleLength],
          short: capital(lengthNames[muscleLength]),
          briefly: [
            halfWidth.kind === "told"
              ? `half left at ${degreesText(halfWidth.degrees)}`
              : `cannot be told${halfWidth.code === "too-few-studies" ? ": too few studies" : ""}`,
          ],
          lines: [
            widthText(length),
            ...(level.kind === "told" && halfWidth.kind === "told"
              ? [
                  `At the trained angle: ${valueText(display, { estimate: level.estimate, ...level.interval })}.`,
                ]
              : []),
            ...(average.kind === "told"
              ? [
                  `Average over all angles tested: ${valueText(display, { estimate: average.estimate, ...average.interval })}.`,
                ]
              : []),
            countsText(length),
          ],
          points: length.points.map((point) => {
            const { study, arm, series, distance, estimate } = point;
            return {
              x: distance,
              gain: shown(estimate),
              ...spreadOf(point, borrowed, shown),
              series,
              full: oneLine(
                `${study}, ${arm}: ${degreesText(distance)} away, ${display.write(estimate)}${display.sign}`,
              ),
            };
          }),
          curve: length.curve.map(({ distance, estimate, interval }) => ({
            x: distance,
            gain: shown(estimate),
            low: shown(interval.low),
            high: shown(interval.high),
            reached: true,
          })),
          ...(halfWidth.kind === "told" && level.kind === "told"
            ? {
                reach: {
                  gain: shown(level.estimate / 2),
                  low: halfWidth.interval.low ?? 0,
                  middle: halfWidth.degrees,
                  high: Math.min(halfWidth.interval.high ?? Infinity, 1.03 * furthest),
                },
              }
            : {}),
        };
      }),
    },
    room,
  );
  const told = lengths.flatMap(({ halfWidth, muscleLength }) =>
    halfWidth.kind === "told"
      ? [`${degreesText(halfWidth.degrees)} away (${lengthNames[muscleLength]})`]
      : [],
  );
  const name = capital(family);
  const title =
    told.length === 0
      ? `${name}: how far the gain carries over from the trained angle cannot be told from this file`
      : `${name}: half of the gain is left ${told.join(", ")}`;
  const { longAgainstShort: compared } = answer;
  const one = (value: number): string => formatNumber(value, { digits: 1 });
  const said =
    compared.kind === "told"
      ? `After training at long muscle length the gain reaches ${one(compared.widthRatio.estimate)} times as far as after short length (${one(compared.widthRatio.interval.low)} to ${one(compared.widthRatio.interval.high)}).`
      : `Long and short length cannot be compared: ${compared.reason}.`;
  const description = oneLine(
    `${title}. ${lengths.map((length) => `${lengthHeadings[length.muscleLength]}: ${widthText(length)}`).join(" ")} ${said}`,
  );
  return {
    id: input.id ?? `joint-angle-${kebabName(family)}`,
    title,
    brief:
      told.length === 0
        ? "Points: effects; lines join the angles of one arm."
        : `Points: effects; lines join one arm. Thick: fitted; bar: where half of the gain is left.${chart.runsOut ? ` ${runsOutWords}` : ""}`,
    caption: [
      "Points: effects by the distance between the test angle and the nearest training angle; lines join the angles of one arm.",
      ...(told.length === 0
        ? []
        : [
            `Thick: fitted carry-over, exp(−ln 2 · (distance / width)²), with its ${confidenceWords(answer.confidence)} interval. Bar: the distance at which half of the gain is left, with its interval.`,
          ]),
      ...(chart.runsOut ? [runsOutWords] : []),
      "An average over all angles hides how the gain depends on them.",
      ...answer.lengths
        .filter((length) => !worthSeeing(length))
        .map(
          ({ muscleLength, effects }) =>
            `${lengthHeadings[muscleLength]}: ${counted(effects, "effect")}, all at one distance, not drawn.`,
        ),
      `${answer.assumptions.map(capital).join(". ")}.`,
      ...lengths.flatMap(({ notes }) =>
        notes
          .filter(({ code }) => code === "robust-few-degrees-of-freedom")
          .map(({ message }) => `${capital(message)}.`),
      ),
    ].join(" "),
    ...drawnChart(chart, { text: [title], subtitle: [said], description }),
    data: lengths.flatMap((length) => [
      ...length.points.map((point) => ({
        kind: "effect",
        muscleLength: length.muscleLength,
        study: point.study,
        arm: point.arm,
        distance: point.distance,
        estimate: point.estimate,
        low: null,
        high: null,
        shown: shown(point.estimate),
      })),
      ...length.curve.map((place) => ({
        kind: "curve",
        muscleLength: length.muscleLength,
        study: "",
        arm: "",
        distance: place.distance,
        estimate: place.estimate,
        low: place.interval.low,
        high: place.interval.high,
        shown: shown(place.estimate),
      })),
    ]),
  };
};

type AnglePoint = JointAngleCurve["points"][number];

/** The course of an arm over angles, in one of its measurements: whether it was tested where it trained, and largest there. */
const coursesOf = (points: readonly AnglePoint[]) =>
  [...new Set(points.map(({ series }) => series))].map((series) => {
    const own = points.filter((one) => one.series === series);
    const trained = own.filter(({ distance }) => distance === 0);
    const top = Math.max(...own.map(({ estimate }) => estimate));
    return {
      arm: JSON.stringify([own[0]!.study, own[0]!.arm]),
      tested: trained.length > 0 && trained.length < own.length,
      largest: trained.some(({ estimate }) => estimate === top),
    };
  });

/**
 * The gain at each angle that was tested, a line an arm, as papers print it: what was trained at that very angle is
 * ringed.
 *
 * @throws {CallError} "no-angles" where no length was tested at two distances
 */
export const testAngleFigure = (input: JointAngleFigureInput, room: Room = roomOf()): Figure => {
  const { family, scale, borrowed = [] } = input;
  // An arm that was tested at one angle alone has no course over angles.
  const shownHere = shownLengths(input).map((length) => {
    const anglesOf = (of: string) =>
      new Set(length.points.flatMap(({ series, testAngle }) => (series === of ? [testAngle] : [])));
    const points = length.points.filter(({ series }) => anglesOf(series).size > 1);
    return { ...length, points, courses: coursesOf(points) };
  });
  // The title and every panel count the same: arms, or their measurements where an arm has several.
  const tested = shownHere.flatMap(({ courses }) => courses).filter((one) => one.tested);
  const arms = new Set(tested.map(({ arm }) => arm)).size;
  const unit = tested.length === arms ? "arm" : "measurement";
  const largestOf = (courses: typeof tested): string =>
    `${courses.filter(({ largest }) => largest).length} of ${counted(courses.length, unit)}`;
  const lengths = shownHere.map(({ courses, ...length }) => {
    const own = courses.filter((one) => one.tested);
    const others = courses.length - own.length;
    return {
      ...length,
      counts:
        `${own.length === 0 ? "" : `Largest at the angle trained in ${largestOf(own)}. `}${others === 0 ? "" : `${counted(others, unit)} not tested there.`}`.trim(),
      briefly: `${own.length === 0 ? "" : largestOf(own)}${others === 0 ? "" : `${own.length === 0 ? "" : "; "}${others} not ringed`}`,
    };
  });
  const display = scaleDisplay(scale);
  const shown = (value: number): number => display.toShown(value);
  const angles = lengths.flatMap(({ points }) => points.map(({ testAngle }) => testAngle));
  const [low, high] = [Math.min(...angles), Math.max(...angles)];
  const air = 0.04 * (high - low);
  const chart = gainChart(
    {
      gainTitle: display.label,
      x: { title: "Angle of the test", domain: [low - air, high + air], sign: "°" },
      sideBySide: true,
      panels: lengths.map((length) => ({
        name: `angles ${length.muscleLength}`,
        heading: lengthHeadings[length.muscleLength],
        short: capital(lengthNames[length.muscleLength]),
        briefly: [length.briefly],
        lines: [length.counts],
        curve: [],
        points: length.points.map((point) => {
          const { study, arm, series, distance, testAngle, estimate } = point;
          return {
            x: testAngle,
            gain: shown(estimate),
            ...spreadOf(point, borrowed, shown),
            series,
            trained: distance === 0,
            full: oneLine(
              `${study}, ${arm}: at ${degreesText(testAngle)}${distance === 0 ? ", the angle trained" : ""}, ${display.write(estimate)}${display.sign}`,
            ),
          };
        }),
      })),
    },
    room,
  );
  const name = capital(family);
  const title =
    tested.length === 0
      ? `${name}: no arm was tested both at the angle it trained and at others`
      : `${name}: the gain is largest at the angle trained in ${largestOf(tested)}${unit === "arm" ? "" : ` of ${counted(arms, "arm")}`}`;
  const said = "Arms that were tested at the angle they trained and at others.";
  const description = oneLine(
    `${title}. ${lengths.map(({ muscleLength, counts }) => `${lengthHeadings[muscleLength]}: ${counts}`).join(" ")}`,
  );
  return {
    id: input.id ?? `test-angle-${kebabName(family)}`,
    title,
    brief: "Points: effects; lines join one arm. Ringed: trained at that angle, and counted.",
    caption:
      "Points: effects at the angle of their test; lines join the angles of one arm and measurement. Arms of nearly the same gain at an angle stand side by side. Ringed: the arm trained at that angle; an arm without a ring was not tested where it trained.",
    ...drawnChart(chart, { text: [title], subtitle: [said], description }),
    data: lengths.flatMap(({ muscleLength, points: own }) =>
      own.map(({ study, arm, testAngle, distance, estimate }) => ({
        muscleLength,
        study,
        arm,
        testAngle,
        distance,
        estimate,
        shown: shown(estimate),
      })),
    ),
  };
};
