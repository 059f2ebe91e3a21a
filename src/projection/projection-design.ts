/** Which predictors a file can speak about, and the design they make.  */
import { doseOf } from "../dose/dose-axes.js";
import type { Effect } from "../effects/effect.js";
import type { Note } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import { orthonormalDesign } from "../synthesis/orthonormal-design.js";
import type { NormalPrior } from "./bayesian-regression.js";
import type { ProjectionGoal } from "./goals.js";
import {
  categoryBuilt,
  numericBuilt,
  type BuiltPredictor,
  type DroppedPredictor,
  type PredictorColumn,
  type RefusedPredictor,
  type UsedPredictor,
} from "./predictor-columns.js";
import {
  predictors,
  type NumericPredictor,
  type Predictor,
  type ProjectionTarget,
} from "./predictors.js";
import type { ProjectionPriors } from "./projection-priors.js";
import type { ProjectionShape } from "./projection-shapes.js";

export type PlacedTarget = Readonly<{
  row: Float64Array;
  /** What the protocol did not say and was given in its place. */
  assumed: readonly Note[];
  /** Predictors, in use or left out, on which the protocol lies outside what was studied. */
  outside: readonly Note[];
  /** Fields without which it cannot be placed. */
  missing: readonly string[];
}>;

/** One place in the model that one of several columns takes; an option without a column leaves it empty. */
export type Choice = Readonly<{
  of: string;
  options: readonly Readonly<{
    shape: string;
    column?: number;
    deviation: number;
    weight: number;
  }>[];
}>;

export type ProjectionDesign = Readonly<{
  /** Positions of the effects used, ascending. */
  used: readonly number[];
  /** Every column that any of the models has. */
  design: Matrix;
  columnNames: readonly string[];
  /**
   * One for each column; of a column that stands in a share w of the models the deviation is √w of its own, so that
   * any sum of columns has the variance that it has over all models.
   */
  priors: readonly NormalPrior[];
  /** Columns that are in every model stand in none of these. */
  choices: readonly Choice[];
  weeks: Float64Array;
  predictors: readonly UsedPredictor[];
  dropped: readonly DroppedPredictor[];
  notes: readonly Note[];
  place: (target: ProjectionTarget) => PlacedTarget;
}>;

/** A predictor coded on a smaller share of the effects than this is left out rather than the effects. */
const leastCoded = 0.7;
/** The week a row's gain had by then, or undefined. */
export const weeksOf = (effect: Effect): number | undefined => {
  const value = doseOf(effect.row, "weeks")?.value;
  return value !== undefined && value > 0 ? value : undefined;
};

const isRefusal = (built: BuiltPredictor | RefusedPredictor): built is RefusedPredictor =>
  "reason" in built;

/** Columns of a list of built predictors beside the intercept, effects × columns. */
const matrixOfColumns = (rows: number, columns: readonly Float64Array[]): Matrix => {
  const width = columns.length;
  const values = new Float64Array(rows * width);
  columns.forEach((column, a) => column.forEach((value, i) => (values[i * width + a] = value)));
  return { rows, columns: width, values };
};

const kept = (
  candidates: readonly (BuiltPredictor | RefusedPredictor)[],
  rows: number,
): Readonly<{ built: readonly BuiltPredictor[]; dropped: readonly RefusedPredictor[] }> => {
  const built: BuiltPredictor[] = [];
  const dropped: RefusedPredictor[] = [];
  const main: Float64Array[] = [new Float64Array(rows).fill(1)];
  for (const candidate of candidates) {
    if (isRefusal(candidate)) {
      dropped.push(candidate);
      continue;
    }
    // Of a dose one shape is asked, the first: what follows from others in one shape is no news in another.
    const own = candidate.columns.filter(
      ({ kind, option }, i) => kind === "main" && (option === undefined || i === 0),
    );
    const tried = [...main, ...own.map(({ values }) => values)];
    if (
      tried.length > rows ||
      orthonormalDesign([matrixOfColumns(rows, tried)]).aliased.length > 0
    ) {
      dropped.push({
        name: candidate.used.name,
        label: candidate.used.label,
        why: "follows from others",
        reason: `in this file ${candidate.used.label} follows from the predictors before it, so its part cannot be told apart`,
        outsideOf: (target) => candidate.place(target).outside,
      });
      continue;
    }
    main.push(...own.map(({ values }) => values));
    built.push(candidate);
  }
  return { built, dropped };
};

