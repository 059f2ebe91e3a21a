import { describe, expect, test } from "vitest";
import { matrixOf } from "../../src/numeric/matrix.js";
import {
  bayesianRegression,
  type RegressionPriors,
  type RegressionProblem,
} from "../../src/projection/bayesian-regression.js";
import { condensedMixture, scaledMixture } from "../../src/projection/condensed-posterior.js";
import { mixtureQuantile, type NormalMixture } from "../../src/projection/normal-mixture.js";
import { posteriorMixture } from "../../src/projection/posterior-mixture.js";
import type { Choice } from "../../src/projection/projection-design.js";
import { projectionShapes, shapedColumns } from "../../src/projection/projection-shapes.js";
import { shapeAverage } from "../../src/projection/shape-average.js";
import { weeksCurve } from "../../src/projection/weeks-curve.js";

// Eight studies of two arms; two doses, the first with a peak inside what was studied.
const first = [40, 60, 60, 80, 80, 100, 40, 80, 60, 100, 50, 70, 70, 90, 40, 100];
const second = [3, 10, 5, 5, 10, 3, 20, 20, 5, 10, 3, 3, 10, 20, 5, 5];
const weeks = [8, 8, 6, 6, 12, 12, 8, 8, 10, 10, 8, 8, 4, 4, 8, 8];
const gains = [
  0.12, 0.22, 0.2, 0.26, 0.3, 0.22, 0.1, 0.24, 0.27, 0.2, 0.15, 0.24, 0.14, 0.14, 0.1, 0.17,
];
const ones = first.map(() => 1);
const shaped = shapedColumns(first, 75);
const other = shapedColumns(second, 5, ["logarithm", "straight line"]);
const slope = 0.15;
const columns = [
  ones,
  ...shaped.map(({ column }) => first.map(column)),
  ...other.map(({ column }) => second.map(column)),
];
const choices: readonly Choice[] = [
  {
    of: "first",
    options: shaped.map(({ shape, weight }, i) => ({
      shape,
      column: 1 + i,
      deviation: slope,
      weight,
    })),
  },
  {
    of: "second",
    options: [
      ...other.map(({ shape }, i) => ({
        shape,
        column: 1 + shaped.length + i,
        deviation: slope,
        weight: 0.3,
      })),
      { shape: "left out", deviation: 1, weight: 0.4 },
    ],
  },
];
const problemOf = (chosen: readonly (readonly number[])[]): RegressionProblem => ({
  estimates: gains,
  variances: gains.map(() => 0.001),
  covariances: [],
  design: matrixOf(gains.map((_, i) => chosen.map((column) => column[i]!))),
  intercepts: [
    { name: "study", groupOf: gains.map((_, i) => i >> 1) },
    { name: "arm", groupOf: gains.map((_, i) => i) },
  ],
  curve: (constant) => weeks.map((week) => weeksCurve(week, constant)),
});
const priorsOf = (deviations: readonly number[]): RegressionPriors => ({
  coefficients: deviations.map((deviation) => ({ mean: 0, deviation })),
  deviations: [
    { kind: "half-normal", scale: 0.1 },
    { kind: "half-normal", scale: 0.05 },
  ],
  logParameter: { mean: Math.log(5), deviation: 0.6 },
});

/** Every model fitted by itself, and weighed by its own evidence. */
const byHand = choices[0]!.options.flatMap((one) =>
  choices[1]!.options.map((two) => {
    const chosen = [0, one.column!, ...(two.column === undefined ? [] : [two.column])];
    const fit = bayesianRegression(
      problemOf(chosen.map((column) => columns[column]!)),
      priorsOf([0.3, slope, slope].slice(0, chosen.length)),
      { tolerance: Infinity, points: 9 },
    );
    return { chosen, one, two, fit, log: fit.logEvidence + Math.log(one.weight * two.weight) };
  }),
);
const top = Math.max(...byHand.map(({ log }) => log));
const whole = byHand.reduce((sum, { log }) => sum + Math.exp(log - top), 0);
const weightOf = ({ log }: Readonly<{ log: number }>): number => Math.exp(log - top) / whole;

