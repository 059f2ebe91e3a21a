import type { JointAngle } from "../dose/joint-angle.js";
import type { WidthAnswer } from "../dose/carry-over-width.js";
import type { TrainingLength } from "../dose/joint-angle-curve.js";
import type { EffectScale } from "../effects/effect.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { kebabName } from "./dose-table.js";
import {
  capital,
  confidenceWords,
  formatCount,
  formatNumber,
  openLimits,
  sharePercent,
} from "./number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "./scale-display.js";
import type { Table } from "./table.js";

/** The muscle length an arm trained at, in words. */
export const lengthName = (length: TrainingLength): string =>
  length === "not coded" ? "length not coded" : `${length} length`;

const trainingAt = (length: TrainingLength): string =>
  length === "not coded"
    ? "training at a muscle length that is not coded"
    : `training at ${length} muscle length`;

/** Degrees, to the whole degree from ten on. */
export const degreesText = (degrees: number): string =>
  `${formatNumber(degrees, { digits: degrees < 10 ? 1 : 0 })}°`;

const widthCell = (width: WidthAnswer): string => {
  if (width.kind === "refusal") {
    const limit =
      width.atLeast !== undefined
        ? ` (at least ${degreesText(width.atLeast)})`
        : width.atMost !== undefined
          ? ` (at most ${degreesText(width.atMost)})`
          : "";
    return `not told${limit}`;
  }
  return `${degreesText(width.degrees)} (${openLimits(width.interval, degreesText)})${width.degreesOfFreedom < 4 ? " †" : ""}`;
};

/** How far gains carry over, one length of muscle after the other; nothing where no width can be told. */
export const carryOverSentence = ({ lengths, confidence }: JointAngle): string | undefined => {
  const told = lengths.flatMap(({ halfWidth, muscleLength }) =>
    halfWidth.kind === "told"
      ? [
          `${degreesText(halfWidth.degrees)} away after ${trainingAt(muscleLength)} (${confidenceWords(confidence)} interval ${openLimits(halfWidth.interval, degreesText)})`,
        ]
      : [],
  );
  return told.length === 0
    ? undefined
    : `half of the gain at the trained angle is left ${told.join(", ")}.`;
};

/** How far a gain carries over from the trained angle: one row for each muscle length that was trained. */
export const jointAngleTable = (
  { lengths, longAgainstShort, assumptions }: JointAngle,
  family: string,
  scale: EffectScale,
): Table => {
  const unit = scaleDisplay(scale).sign;
  const gain = (
    answer: Readonly<{ estimate: number; interval: Interval; standardError?: number }>,
  ): string =>
    `${shownEstimate(answer.estimate, scale, answer.standardError ?? 0.1)}${unit} (${shownInterval(answer.interval, scale, answer.standardError ?? 0.1)})`;
  const shown = lengths.filter(({ distances }) => (distances?.distinct ?? 0) > 1);
  const single = lengths.filter((curve) => !shown.includes(curve));
  const few = lengths.some(
    ({ halfWidth }) => halfWidth.kind === "told" && halfWidth.degreesOfFreedom < 4,
  );
  const told = [...new Set(lengths.flatMap(({ left }) => left.map((one) => one.degrees)))];
  return {
    id: `joint-angle-${kebabName(family)}`,
    title: `Carry-over from the trained angle: ${family}`,
    columns: [
      { key: "length", label: "Trained at", align: "left" },
      { key: "evidence", label: "Studies, people", align: "left" },
      { key: "level", label: "Gain at the trained angle", align: "right" },
      { key: "width", label: "Half is left at", align: "right" },
      ...told.map((distance) => ({
        key: `left ${distance}`,
        label: `Left ${distance}° away`,
        align: "right" as const,
      })),
      { key: "average", label: "Average of angles", align: "right" },
    ],
    rows: shown.map((curve) => ({
      length: lengthName(curve.muscleLength),
      evidence: `${curve.studies}, ${formatCount(curve.people)}`,
      level: curve.level.kind === "told" ? gain(curve.level) : "not told",
      width: widthCell(curve.halfWidth),
      ...Object.fromEntries(
        curve.left.map(({ degrees: distance, share, interval }) => [
          `left ${distance}`,
          `${sharePercent(share)} (${formatNumber(100 * interval.low, { digits: 0 })} to ${formatNumber(100 * interval.high, { digits: 0 })})`,
        ]),
      ),
      average: curve.average.kind === "told" ? gain(curve.average) : "not told",
    })),
    notes: [
      longAgainstShort.kind === "told"
        ? `Width after training at long over width after short length: ${formatNumber(longAgainstShort.widthRatio.estimate, { digits: 1 })} (${formatNumber(longAgainstShort.widthRatio.interval.low, { digits: 1 })} to ${formatNumber(longAgainstShort.widthRatio.interval.high, { digits: 1 })}).`
        : `Long against short length: not told, ${longAgainstShort.reason}.`,
      ...shown.flatMap(({ muscleLength, halfWidth }) =>
        halfWidth.kind === "told"
          ? []
          : [`Width after ${lengthName(muscleLength)}: not told, ${halfWidth.reason}.`],
      ),
      ...single.map(
        ({ muscleLength, studies }) =>
          `${capital(lengthName(muscleLength))}: ${studies} ${studies === 1 ? "study" : "studies"}, all tested at one distance only.`,
      ),
      ...(few
        ? ["† fewer than four degrees of freedom: the interval is not to be relied on."]
        : []),
      ...assumptions.map((one) => `${one.charAt(0).toUpperCase()}${one.slice(1)}.`),
    ],
  };
};
