import { effectSubset } from "../effects/effect-subset.js";
import type { EffectSet } from "../effects/effect.js";
import { CallError, ConvergenceError } from "../errors.js";
import { familiesOf, familyOf } from "../records/outcome-families.js";
import { symmetricInterval } from "../synthesis/inference.js";
import type { Interval, Coefficient } from "../synthesis/synthesis-results.js";
import { inseparableWords, standings, type Standing } from "./collinearity.js";
import { axisTraits, tabledAxes, type DoseAxis, type DoseAxisName } from "./dose-axes.js";
import { doseData, studyMeansOf, type DoseData } from "./dose-data.js";
import type { LinkedDoses } from "./dose-support.js";
import { everyPairInside } from "./every-pair-inside.js";
import { fitCurve } from "./fit-curve.js";
import { trustedFreedom } from "./identifiability.js";
import { mixedModel, type MixedModel } from "./mixed-model.js";
import {
  agreementOf,
  equivalenceConfidence,
  holmAdjusted,
  statedAmount,
  verdictOf,
  type Agreement,
  type Verdict,
} from "./verdict.js";
import {
  withinBetweenSlopeOf,
  type SlopeAnswer,
  type WithinBetweenSlope,
} from "./within-between-slope.js";

export type VariableTableOptions = Readonly<{
  /** Variables asked about, in this order. */
  axes?: readonly DoseAxisName[];
  confidence?: number;
  /** Amount that counts as a difference, by family, on the effects' scale; replaces `statedAmount`. */
  amounts?: Readonly<Record<string, number>>;
}>;

export const variableTableDefaults = {
  axes: tabledAxes,
  confidence: 0.95,
  amounts: {},
} as const satisfies Required<VariableTableOptions>;

/** What is known of one variable and one outcome family, before the whole table is looked at. */
export type VariableEvidence = Standing &
  Readonly<{
    axis: DoseAxis;
    family: string;
    /** Doses studied; undefined when no effect has one. */
    span?: Interval | undefined;
    /** The chain of doses that studies link, over which changes are told. */
    compared?: LinkedDoses | undefined;
    effects: number;
    studies: number;
    /** Studies with arms at different doses. */
    studiesWithin: number;
    people: number;
    /** Change of the effect from the lowest to the highest dose of the chain, with cluster-robust interval. */
    within?: Coefficient | undefined;
    between?: Coefficient | undefined;
    /** Between minus within. */
    difference?: Coefficient | undefined;
    agreement: Agreement;
    /** Standard deviation of the true effects that the variable leaves unexplained; undefined without a fit. */
    spread?: number | undefined;
    /** The amount the verdict speaks of, on the effects' scale. */
    amount: number;
    /** Whether every pair of doses of the chain differs by less than the amount. */
    allInside: boolean;
    /** Why there is no within-study or between-study answer. */
    missing: Readonly<{ within?: string; between?: string }>;
    notes: WithinBetweenSlope["notes"];
  }>;

/** The same with its verdict among the questions it was asked with. */
export type VariableRow = VariableEvidence &
  Readonly<{
    /** p of `within` among all questions of the table; undefined without one. */
    adjustedP?: number | undefined;
    verdict: Verdict;
  }>;

/** Every protocol variable with its slope and verdict. */
export type VariableTable = Readonly<{
  scale: EffectSet["scale"];
  contrast: EffectSet["contrast"];
  families: readonly string[];
  /** Variables × families, families outermost. */
  rows: readonly VariableRow[];
  /** How many within-study answers the table asks for at once. */
  questions: number;
  confidence: number;
}>;