const matched = priorsOf([
  0.3,
  ...choices.flatMap(({ options }) =>
    options.flatMap(({ column, deviation, weight }) =>
      column === undefined ? [] : [deviation * Math.sqrt(weight)],
    ),
  ),
]);
const average = shapeAverage(problemOf(columns), matched, choices, {
  tolerance: Infinity,
  points: 9,
});

describe("against every model fitted by itself, weighed by its own evidence", () => {
  test("each option's weight", () => {
    choices.forEach(({ options }, level) =>
      options.forEach((option, i) => {
        const theirs = byHand
          .filter(({ one, two }) => (level === 0 ? one : two) === option)
          .reduce((sum, model) => sum + weightOf(model), 0);
        // the points of a cell are weighed at its middle
        expect(Math.abs(average.weights[level]![i]! - theirs)).toBeLessThan(0.005);
      }),
    );
    const peak = choices[0]!.options.reduce(
      (sum, { shape }, i) => (shape === "peak" ? sum + average.weights[0]![i]! : sum),
      0,
    );
    // the trials were written with a peak, so its weight is well above a quarter
    expect(peak).toBeGreaterThan(0.6);
  });

  test.each([
    [60, 5],
    [100, 10],
    [45, 20],
  ])("the gain at %d and %d: low, middle and high, after 8 and after 4 weeks", (x, z) => {
    const row = [
      1,
      ...shaped.map(({ column }) => column(x)),
      ...other.map(({ column }) => column(z)),
    ];
    for (const week of [8, 4]) {
      const mine = scaledMixture(
        condensedMixture(average.posterior, row),
        average.posterior.parameters.map((constant) => weeksCurve(week, constant)),
      );
      const parts = byHand.map((model) => {
        const { parameters } = model.fit;
        const own = scaledMixture(
          posteriorMixture(
            model.fit,
            model.chosen.map((column) => row[column]!),
          ),
          parameters!.map((constant) => weeksCurve(week, constant)),
        );
        return { ...own, weights: own.weights.map((weight) => weight * weightOf(model)) };
      });
      const joined = (of: (one: NormalMixture) => Float64Array): Float64Array =>
        Float64Array.from(parts.flatMap((one) => [...of(one)]));
      const theirs: NormalMixture = {
        weights: joined(({ weights }) => weights),
        means: joined(({ means }) => means),
        deviations: joined(({ deviations }) => deviations),
      };
      for (const p of [0.025, 0.5, 0.975])
        // 600 components in place of all: a thirtieth of the range's half-width
        expect(Math.abs(mixtureQuantile(mine, p) - mixtureQuantile(theirs, p))).toBeLessThan(0.002);
    }
  });

  test("spread between groups", () => {
    const mine = average.posterior.groupDeviations.reduce((sum, one) => sum + one ** 2 / 600, 0);
    const theirs = byHand.reduce(
      (sum, model) =>
        sum +
        weightOf(model) *
          model.fit.weights.reduce(
            (total, weight, i) =>
              total +
              weight * (model.fit.deviations[2 * i]! ** 2 + model.fit.deviations[2 * i + 1]! ** 2),
            0,
          ),
      0,
    );
    expect(Math.abs(Math.sqrt(mine) - Math.sqrt(theirs))).toBeLessThan(0.001);
  });
});

test("the same input gives the same digits", () => {
  const again = shapeAverage(problemOf(columns), matched, choices, {
    tolerance: Infinity,
    points: 9,
  });
  expect(again).toEqual(average);
});

test("every column rises or falls by as much as the logarithm, and is nothing at the reference", () => {
  expect(
    shaped.map(({ shape }) => shape).filter((shape, i, all) => all.indexOf(shape) === i),
  ).toEqual([...projectionShapes]);
  const doses = Array.from({ length: 2001 }, (_, i) => 40 + (60 * i) / 2000);
  for (const { column } of shaped) {
    const values = doses.map(column);
    // a peak between two of the doses tried is missed by less than 10⁻⁴
    expect(Math.max(...values) - Math.min(...values)).toBeCloseTo(Math.log(100 / 40), 3);
    expect(column(75)).toBeCloseTo(0, 12);
  }
  expect(shaped.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
  // the logarithm itself stays what it is
  expect(shaped[0]!.column(90)).toBeCloseTo(Math.log(90 / 75), 12);
});
