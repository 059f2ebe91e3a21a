import { answered } from "../../answers/ask.js";
import { hold } from "../../answers/hold.js";
import { project } from "../../answers/project.js";
import type { Exercise } from "../exercise.js";
import { shippedFile } from "../shipped-data.js";

const protocol = "5 x 20 s at 60%, rest 60 s, 3/week, 10 weeks, long, knee";

const ranges = () =>
  answered(project, shippedFile("demo-register.csv"), { protocol, goal: "size", joint: "knee" })
    .data.answer?.ranges;
const dose = (name: string): number =>
  answered(hold, undefined, { protocol }).data.doses?.[name] ?? 0;

/** Notebook 7: projecting and comparing protocols. */
export const protocolExercises: readonly Exercise[] = [
  {
    id: "7.1",
    answer: () => dose("tensionTimePerSessionSeconds"),
    slips: [
      {
        answer: () => dose("torqueTimePerSession"),
        because: "That weighs each second with its intensity; tension time counts seconds alone.",
      },
      {
        answer: () => dose("tensionTimePerWeekSeconds"),
        because: "That is a week's; one session is asked for.",
      },
    ],
    hint: "Number of holds in a session times the length of one; rests do not count.",
    reason: "Holds times seconds; rests do not count as tension.",
  },
  {
    id: "7.2",
    decimals: 1,
    answer: () => ranges()?.average.percent.estimate ?? 0,
    slips: [
      {
        answer: () => 100 * (ranges()?.average.estimate ?? 0),
        because: "That is a hundred times the logarithm; the percentages stand under percent.",
      },
      {
        answer: () => ranges()?.person.percent.low ?? 0,
        because: "That is where the range of a single person begins.",
      },
      {
        answer: () => ranges()?.average.percent.low ?? 0,
        because: "That is where the range begins; its middle is asked for.",
      },
    ],
    hint: "The answer of the question project has ranges.average.percent.estimate",
    reason:
      "The average of such studies is the narrowest of the three ranges; it is as likely to lie above its middle as below.",
  },
  {
    id: "7.3",
    answer: () => Math.round(100 * (ranges()?.person.probabilityOfGain ?? 0)),
    slips: [
      {
        answer: () => Math.round(100 * (ranges()?.newGroup.probabilityOfGain ?? 0)),
        because: "So it is for the mean of a new group. People scatter much more than groups do.",
      },
      {
        answer: () => Math.round(100 * (1 - (ranges()?.person.probabilityOfGain ?? 0))),
        because: "That is the probability of no gain.",
      },
    ],
    hint: "ranges.person has a probabilityOfGain; give it in whole per cent.",
    reason:
      "People differ in their response far more than averages of groups do, so a gain on average is no promise to one person.",
  },
];
