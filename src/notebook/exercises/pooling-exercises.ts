import { answered } from "../../answers/ask.js";
import { influence } from "../../answers/influence.js";
import { pool } from "../../answers/pool.js";
import type { Exercise } from "../exercise.js";
import { percent, shippedFile } from "../shipped-data.js";

const file = () => shippedFile("ready-effects-example.csv");

/** The five trials as the file has them. */
const five = () => {
  const { header, rows } = file().table;
  const cell = (cells: readonly string[], column: string) => cells[header.indexOf(column)] ?? "";
  return rows.map(({ cells }) => ({
    study: cell(cells, "study"),
    estimate: Number(cell(cells, "effect")),
    variance: Number(cell(cells, "variance")),
  }));
};
const pooled = (options: Readonly<Record<string, string>>) => {
  const [group] = answered(pool, file(), options).data.groups;
  return group !== undefined && "estimate" in group ? group : undefined;
};
const common = (): number => pooled({ model: "common-effect" })?.estimate ?? 0;
const moments = () => pooled({ heterogeneity: "dersimonian-laird" });
const unweighted = (): number =>
  five().reduce((sum, { estimate }) => sum + estimate, 0) / five().length;

const mostInfluential = (): string => {
  const [group] = answered(influence, file(), {}).data.groups;
  return group !== undefined && "movesMost" in group ? (group.movesMost ?? "") : "";
};
const mostPrecise = (): string =>
  [...five()].sort((first, second) => first.variance - second.variance)[0]?.study ?? "";

/** Notebook 3: pooling and heterogeneity. */
export const poolingExercises: readonly Exercise[] = [
  {
    id: "3.1",
    decimals: 1,
    answer: () => percent(common()),
    slips: [
      {
        answer: () => percent(unweighted()),
        because: "That is the plain average: every trial counts the same, however precise it is.",
      },
      {
        answer: () => 100 * common(),
        because: "That is still on the logarithmic scale, times a hundred.",
      },
      {
        answer: () => percent(moments()?.estimate ?? 0),
        because:
          "That lets the trials differ in truth; asked for is the average under one common effect.",
      },
    ],
    hint: "Weight each effect by one over its variance, add up, divide by the sum of weights; then undo the logarithm.",
    reason:
      "Each trial counts by one over its variance, so the precise trials pull the average to themselves, here downwards.",
  },
  {
    id: "3.2",
    decimals: 2,
    answer: () => moments()?.heterogeneity.q ?? 0,
    slips: [
      {
        answer: () =>
          (moments()?.heterogeneity.q ?? 0) - (moments()?.heterogeneity.qDegreesOfFreedom ?? 0),
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
    reason:
      "Each squared distance from the weighted average counts in units of its own variance. With nothing but chance its expectation is the number of trials less one.",
  },
  {
    id: "3.3",
    answer: mostInfluential,
    slips: [
      {
        answer: mostPrecise,
        because:
          "It is the most precise and weighs most, but what moves an average is distance and weight together: try leaving each out.",
      },
    ],
    hint: "leaveEachOut has the average without each study: which lies furthest from the whole?",
    reason:
      "What moves an average is weight times distance. The most precise trial lies near the average and moves it little.",
  },
];