/**
 * What a file knows of every protocol variable for one kind of outcome: the span compared, within-study and
 * between-study change over it, whether they agree, heterogeneity.
 *
 * Each row is a straight line inside studies (`withinBetweenSlope`) on the dose, or on its logarithm where the dose is
 * a length, a count or a total and above zero, chosen before any result is seen; p is therefore an ordinary one.
 * Doses that are one contrast in the file stand in one row. Where the line says that no pair of doses differs by the
 * amount, the average of straight line, logarithm and parabola is asked the same. The fits start from the variances
 * of the plain average.
 *
 * @param amount that counts as a difference, on the effects' scale
 * @source Neuhaus and Kalbfleisch (1998) Biometrics 54:638–645 (slopes, as in withinBetweenSlope)
 */
export const variableEvidence = (
  set: EffectSet,
  family: string,
  amount: number,
  options: Omit<VariableTableOptions, "amounts"> = {},
): readonly VariableEvidence[] => {
  const { axes, confidence } = { ...variableTableDefaults, ...options };
  const warm = warmModels();
  return standings(set, axes)
    .map(({ axis, ...standing }) => ({
      ...variableRow(doseData(set, axis), family, amount, confidence, warm),
      ...standing,
    }))
    .sort((a, b) => axes.indexOf(a.axis.name) - axes.indexOf(b.axis.name));
};

/**
 * Verdicts on all rows of a table at once, families together.
 *
 * @param rows of every family that the table shows
 * @source none: see verdictOf and holmAdjusted
 */
export const judged = (
  rows: readonly VariableEvidence[],
  confidence: number,
): readonly VariableRow[] => {
  const asked = rows.filter(({ within }) => within !== undefined);
  const adjusted = holmAdjusted(asked.map(({ within }) => within!.p));
  return rows.map((row): VariableRow => {
    const adjustedP = adjusted[asked.indexOf(row)];
    const { axis, within, between, inseparable } = row;
    return {
      ...row,
      adjustedP,
      verdict: verdictOf({
        ...row,
        within,
        between,
        adjustedP,
        inseparable: inseparable && inseparableWords(inseparable),
        isChoice: !axisTraits(axis.name).noChoice,
        level: 1 - confidence,
      }),
    };
  });
};

/**
 * Every variable of every outcome family, with verdicts.
 *
 * @param set changes within arms, or arms against a control
 * @param options see `variableTableDefaults`
 * @throws {CallError} "between-arms"; "amount-missing" on the raw scale when a family has no amount
 * @source none: see variableEvidence and judged
 */
export const variableTable = (
  set: EffectSet,
  options: VariableTableOptions = {},
): VariableTable => {
  const { confidence, amounts } = { ...variableTableDefaults, ...options };
  const families = familiesOf(set.effects.map(({ row }) => row));
  const rows = families.flatMap((family) => {
    const amount = (amounts as Record<string, number>)[family] ?? statedAmount(family, set.scale);
    if (amount === undefined) {
      throw new CallError({
        code: "amount-missing",
        where: "the table of variables",
        needs: `an amount for ${family} on the scale of raw differences`,
        got: "none",
        try: "give amounts, or use the log ratio of means",
      });
    }
    const own = effectSubset(set, ({ row }) => familyOf(row) === family);
    return variableEvidence(own, family, amount, options);
  });
  return tableOf(set, families, rows, confidence);
};

/** Rows of several families as one table, judged together. */
export const tableOf = (
  { scale, contrast }: Pick<EffectSet, "scale" | "contrast">,
  families: readonly string[],
  rows: readonly VariableEvidence[],
  confidence: number,
): VariableTable => ({
  scale,
  contrast,
  families,
  rows: judged(rows, confidence),
  questions: rows.filter(({ within }) => within !== undefined).length,
  confidence,
});

type Warm = Readonly<{ model: MixedModel; start: readonly number[] }>;

/** Models of one family by the effects in them, each with variances to start from. */
const warmModels = () => {
  const models = new Map<string, Warm>();
  let variances: Readonly<Record<string, number>> | undefined;
  return (data: DoseData): Warm => {
    const key = data.effects.map(({ effectId }) => effectId).join("\u0000");
    const known = models.get(key);
    if (known !== undefined) return known;
    const model = mixedModel(data.effects, data.covariances);
    variances ??= plainVariances(model, data.effects.length);
    const start = model.levels.map((level) => variances![level] ?? 0);
    const warm: Warm = { model, start };
    models.set(key, warm);
    return warm;
  };
};

