/** A predictor turned into columns of the design, or the reason why it cannot be. */
import { withUnit } from "../protocol/with-unit.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { median } from "simple-statistics";
import type { Effect } from "../effects/effect.js";
import type { Note } from "../errors.js";
import type { NormalPrior } from "./bayesian-regression.js";
import {
  notStated,
  type CategoryPredictor,
  type NumericPredictor,
  type ProjectionTarget,
} from "./predictors.js";
import type { ProjectionPriors } from "./projection-priors.js";
import { shapedColumns, type ProjectionShape } from "./projection-shapes.js";

/** A predictor in use, with what a new protocol needs to be placed on it. */
export type UsedPredictor = Readonly<{
  name: string;
  label: string;
  unit: string;
  definition: string;
  /** Names of its columns; the last is contextual where `evidence` says so. */
  columns: readonly string[];
  /** Where the file's knowledge of it comes from. */
  evidence: "within studies" | "between studies only" | "within and between studies";
  /** Range of a number, or the levels of a category. */
  studied: Interval | readonly string[];
  /** Median of the arms, or the most usual level. */
  usual: number | string;
  /** Of a dose: its shapes with their weights before and after the trials; after is before until they are fitted. */
  shapes?: readonly ShapeShare[];
}>;
export type ShapeShare = Readonly<{ shape: ProjectionShape; prior: number; weight: number }>;

export type DroppedPredictor = Readonly<{
  name: string;
  label: string;
  /** The kind of reason, and the reason in words. */
  why: "seldom coded" | "all alike" | "follows from others";
  reason: string;
}>;

/** A predictor left out, with what to say of a protocol that differs in it from what the file's arms did. */
export type RefusedPredictor = DroppedPredictor &
  Readonly<{ outsideOf: (target: ProjectionTarget) => Note | undefined }>;

/** A number that is left out counts as differing from this share on. */
const clearlyOther = 0.1;

/** So many arms must differ from the commonest value before it counts as varied. */
const leastDiffering = 2;

/** `option`: one of several columns of which one stands in the model at a time, with its prior weight. */
export type PredictorColumn = Readonly<{
  name: string;
  values: Float64Array;
  prior: NormalPrior;
  kind: "main" | "context";
  option?: Readonly<{ of: string; shape: string; weight: number }>;
}>;
/** A predictor's columns on the file's effects, and its part of a new protocol's row. */
export type BuiltPredictor = Readonly<{
  columns: readonly PredictorColumn[];
  used: UsedPredictor;
  /** The predictor's part of a target's row, contextual column zero. */
  place: (
    target: ProjectionTarget,
  ) => Readonly<{ values: readonly number[]; assumed?: Note; outside?: Note; missing?: string }>;
}>;

const armOf = (effect: Effect): string => `${effect.cohort}\u0000${effect.arm}`;

const shown = (value: number): string => String(Number(value.toPrecision(3)));

const firstPerArm = <Value>(
  effects: readonly Effect[],
  values: readonly Value[],
): readonly Value[] => {
  const seen = new Set<string>();
  return values.filter((_, i) => {
    const arm = armOf(effects[i]!);
    if (seen.has(arm)) return false;
    seen.add(arm);
    return true;
  });
};

const counted = <Value>(values: readonly Value[]): readonly (readonly [Value, number])[] => {
  const counts = new Map<Value, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1]);
};

/** Each effect's study mean of a column, taken over the study's effects in use. */
const studyMeans = (effects: readonly Effect[], values: Float64Array): Float64Array => {
  const sums = new Map<string, { total: number; count: number }>();
  effects.forEach(({ cohort }, i) => {
    const sum = sums.get(cohort) ?? { total: 0, count: 0 };
    sum.total += values[i]!;
    sum.count += 1;
    sums.set(cohort, sum);
  });
  return Float64Array.from(effects, ({ cohort }) => {
    const { total, count } = sums.get(cohort)!;
    return total / count;
  });
};

