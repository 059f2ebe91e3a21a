import { answered } from "../../answers/ask.js";
import { jointAngleQuestion } from "../../answers/joint-angle.js";
import type { Exercise } from "../exercise.js";
import { percent, shippedFile } from "../shipped-data.js";

type Length = "short" | "long";

/** The carry-over of strength after training at one muscle length. */
const curveOf = (length: Length) =>
  answered(jointAngleQuestion, shippedFile("demo-register.csv"), {
    outcome: "strength",
  }).data.answers[0]?.answer.lengths.find(({ muscleLength }) => muscleLength === length);

const width = (length: Length): number => {
  const half = curveOf(length)?.halfWidth;
  return half?.kind === "told" ? half.degrees : 0;
};
const left = (length: Length, at: number): number =>
  curveOf(length)?.left.find(({ degrees }) => degrees === at)?.share ?? 0;
const averaged = (length: Length): number => {
  const average = curveOf(length)?.average;
  return average?.kind === "told" ? percent(average.estimate) : 0;
};
const trained = (length: Length): number => {
  const level = curveOf(length)?.level;
  return level?.kind === "told" ? percent(level.estimate) : 0;
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
    reason:
      "At long length the bell is wide: the gain is carried to most of the angles that were tested.",
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
    reason:
      "The share left is exp(−ln 2 · (d/w)²): it falls slowly at first and fast near the width itself.",
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
    reason:
      "Averaging mixes the trained angle with angles far from it, where after short-length training little is left.",
  },
];
