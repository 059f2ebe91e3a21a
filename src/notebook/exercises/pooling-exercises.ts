import { readTable } from "../../csv/read-table.js";
import { leaveEachOut } from "../../certainty/leave-each-out.js";
import { percentFromLogRatio } from "../../effects/percent-from-log-ratio.js";
import { poolEffects } from "../../synthesis/pool-effects.js";
import { readyEffects } from "../../synthesis/ready-effects.js";
import type { SynthesisEffect } from "../../synthesis/synthesis-input.js";
import type { Exercise } from "../exercise.js";
import { shippedBytes } from "../shipped-data.js";

const five = (): readonly SynthesisEffect[] =>
  readyEffects(readTable(shippedBytes("ready-effects-example.csv"))).effects;
const common = () => poolEffects(five(), { model: "common-effect" });
const moments = () => poolEffects(five(), { heterogeneity: "dersimonian-laird" });
const unweighted = (): number =>
  five().reduce((sum, { estimate }) => sum + estimate, 0) / five().length;

const mostInfluential = (): string => {
  const effects = five();
  const studies = [...new Set(effects.map(({ study }) => study))];
  const rest = (name: string) => poolEffects(effects.filter(({ study }) => study !== name));
  return leaveEachOut(studies, poolEffects(effects), rest).movesMost ?? "";
};
const largest = (): string =>
  [...five()].sort((first, second) => second.estimate - first.estimate)[0]?.study ?? "";
/** Notebook 3: pooling and heterogeneity. */
export const poolingExercises: readonly Exercise[] = [
  {
    id: "3.1",
    decimals: 1,
    answer: () => percentFromLogRatio(common().estimate),
    slips: [
      {
        answer: () => percentFromLogRatio(unweighted()),
        because: "That is the plain average: every trial counts the same, however precise it is.",
      },
      {
        answer: () => 100 * common().estimate,
        because: "That is still on the logarithmic scale, times a hundred.",
      },
      {
        answer: () => percentFromLogRatio(moments().estimate),
        because:
          "That lets the trials differ in truth; asked for is the average under one common effect.",
      },
    ],
    hint: "Weight each effect by one over its variance, add up, divide by the sum of weights; then undo the logarithm.",
  },
  {
    id: "3.2",
    decimals: 2,
    answer: () => moments().heterogeneity.q ?? 0,
    slips: [
      {
        answer: () => (moments().heterogeneity.q ?? 0) - moments().heterogeneity.qDegreesOfFreedom,
        because:
          "The degrees of freedom were taken off already; that is what is in excess, not Q itself.",
      },
      {
        answer: () =>
          five().reduce(
            (sum, { estimate, variance }) => sum + (estimate - unweighted()) ** 2 / variance,
            0,
          ),
        because: "Distances were taken from the plain average; take them from the weighted one.",
      },
    ],
    hint: "Σ weight · (effect − weighted average)², with the weights of one common effect.",
  },
  {
    id: "3.3",
    answer: mostInfluential,
    slips: [
      {
        answer: largest,
        because:
          "Its effect is the largest, but what moves an average is distance and weight together: try leaving each out.",
      },
    ],
    hint: "leaveEachOut has the average without each study: which lies furthest from the whole?",
  },
];