const evidenceOf = (
  effects: readonly Effect[],
  values: Float64Array,
): UsedPredictor["evidence"] => {
  const means = studyMeans(effects, values);
  const spread = Math.max(...means.map(Math.abs), 1e-12);
  const within = values.some((value, i) => Math.abs(value - means[i]!) > 1e-9 * spread);
  const between = means.some((value) => Math.abs(value - means[0]!) > 1e-9 * spread);
  if (!within) return "between studies only";
  return between ? "within and between studies" : "within studies";
};

const cannotSay = (given: string, why: string): Note => ({
  code: "not-studied",
  message: `the file cannot say what ${given} changes, since ${why}`,
});

/** Columns of a number, or why the file says nothing about it. */
export const numericBuilt = (
  predictor: NumericPredictor,
  effects: readonly Effect[],
  priors: ProjectionPriors,
  shapes: readonly ProjectionShape[],
): BuiltPredictor | RefusedPredictor => {
  const { name, label, unit } = predictor;
  const raw = effects.map(({ row }) => predictor.ofRow(row)!);
  const arms = firstPerArm(effects, raw);
  // Two readings of one arm may differ in the distance of the test, so effects are counted there.
  const counts = counted(predictor.prior === "angle" ? raw : arms);
  const [commonest, most] = counts[0]!;
  const total = counts.reduce((sum, [, count]) => sum + count, 0);
  if (total - most < leastDiffering) {
    return {
      name,
      label,
      why: "all alike",
      reason:
        counts.length === 1
          ? `all arms have ${label} ${shown(commonest)} ${unit}`.trim()
          : `nearly all arms have ${label} ${shown(commonest)} ${unit}`.trim(),
      outsideOf: (target) => {
        const given = predictor.ofTarget(target);
        if (given === undefined || Math.abs(given - commonest) <= clearlyOther * commonest)
          return undefined;
        return cannotSay(
          `${label} ${shown(given)} ${unit}`.trim(),
          `${counts.length === 1 ? "all" : "nearly all"} arms have ${shown(commonest)}`,
        );
      },
    };
  }
  const values = Float64Array.from(raw, predictor.column);
  const slope = predictor.prior === "angle" ? priors.angleDeviation : priors.slopeDeviation;
  const prior = { mean: 0, deviation: slope };
  const shaped = predictor.shaped ? shapedColumns(raw, predictor.reference, shapes) : [];
  const columns: PredictorColumn[] =
    shaped.length < 2
      ? [
          {
            name,
            values: shaped[0] === undefined ? values : Float64Array.from(raw, shaped[0].column),
            prior,
            kind: "main",
          },
        ]
      : shaped.map(({ shape, weight, column }, i) => ({
          name: `${name}, ${shape} ${i + 1}`,
          values: Float64Array.from(raw, column),
          prior,
          kind: "main",
          option: { of: name, shape, weight },
        }));
  const rowOf = (value: number): readonly number[] =>
    shaped.length === 0 ? [predictor.column(value)] : shaped.map(({ column }) => column(value));
  const evidence = evidenceOf(effects, values);
  const contextual =
    predictor.contextual && evidence !== "within studies" && priors.contextualDeviation > 0;
  if (contextual) {
    const means = studyMeans(effects, values);
    const centre = means.reduce((sum, mean) => sum + mean, 0) / means.length;
    columns.push({
      name: `${name}, mean of the study`,
      values: means.map((mean) => mean - centre),
      prior: { mean: 0, deviation: priors.contextualDeviation },
      kind: "context",
    });
  }
  const studied = { low: Math.min(...raw), high: Math.max(...raw) };
  const usual = median(arms);
  return {
    columns,
    used: {
      name,
      label,
      unit,
      definition: predictor.definition,
      columns: columns.map((column) => column.name),
      evidence,
      studied,
      usual,
      ...(shaped.length === 0
        ? {}
        : {
            shapes: [...new Set(shaped.map(({ shape }) => shape))].map((shape) => ({
              shape,
              prior: 1 / shapes.length,
              weight: 1 / shapes.length,
            })),
          }),
    },
    place: (target) => {
      const given = predictor.ofTarget(target);
      const known = given !== undefined && (given > 0 || predictor.prior === "angle");
      if (!known && predictor.whenAbsent === "refuse") return { values: [], missing: label };
      const value = known ? given : usual;
      const outside = value < studied.low || value > studied.high;
      return {
        values: [...rowOf(value), ...(contextual ? [0] : [])],
        ...(known
          ? {}
          : {
              assumed: {
                code: "usual-value",
                message: `${label} is not given; ${withUnit(shown(usual), unit)}, the usual value of the file, is used`,
              },
            }),
        ...(outside
          ? {
              outside: {
                code: "outside-range",
                message: `${label} ${withUnit(shown(value), unit)} is outside what was studied (${shown(studied.low)} to ${shown(studied.high)})`,
              },
            }
          : {}),
      };
    },
  };
};

