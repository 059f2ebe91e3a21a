import { effectSubset } from "../effects/effect-subset.js";
import type { EffectSet } from "../effects/effect.js";
import { CallError, ConvergenceError } from "../errors.js";
import { familiesOf, familyOf } from "../records/outcome-families.js";
import type { Interval, Coefficient } from "../synthesis/synthesis-results.js";
import { doseAxes, doseAxisNames, type DoseAxis, type DoseAxisName } from "./dose-axes.js";
import { doseData } from "./dose-data.js";
import { mixedModel, type MixedModel } from "./mixed-model.js";
import {
  agreementOf,
  perStep,
  statedAmount,
  verdictOf,
  type Agreement,
  type Verdict,
} from "./verdict.js";
import { withinBetweenSlopeOf, type WithinBetweenSlope } from "./within-between-slope.js";

export type VariableTableOptions = Readonly<{
  /** Variables asked about, in this order. */
  axes?: readonly DoseAxisName[];
  confidence?: number;
  /** Amount that counts as a difference, by family, on the effects' scale; replaces `statedAmount`. */
  amounts?: Readonly<Record<string, number>>;
}>;

export const variableTableDefaults = {
  axes: doseAxisNames,
  confidence: 0.95,
  amounts: {},
} as const satisfies Required<VariableTableOptions>;

/** What is known of one variable and one outcome family. */
export type VariableRow = Readonly<{
  axis: DoseAxis;
  family: string;
  /** Doses studied; undefined when no effect has one. */
  span?: Interval | undefined;
  /** Doses compared inside studies. */
  spanWithin?: Interval | undefined;
  effects: number;
  studies: number;
  /** Studies with arms at different doses. */
  studiesWithin: number;
  people: number;
  /** Change of the effect for `axis.step`, with cluster-robust interval; undefined where refused. */
  within?: Coefficient | undefined;
  between?: Coefficient | undefined;
  /** Between minus within. */
  difference?: Coefficient | undefined;
  agreement: Agreement;
  /** Standard deviation of the true effects that the variable leaves unexplained; undefined without a fit. */
  spread?: number | undefined;
  /** The amount the verdict speaks of, on the effects' scale. */
  amount: number;
  verdict: Verdict;
  /** Why there is no within-study or between-study answer. */
  missing: Readonly<{ within?: string; between?: string }>;
  notes: WithinBetweenSlope["notes"];
}>;

export type VariableTable = Readonly<{
  scale: EffectSet["scale"];
  contrast: EffectSet["contrast"];
  families: readonly string[];
  /** Variables × families, families outermost. */
  rows: readonly VariableRow[];
  /** How many within-study answers the table asks for at once. */
  questions: number;
  confidence: number;
  rules: readonly string[];
}>;

/** The rules of the verdicts in words, for footnotes. */
export const verdictRules: readonly string[] = [
  "Verdicts follow stated rules and rest on arms of one study set against each other. Studies set against each other never give more than “unclear”, since they differ in everything else too.",
  "“More” or “less” is favoured when the within-study interval leaves out no difference; “no difference larger than” when the whole interval lies inside the stated amount for one step. With under four robust degrees of freedom the 99% interval is asked.",
];

/**
 * What the file knows of every protocol variable, by outcome family: the span studied, within-study and between-study
 * change for a stated step, whether they agree, heterogeneity and a plain verdict.
 *
 * Each row is `withinBetweenSlope` for that variable. The fits of one family start from the variances of the
 * family's plain average, so that the table costs little more than a few models of the file.
 *
 * @param set changes within arms, or arms against a control
 * @param options see `variableTableDefaults`
 * @throws {CallError} "between-arms"; "amount-missing" on the raw scale when a family has no amount
 * @source Neuhaus and Kalbfleisch (1998) Biometrics 54:638–645 (slopes, as in withinBetweenSlope); verdicts
 *   are rules of this project
 */
export const variableTable = (
  set: EffectSet,
  options: VariableTableOptions = {},
): VariableTable => {
  const { axes, confidence, amounts }: Required<VariableTableOptions> = {
    ...variableTableDefaults,
    ...options,
  };
  const families = familiesOf(set.effects.map(({ row }) => row));
  const rows = families.flatMap((family) => {
    const amount = amounts[family] ?? statedAmount(family, set.scale);
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
    const warm = warmModels();
    return axes.map((name) => variableRow(own, family, doseAxes[name], amount, confidence, warm));
  });
  return {
    scale: set.scale,
    contrast: set.contrast,
    families,
    rows,
    questions: rows.filter(({ within }) => within !== undefined).length,
    confidence,
    rules: verdictRules,
  };
};

type Warm = Readonly<{ model: MixedModel; start: readonly number[] }>;

/** Models of one family by the effects in them, each with variances to start from. */
const warmModels = () => {
  const models = new Map<string, Warm>();
  let variances: Readonly<Record<string, number>> | undefined;
  return (data: ReturnType<typeof doseData>): Warm => {
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

const variableRow = (
  set: EffectSet,
  family: string,
  axis: DoseAxis,
  amount: number,
  confidence: number,
  warm: (data: ReturnType<typeof doseData>) => Warm,
): VariableRow => {
  const data = doseData(set, axis);
  const slope = withinBetweenSlopeOf(data, { confidence, prepared: () => warm(data) });
  const { support } = slope;
  const within = perStep(slope.within, axis.step);
  const between = perStep(slope.between, axis.step);
  const difference = perStep(slope.difference, axis.step);
  const variances = Object.values(slope.varianceByLevel);
  return {
    axis,
    family,
    span: support.effects === 0 ? undefined : { low: support.lowest, high: support.highest },
    spanWithin: support.rangeWithin,
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
    verdict: verdictOf({ within, between, amount }),
    missing: {
      ...(slope.within.kind === "told" ? {} : { within: slope.within.reason }),
      ...(slope.between.kind === "told" ? {} : { between: slope.between.reason }),
    },
    notes: slope.notes,
  };
};