/** The name of the product, as one of the places in the model. */
const productName = "intensity × hold length";

/** Logarithm of effort times logarithm of hold, where both are in use. */
const productOf = (
  built: readonly BuiltPredictor[],
): ((valueOf: (one: NumericPredictor) => number | undefined) => number) | undefined => {
  const both = predictors.filter(
    (one): one is NumericPredictor =>
      one.kind === "number" &&
      (one.name === "effort" || one.name === "hold length") &&
      built.some(({ used }) => used.name === one.name),
  );
  return both.length < 2
    ? undefined
    : (valueOf) =>
        both.reduce((total, one) => total * one.column(valueOf(one) ?? one.reference), 1);
};

const choicesOf = (columns: readonly PredictorColumn[]): readonly Choice[] => {
  const places = [...new Set(columns.flatMap(({ option }) => option?.of ?? []))];
  return places.map((of) => {
    const options = columns.flatMap(({ prior, option }, column) =>
      option?.of === of
        ? [{ shape: option.shape, column, deviation: prior.deviation, weight: option.weight }]
        : [],
    );
    const left = 1 - options.reduce((sum, { weight }) => sum + weight, 0);
    return {
      of,
      options:
        left > 1e-9 ? [...options, { shape: "left out", deviation: 1, weight: left }] : options,
    };
  });
};

/**
 * The design of a projection: an intercept and every predictor the effects can speak about.
 *
 * A predictor is left out, with the reason, when fewer than 70% of the effects code it, when fewer than two arms differ from
 * the commonest value, or when it follows from those before it. Effects without a value of a predictor in use, or without weeks,
 * are set aside with a note. A numeric predictor gets a second column, the study's mean less the mean of all, with a prior near zero:
 * the first column is then the difference between protocols inside studies, which randomisation protects, and
 * the second takes up what else separates studies that train harder. A projection sets the second to zero, a study
 * like the average one. With all evidence between studies, the two share what is seen in the ratio of their prior variances, so
 * that such evidence counts, but not in full.
 *
 * A dose has a column for each shape, of which one at a time stands in the model (`shapedColumns`); effort and hold, where both are in
 * use, have the product of their logarithms in half of the models.
 *
 * @param effects those of the goal
 * @source Begg MD, Parides MK (2003) Statistics in Medicine 22:2591–2602 (means and deviations as two columns)
 */
