import { answered } from "../../answers/ask.js";
import { influence } from "../../answers/influence.js";
import { jointAngleQuestion } from "../../answers/joint-angle.js";
import { statements } from "../../answers/statements.js";
import { demoTruthDefaults } from "../../demo/demo-truth.js";
import type { Exercise } from "../exercise.js";
import { shippedFile } from "../shipped-data.js";

const library = () => shippedFile("published-outcomes.csv");

/** The study without which an average moves most. */
const movesMost = (outcome: string): string => {
  const [group] = answered(influence, library(), { outcome }).data.groups;
  return group !== undefined && "movesMost" in group ? (group.movesMost ?? "") : "";
};

/** Degrees at which half of the gain is left, in the demonstration. */
const width = (length: "short" | "long"): number => {
  const lengths = answered(jointAngleQuestion, shippedFile("demo-register.csv"), {
    outcome: "strength",
  }).data.answers[0]?.answer.lengths;
  const half = lengths?.find(({ muscleLength }) => muscleLength === length)?.halfWidth;
  return half?.kind === "told" ? half.degrees : 0;
};
const truth = (length: "short" | "long"): number =>
  demoTruthDefaults.carryOverDegrees[length] * Math.sqrt(2 * Math.log(2));

const tested = () => answered(statements, library(), {}).data;
const withVerdict = (wanted: string): number =>
  tested().statements.filter(({ verdict }) => verdict === wanted).length;

/** What a row of a study prints as its change in percent. */
const printed = (
  study: string,
  of: (row: { weekMeasured?: number; testAngleDegrees?: number }) => boolean,
): number =>
  library().records.rows.find((row) => row.study === study && of(row))?.changePercentMean ?? 0;
const angle = (at: number) => printed("Lanza 2019", (row) => row.testAngleDegrees === at);
const week = (at: number) => printed("Kubo 2010", (row) => row.weekMeasured === at);

/** Notebooks 9 to 11: how sure, statements, and printed curves. */
export const judgingExercises: readonly Exercise[] = [
  {
    id: "9.1",
    answer: () => movesMost("size"),
    slips: [
      {
        answer: () => movesMost("strength"),
        because: "That is the one of strength; size is asked for.",
      },
    ],
    hint: 'ask("influence", { outcome: "size" }) has groups[0].movesMost.',
    reason:
      "What moves an average is weight times distance, and for its weight this study lies furthest from the rest.",
  },
  {
    id: "9.2",
    decimals: 1,
    answer: () => width("long") - truth("long"),
    slips: [
      {
        answer: () => width("short") - truth("short"),
        because: "That is after training at short muscle length.",
      },
      {
        answer: () => width("long") - demoTruthDefaults.carryOverDegrees.long,
        because:
          "That takes the spread of the bell for the place where half is left; they differ by √(2 ln 2).",
      },
    ],
    hint: "Half of a bell is left at its spread times √(2 ln 2).",
    reason:
      "The interval holds the truth, and its middle is off all the same: that is what an interval is for.",
  },
  {
    id: "10.1",
    answer: () => withVerdict("not testable with this file"),
    slips: [
      {
        answer: () => withVerdict("undecided"),
        because:
          "Those were tested, and the interval lies on both sides; asked for are those that could not be.",
      },
    ],
    hint: 'Count data.statements whose verdict is "not testable with this file".',
    reason:
      "Nobody in the file compared what these statements are about, so they are neither supported nor refuted.",
  },
  {
    id: "10.2",
    answer: () => tested().askedTogether,
    slips: [
      {
        answer: () => tested().statements.length,
        because: "That is all of them; only those with an interval share the level.",
      },
    ],
    hint: "data.askedTogether of the question statements.",
    reason: "Only statements with an interval can err by chance, so only these share the level.",
  },
  {
    id: "11.1",
    answer: () => angle(65) - angle(35),
    slips: [
      {
        answer: () => angle(65) - angle(80),
        because: "That is against the other side; 35° is asked for.",
      },
      {
        answer: () => angle(65),
        because: "That is the gain at the trained angle itself; a difference is asked for.",
      },
    ],
    hint: 'rowsWhere(undefined, "study=Lanza 2019") has changePercentMean at each testAngleDegrees.',
    reason: "The gain is largest where people trained and falls to both sides.",
  },
  {
    id: "11.2",
    decimals: 1,
    answer: () => week(13) - week(9),
    slips: [
      {
        answer: () => week(13),
        because: "That is the gain by then; how much of it came after the first test?",
      },
    ],
    hint: 'rowsWhere(undefined, "study=Kubo 2010") has two rows; take one changePercentMean from the other.',
    reason:
      "The same arm was tested twice, so this is a course of a gain; points of different studies are not.",
  },
];