/** Columns of a quality, or why the file says nothing about it. */
export const categoryBuilt = (
  predictor: CategoryPredictor,
  effects: readonly Effect[],
  priors: ProjectionPriors,
): BuiltPredictor | RefusedPredictor => {
  const { name, label } = predictor;
  const raw = effects.map(({ row }) => predictor.ofRow(row));
  const counts = counted(firstPerArm(effects, raw));
  // A level that says something stands in for a protocol that does not.
  const usual = (counts.find(([level]) => level !== notStated) ?? counts[0]!)[0];
  const wanted = predictor.reference ?? usual;
  const reference = counts.some(([level, count]) => level === wanted && count >= 1)
    ? wanted
    : usual;
  const levels = counts
    .filter(([level, count]) => level !== reference && count >= leastDiffering)
    .map(([level]) => level)
    .sort();
  const studied = counts.map(([level]) => level).sort();
  if (levels.length === 0) {
    return {
      name,
      label,
      why: "all alike",
      reason:
        counts.length === 1
          ? `all arms have ${label} "${usual}"`
          : `fewer than ${leastDiffering} arms differ from ${label} "${usual}"`,
      outsideOf: (target) => {
        const given = predictor.ofTarget(target);
        if (given === undefined || given === usual) return undefined;
        // A file that never says is taken to mean the usual thing.
        if (usual === notStated && given === predictor.reference) return undefined;
        return cannotSay(
          `${label} "${given}"`,
          `${counts.length === 1 ? "all" : "nearly all"} arms have "${usual}"`,
        );
      },
    };
  }
  const columns = levels.map((level): PredictorColumn => ({
    name: `${name}: ${level}`,
    values: Float64Array.from(raw, (value) => (value === level ? 1 : 0)),
    prior: { mean: 0, deviation: priors.slopeDeviation },
    kind: "main",
  }));
  const varies = columns.some(
    ({ values }) => evidenceOf(effects, values) !== "between studies only",
  );
  return {
    columns,
    used: {
      name,
      label,
      unit: "",
      definition: predictor.definition,
      columns: columns.map((column) => column.name),
      evidence: varies ? "within and between studies" : "between studies only",
      studied,
      usual,
    },
    place: (target) => {
      const given = predictor.ofTarget(target);
      const [most, arms] = counts[0]!;
      const level = given ?? most;
      const total = counts.reduce((sum, [, count]) => sum + count, 0);
      return {
        values: levels.map((one) => (one === level ? 1 : 0)),
        ...(given === undefined
          ? {
              assumed: {
                code: "usual-value",
                message:
                  most === notStated
                    ? `${label} is not given, as in ${arms} of ${total} arms, and the number is of arms like those`
                    : `${label} is not given; "${most}", as in ${arms} of ${total} arms, is used`,
              },
            }
          : {}),
        ...(level === reference || levels.includes(level)
          ? {}
          : {
              outside: {
                code: "outside-range",
                message: `${studied.includes(level) ? `fewer than ${leastDiffering} arms have` : "no arm has"} ${label} "${level}"; it is projected as "${reference}"`,
              },
            }),
      };
    },
  };
};
