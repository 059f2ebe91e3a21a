import { jointAngle, type JointAngle } from "../../dose/joint-angle.js";
import type { JointAngleCurve, TrainingLength } from "../../dose/joint-angle-curve.js";
import { effectsFromRows } from "../../effects/effects-from-rows.js";
import { percentFromLogRatio } from "../../effects/percent-from-log-ratio.js";
import type { Exercise } from "../exercise.js";
import { shippedFile } from "../shipped-data.js";

let known: JointAngle | undefined;

const curveOf = (length: TrainingLength): JointAngleCurve | undefined => {
  known ??= jointAngle(
    effectsFromRows(shippedFile("demo-register.csv").records.rows, {
      outcomeFamilies: ["strength"],
    }),
  );
  return known.lengths.find(({ muscleLength }) => muscleLength === length);
};

const width = (length: TrainingLength): number => {
  const half = curveOf(length)?.halfWidth;
  return half?.kind === "told" ? half.degrees : 0;
};
const left = (length: TrainingLength, at: number): number =>
  curveOf(length)?.left.find(({ degrees }) => degrees === at)?.share ?? 0;
const averaged = (length: TrainingLength): number => {
  const average = curveOf(length)?.average;
  return average?.kind === "told" ? percentFromLogRatio(average.estimate) : 0;
};
const trained = (length: TrainingLength): number => {
  const level = curveOf(length)?.level;
  return level?.kind === "told" ? percentFromLogRatio(level.estimate) : 0;
};

/** Notebook 5: joint angle and muscle length. */
export const angleExercises: readonly Exercise[] = [
  {
    id: "5.1",
    answer: () => Math.round(width("long")),
    slips: [
      {
        answer: () => Math.round(width("short")),
        because: "That is the width after training at short muscle length.",
      },
      {
        answer: () => Math.round(2 * width("long")),
        because:
          "That is the whole breadth; the width asked for runs from the trained angle to one side.",
      },
    ],
    hint: 'Look for the length "long" among the answer\'s lengths; its halfWidth has the degrees.',
  },
  {
    id: "5.2",
    answer: () => Math.round(100 * left("short", 20)),
    slips: [
      {
        answer: () => Math.round(100 * left("long", 20)),
        because: "So much is left after training at long muscle length; short is asked for.",
      },
      {
        answer: () => Math.round(100 * left("short", 10)),
        because: "So much is left nearer to the trained angle; the exercise names a distance.",
      },
      {
        answer: () => Math.round(100 * (1 - left("short", 20))),
        because: "That is what is lost; asked for is what is left.",
      },
    ],
    hint: 'left of the length "short" has a share for each distance; give it in per cent.',
  },
  {
    id: "5.3",
    decimals: 1,
    answer: () => averaged("short"),
    slips: [
      {
        answer: () => trained("short"),
        because:
          "That is the gain at the trained angle itself; a paper that averages its test angles prints something else.",
      },
      {
        answer: () => averaged("long"),
        because: "That is the average after training at long muscle length.",
      },
    ],
    hint: 'average of the length "short", turned into a percentage.',
  },
];