/** Variance parts of the average without any variable; none where it does not settle. */
const plainVariances = (model: MixedModel, n: number): Readonly<Record<string, number>> => {
  try {
    return model.fit({ rows: n, columns: 1, values: new Float64Array(n).fill(1) }).varianceByLevel;
  } catch (error) {
    if (!(error instanceof ConvergenceError)) throw error;
    return {};
  }
};

/** Shapes that are asked whether a bend hides a difference. */
const bendingShapes = ["straight line", "logarithm", "quadratic"] as const;

const variableRow = (
  data: DoseData,
  family: string,
  amount: number,
  confidence: number,
  warm: (data: DoseData) => Warm,
): Omit<VariableEvidence, keyof Standing> => {
  const { axis, support, effects, doses } = data;
  const { linked } = support;
  const byRatio = axisTraits(axis.name).byRatio && support.lowest > 0;
  const measure = (dose: number): number => (byRatio ? Math.log(dose) : dose);
  const measured = byRatio ? doses.map(measure) : doses;
  const slope = withinBetweenSlopeOf(
    byRatio ? { ...data, doses: measured, studyMeans: studyMeansOf(effects, measured) } : data,
    { confidence, prepared: () => warm(data) },
  );
  const reach = linked ?? { low: support.lowest, high: support.highest };
  const over = (answer: SlopeAnswer): Coefficient | undefined =>
    overSpan(answer, measure(reach.high) - measure(reach.low));
  const [within, between, difference] = [slope.within, slope.between, slope.difference].map(over);
  const variances = Object.values(slope.varianceByLevel);
  return {
    axis,
    family,
    span: support.effects === 0 ? undefined : { low: support.lowest, high: support.highest },
    compared: linked,
    effects: slope.effects,
    studies: slope.studies,
    studiesWithin: support.studiesWithin,
    people: slope.people,
    within,
    between,
    difference,
    agreement: agreementOf(within, between, difference, amount),
    spread:
      variances.length === 0
        ? undefined
        : Math.sqrt(variances.reduce((sum, variance) => sum + variance, 0)),
    amount,
    allInside: within !== undefined && allInside(data, within, amount, warm),
    missing: {
      ...(slope.within.kind === "told" ? {} : { within: slope.within.reason }),
      ...(slope.between.kind === "told" ? {} : { between: slope.between.reason }),
    },
    notes: slope.notes,
  };
};

/** Asked of the line first, which is at hand; of the curve only where the line says so. */
const allInside = (
  data: DoseData,
  { estimate, standardError, degreesOfFreedom }: Coefficient,
  amount: number,
  warm: (data: DoseData) => Warm,
): boolean => {
  if (degreesOfFreedom < trustedFreedom) return false;
  const { low, high } = symmetricInterval(
    estimate,
    standardError,
    degreesOfFreedom,
    equivalenceConfidence,
  );
  if (!(low > -amount && high < amount)) return false;
  if (data.axis.kind === "levels") return true;
  try {
    const { averaged } = fitCurve(data, "within studies", warm(data).model, {
      shapes: bendingShapes,
      confidence: equivalenceConfidence,
    });
    return everyPairInside(averaged, data.support.linked!, amount);
  } catch (error) {
    if (error instanceof ConvergenceError) return false;
    throw error;
  }
};

/** A slope's coefficient for a stretch of the measure; undefined for a refusal. */
const overSpan = (slope: SlopeAnswer, stretch: number): Coefficient | undefined => {
  if (slope.kind === "refusal") return undefined;
  const { estimate, standardError, interval, ...rest } = slope.robust;
  return {
    ...rest,
    estimate: estimate * stretch,
    standardError: standardError * stretch,
    interval: { low: interval.low * stretch, high: interval.high * stretch },
  };
};
