import { answered } from "../../answers/ask.js";
import { effects } from "../../answers/effects.js";
import { pool } from "../../answers/pool.js";
import type { Exercise } from "../exercise.js";
import { percent, shippedFile } from "../shipped-data.js";

const file = () => shippedFile("published-outcomes.csv");

/** Strength, before to after, in numbers. */
const strength = () => {
  const [group] = answered(pool, file(), { outcome: "strength" }).data.groups;
  return group !== undefined && "estimate" in group ? group : undefined;
};
const linesOf = (use: string): readonly number[] => [
  ...new Set(
    answered(effects, file(), {})
      .data.rowUses.filter((row) => row.use === use)
      .map(({ line }) => line),
  ),
];

/** Notebook 8: your own file. */
export const ownFileExercises: readonly Exercise[] = [
  {
    id: "8.1",
    answer: () => strength()?.studies ?? 0,
    slips: [
      {
        answer: () => strength()?.effects ?? 0,
        because: "That counts effects: one study may have several arms and angles.",
      },
      {
        answer: () => new Set(file().records.rows.map(({ study }) => study)).size,
        because:
          "That counts every study of the file; many print no spread and cannot be weighted.",
      },
    ],
    hint: "The answer for strength, before to after, says how many studies it rests on.",
    reason:
      "One study may give several effects (arms, muscles); studies are what is counted as evidence.",
  },
  {
    id: "8.2",
    decimals: 1,
    answer: () => percent(strength()?.predictionInterval?.high ?? 0),
    slips: [
      {
        answer: () => percent(strength()?.interval.high ?? 0),
        because:
          "That is the interval of the average. A further study scatters about the average: which range is about it?",
      },
      {
        answer: () => percent(strength()?.predictionInterval?.low ?? 0),
        because: "That is the other end of the range.",
      },
      {
        answer: () => 100 * (strength()?.predictionInterval?.high ?? 0),
        because: "That is still on the logarithmic scale, times a hundred.",
      },
    ],
    hint: "The upper end of the range of a further study (predictionInterval), turned into a percentage.",
    reason:
      "The range of a further study holds how far studies differ as well as how well the average is known.",
  },
  {
    id: "8.3",
    answer: () => linesOf("set aside").length,
    slips: [
      {
        answer: () => file().records.rowsInFile,
        because: "That is every row of the file.",
      },
      {
        answer: () => linesOf("effect").length,
        because: "Those rows did become effects; the others are asked for.",
      },
    ],
    hint: "data.rowUses of the question effects has one entry for each row: count those set aside.",
    reason:
      "Without a spread or a number of people there is no weight. Such rows stay in the file and are told of, but no average can use them.",
  },
];