export const projectionDesign = (
  effects: readonly Effect[],
  goal: ProjectionGoal,
  priors: ProjectionPriors,
  shapes: readonly ProjectionShape[],
): ProjectionDesign => {
  const wanted = predictors.filter(
    (predictor) => predictor.name !== "test distance" || goal === "strength elsewhere",
  );
  const withWeeks = effects.filter((effect) => weeksOf(effect) !== undefined).length;
  const early: DroppedPredictor[] = [];
  const coded = wanted.filter((predictor) => {
    if (predictor.kind === "category") return true;
    const count = effects.filter(({ row }) => predictor.ofRow(row) !== undefined).length;
    if (count >= leastCoded * effects.length) return true;
    early.push({
      name: predictor.name,
      label: predictor.label,
      why: "seldom coded",
      reason: `${predictor.label} is coded on ${count} of ${effects.length} effects, too few to set the others aside`,
    });
    return false;
  });
  const hasAll = (effect: Effect): boolean =>
    weeksOf(effect) !== undefined &&
    coded.every(
      (predictor) => predictor.kind === "category" || predictor.ofRow(effect.row) !== undefined,
    );
  const used = effects.flatMap((effect, position) => (hasAll(effect) ? [position] : []));
  const rows = used.map((position) => effects[position]!);
  const notes: Note[] = [];
  if (used.length < effects.length) {
    notes.push({
      code: "effects-set-aside",
      message: `${effects.length - used.length} of ${effects.length} effects are set aside because they do not code ${[
        ...(withWeeks < effects.length ? ["weeks"] : []),
        ...coded
          .filter(
            (p) => p.kind === "number" && effects.some(({ row }) => p.ofRow(row) === undefined),
          )
          .map(({ label }) => label),
      ].join(", ")}`,
    });
  }
  if (rows.length === 0) {
    return {
      used,
      design: { rows: 0, columns: 1, values: new Float64Array(0) },
      columnNames: ["typical protocol"],
      priors: [],
      choices: [],
      weeks: new Float64Array(0),
      predictors: [],
      dropped: early,
      notes,
      place: () => ({ row: new Float64Array(1).fill(1), assumed: [], outside: [], missing: [] }),
    };
  }
  const candidates = coded.map((predictor: Predictor) =>
    predictor.kind === "number"
      ? numericBuilt(predictor, rows, priors, shapes)
      : categoryBuilt(predictor, rows, priors),
  );
  const { built, dropped } = kept(candidates, rows.length);
  const product =
    shapes.length > 1 && priors.interactionDeviation > 0 ? productOf(built) : undefined;
  const columns: readonly PredictorColumn[] = [
    {
      name: "typical protocol",
      values: new Float64Array(rows.length).fill(1),
      prior: { mean: priors.averageMean, deviation: priors.averageDeviation },
      kind: "main",
    },
    ...built.flatMap((one) => one.columns),
    ...(product === undefined
      ? []
      : [
          {
            name: productName,
            values: Float64Array.from(rows, ({ row }) => product((one) => one.ofRow(row))),
            prior: { mean: 0, deviation: priors.interactionDeviation },
            kind: "main" as const,
            option: { of: productName, shape: "counted in", weight: 0.5 },
          },
        ]),
  ];
  return {
    used,
    design: matrixOfColumns(
      rows.length,
      columns.map(({ values }) => values),
    ),
    columnNames: columns.map(({ name }) => name),
    priors: columns.map(({ prior: { mean, deviation }, option }) => ({
      mean,
      deviation: deviation * Math.sqrt(option?.weight ?? 1),
    })),
    choices: choicesOf(columns),
    weeks: Float64Array.from(rows, (row) => weeksOf(row)!),
    predictors: built.map((one) => one.used),
    dropped: [
      ...early,
      ...dropped.map(({ name, label, why, reason }) => ({ name, label, why, reason })),
    ],
    notes,
    place: (target) => {
      const parts = built.map((one) => one.place(target));
      const missing = parts.flatMap((part) => part.missing ?? []);
      return {
        row: Float64Array.from([
          1,
          ...parts.flatMap(({ values }) => values),
          ...(product === undefined ? [] : [product((one) => one.ofTarget(target))]),
        ]),
        assumed: parts.flatMap(({ assumed }) => assumed ?? []),
        outside: [
          ...parts.flatMap(({ outside }) => outside ?? []),
          ...dropped.flatMap(({ outsideOf }) => outsideOf(target) ?? []),
        ],
        missing,
      };
    },
  };
};

const share = (weight: number): string =>
  weight > 0 && weight < 0.01 ? "under 1%" : `${Math.round(100 * weight)}%`;

/**
 * A design whose doses say, in words and in numbers, what the trials make of their shapes.
 *
 * @param weights of each option of each choice
 */
export const withShapeWeights = (
  design: ProjectionDesign,
  weights: readonly (readonly number[])[],
): ProjectionDesign => {
  const weightOf = (name: string, wanted: string): number =>
    design.choices.reduce(
      (total, { of, options }, level) =>
        of === name
          ? options.reduce(
              (sum, { shape }, i) => (shape === wanted ? sum + weights[level]![i]! : sum),
              total,
            )
          : total,
      0,
    );
  return {
    ...design,
    predictors: design.predictors.map((predictor) => {
      const { name, definition } = predictor;
      if (predictor.shapes === undefined) return predictor;
      const [first, ...others] = predictor.shapes;
      if (others.length === 0)
        return { ...predictor, definition: `${definition}: ${first!.shape}` };
      const shapes = predictor.shapes.map((one) => ({
        ...one,
        weight: weightOf(name, one.shape),
      }));
      const words = [...shapes]
        .sort((a, b) => b.weight - a.weight)
        .map(({ shape, weight }) => `${shape} ${share(weight)}`)
        .join(", ");
      const together =
        name === "hold length" && design.choices.some(({ of }) => of === productName)
          ? `; intensity counts differently in longer holds ${share(weightOf(productName, "counted in"))}`
          : "";
      return { ...predictor, shapes, definition: `${definition}: ${words}${together}` };
    }),
  };
};
