import { analyse, type FamilyAnswer } from "../../report/analysis.js";
import { shownResult } from "../../report/pooled-answer.js";
import { percentFromLogRatio } from "../../effects/percent-from-log-ratio.js";
import type { Exercise } from "../exercise.js";
import { shippedRecords } from "../shipped-data.js";

let known: readonly FamilyAnswer[] | undefined;
const answers = (): readonly FamilyAnswer[] => {
  known ??= analyse(
    { name: "published-outcomes.csv", fingerprint: "", invented: false },
    shippedRecords("published-outcomes.csv"),
  ).answers;
  return known;
};
const strength = (contrast: string) =>
  answers().find((answer) => answer.family === "strength" && answer.contrast === contrast);
const resultOf = (answer: FamilyAnswer | undefined) =>
  answer === undefined ? undefined : shownResult(answer.answer);
const within = () => strength("change-within-arm");
const setAside = (): number =>
  new Set(
    (within()?.set.rowUses ?? []).filter(({ use }) => use === "set aside").map(({ line }) => line),
  ).size;

/** Notebook 8: your own file. */
export const ownFileExercises: readonly Exercise[] = [
  {
    id: "8.1",
    answer: () => resultOf(within())?.studies ?? 0,
    slips: [
      {
        answer: () => resultOf(within())?.effects ?? 0,
        because: "That counts effects: one study may have several arms and angles.",
      },
      {
        answer: () =>
          new Set(shippedRecords("published-outcomes.csv").rows.map(({ study }) => study)).size,
        because:
          "That counts every study of the file; many print no spread and cannot be weighted.",
      },
    ],
    hint: "The answer for strength, before to after, says how many studies it rests on.",
  },
  {
    id: "8.2",
    answer: setAside,
    slips: [
      {
        answer: () => shippedRecords("published-outcomes.csv").rowsInFile,
        because: "That is every row of the file.",
      },
      {
        answer: () => within()?.set.rowUses.filter(({ use }) => use === "effect").length ?? 0,
        because: "Those rows did become effects; the others are asked for.",
      },
    ],
    hint: "rowUses of the set of changes within arms has one entry for each row: count those set aside.",
  },
  {
    id: "8.3",
    decimals: 1,
    answer: () => percentFromLogRatio(resultOf(within())?.predictionInterval?.low ?? 0),
    slips: [
      {
        answer: () => percentFromLogRatio(resultOf(within())?.interval.low ?? 0),
        because:
          "That is the interval of the average. A new study scatters about the average: which range is about it?",
      },
      {
        answer: () => percentFromLogRatio(resultOf(within())?.predictionInterval?.high ?? 0),
        because: "That is the other end of the range.",
      },
      {
        answer: () => 100 * (resultOf(within())?.predictionInterval?.low ?? 0),
        because: "That is still on the logarithmic scale, times a hundred.",
      },
    ],
    hint: "The lower end of the prediction interval, turned into a percentage.",
  },
];
