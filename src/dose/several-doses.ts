import type { EffectSet } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import {
  type CallErrorCode,
  CallError,
  ConvergenceError,
  refusal,
  type Note,
  type Refusal,
} from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import type { ClusterRobust } from "../synthesis/cluster-robust.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { coefficient } from "../synthesis/inference.js";
import {
  armDosesOf,
  collinearity,
  multipleCorrelations,
  notToldApart,
  splitArms,
  type CollinearPair,
} from "./collinearity.js";
import { doseAxisOf, doseOf, type DoseAxis, type DoseAxisName } from "./dose-axes.js";
import { studyMeansOf } from "./dose-data.js";
import { doseSupport } from "./dose-support.js";
import { didNotSettle, withinRefusal } from "./identifiability.js";
import { mixedModel, type MixedFit } from "./mixed-model.js";
import type { SlopeAnswer } from "./within-between-slope.js";

/** One term of the joint model: a dose, or the product of two. */
export type DoseTerm = Readonly<{
  term: string;
  axes: readonly DoseAxis[];
  /** Slope inside studies with the other terms held still; per unit, or per unit of both. */
  within: SlopeAnswer;
  /** Multiple correlation of its variation inside studies with the other terms', 0–1. */
  correlationWithOthers?: number | undefined;
}>;

export type SeveralDoses = Readonly<{
  kind: "several doses";
  axes: readonly DoseAxis[];
  terms: readonly DoseTerm[];
  pairs: readonly CollinearPair[];
  /** Doses the products are centred at: the mean of the arms, axis by axis. */
  centres: readonly number[];
  effects: number;
  studies: number;
  confidence: number;
  notes: readonly Note[];
}>;

export type SeveralDosesOptions = Readonly<{
  /** Pairs whose product enters, e.g. intensity × hold. */
  interactions?: readonly (readonly [DoseAxisName, DoseAxisName])[];
  confidence?: number;
}>;

export const severalDosesDefaults = {
  interactions: [],
  confidence: 0.95,
} as const satisfies Required<SeveralDosesOptions>;

/**
 * Slopes of several doses at once, inside studies, with products where asked for.
 *
 *   y_ij = α + Σ_k β_k (x_ijk − m_ik) + Σ β_kl (p_ijkl − mean_i p_kl) + Σ_k γ_k m_ik + random parts + e
 *   p_kl = (x_k − c_k)(x_l − c_l)
 *
 * m_ik is the mean of dose k in study i, c its mean over arms. A slope whose dose moves with the others
 * inside studies (multiple correlation of 0.8 or more) is refused: the two parts cannot be told apart. So is one
 * whose dose varies in fewer than three studies; its column stays in the model. Errors as in withinBetweenSlope.
 *
 * @param set    effects of one outcome family
 * @param names  two axes or more
 * @throws {CallError} "too-few-axes", "unknown-axis", "interaction-without-axis", "between-arms"
 * @source none: the model of withinBetweenSlope with more columns
 */
export const severalDoses = (
  set: EffectSet,
  names: readonly DoseAxisName[],
  options: SeveralDosesOptions = {},
): SeveralDoses => {
  const { interactions, confidence } = { ...severalDosesDefaults, ...options };
  const axes = names.map(doseAxisOf);
  checkCall(set, names, interactions);
  const subset = effectSubset(set, ({ row }) =>
    axes.every((axis) => doseOf(row, axis.name) !== undefined),
  );
  const { effects, covariances } = effectInputs(subset);
  const n = effects.length;
  const doses = axes.map((axis) =>
    Float64Array.from(subset.effects, ({ row }) => doseOf(row, axis.name)!.value),
  );
  const arms = armDosesOf(subset, axes);
  const centres = axes.map(
    (_, k) => arms.reduce((total, { values }) => total + values[k]!, 0) / Math.max(1, arms.length),
  );
  const pairsOf = interactions.map(([a, b]) => [names.indexOf(a), names.indexOf(b)] as const);
  const product = (values: readonly number[], [a, b]: readonly [number, number]): number =>
    (values[a]! - centres[a]!) * (values[b]! - centres[b]!);
  const withProducts = arms.map(({ study, values }) => ({
    study,
    values: [...values, ...pairsOf.map((pair) => product(values, pair))],
  }));
  const correlations = multipleCorrelations(
    splitArms(withProducts).flatMap(({ deviations }) => deviations),
  );
  const rowsOfDoses = Array.from({ length: n }, (_, row) => doses.map((list) => list[row]!));
  const combination = rowsOfDoses.map((values) => values.join(" "));
  const terms = [
    ...axes.map((axis, k) => ({ term: axis.label, axes: [axis], values: doses[k]! })),
    ...pairsOf.map((pair) => ({
      term: `${axes[pair[0]]!.label} × ${axes[pair[1]]!.label}`,
      axes: [axes[pair[0]]!, axes[pair[1]]!],
      values: Float64Array.from(rowsOfDoses, (values) => product(values, pair)),
    })),
  ];
  const columns: Readonly<{ values: Float64Array; unit: number; term: number | undefined }>[] = [];
  const add = (values: Float64Array, term: number | undefined): void => {
    const unit = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    const size = terms[term ?? 0]?.values.reduce((m, v) => Math.max(m, Math.abs(v)), 0) ?? 1;
    if (unit > 1e-10 * size) columns.push({ values, unit, term });
  };
  const means = terms.map(({ values }) => studyMeansOf(effects, numbersOf(combination), values));
  terms.forEach(({ values }, k) =>
    add(
      values.map((value, row) => value - means[k]![row]!),
      k,
    ),
  );
  axes.forEach((_, k) => {
    const centre = means[k]!.reduce((total, value) => total + value, 0) / Math.max(1, n);
    add(
      means[k]!.map((value) => value - centre),
      undefined,
    );
  });
  const p = columns.length + 1;
  const refusals = terms.map(({ term, axes: own, values }, k): Refusal | undefined => {
    const support = doseSupport(effects, values);
    const few = withinRefusal(support, { ...own[0]!, label: term });
    if (few !== undefined) return few;
    const r = correlations[k]!;
    return r >= notToldApart
      ? refusal(
          "cannot-be-separated",
          `inside studies ${term} moves with the other doses (multiple correlation ${r.toFixed(2)}): their parts cannot be told apart`,
        )
      : undefined;
  });
  const notes: Note[] = [];
  if (subset.effects.length < set.effects.length) {
    notes.push({
      code: "dose-unknown",
      message: `${set.effects.length - n} of ${set.effects.length} effects are left out because not all of these doses are known`,
    });
  }
  const fitted = fit();
  return {
    kind: "several doses",
    axes,
    pairs: collinearity(subset, names),
    centres,
    effects: n,
    studies: new Set(effects.map(({ study }) => study)).size,
    confidence,
    notes,
    terms: terms.map(({ term, axes: own }, k) => ({
      term,
      axes: own,
      correlationWithOthers: Number.isNaN(correlations[k] ?? NaN) ? undefined : correlations[k],
      within: refusals[k] ?? slopeOf(k, term),
    })),
  };

  function fit():
    Readonly<{ mixed: MixedFit; robust: ClusterRobust; kept: readonly number[] }> | Refusal {
    const values = new Float64Array(n * p);
    for (let row = 0; row < n; row++) {
      values[row * p] = 1;
      columns.forEach((column, j) => (values[row * p + 1 + j] = column.values[row]! / column.unit));
    }
    const whole: Matrix = { rows: n, columns: p, values };
    if (n <= p + 1) {
      return refusal("too-few-effects", `${n} effects are too few for ${p - 1} columns of doses`);
    }
    const model = mixedModel(effects, covariances);
    const aliased = new Set(model.aliased(whole));
    const kept = Array.from({ length: p }, (_, j) => j).filter((j) => !aliased.has(j));
    const design: Matrix = {
      rows: n,
      columns: kept.length,
      values: Float64Array.from({ length: n * kept.length }, (_, at) => {
        const row = Math.floor(at / kept.length);
        return values[row * p + kept[at % kept.length]!]!;
      }),
    };
    try {
      const mixed = model.fit(design);
      const robust = model.robust(design, mixed);
      return robust === undefined
        ? refusal("one-study", "one study alone has no errors robust by study")
        : { mixed, robust, kept };
    } catch (error) {
      if (error instanceof ConvergenceError) return didNotSettle;
      throw error;
    }
  }

  function slopeOf(k: number, term: string): SlopeAnswer {
    if (!("mixed" in fitted)) return fitted;
    const column = columns.findIndex((one) => one.term === k);
    const place = fitted.kept.indexOf(column + 1);
    if (column < 0 || place < 0) {
      return refusal(
        "cannot-be-separated",
        `${term} is a sum of the other doses inside studies: their parts cannot be told apart`,
      );
    }
    const { mixed, robust, kept } = fitted;
    const { unit } = columns[column]!;
    const q = kept.length;
    const contrast = Array.from({ length: q }, (_, j) => (j === place ? 1 : 0));
    const freedom = robust.degreesOfFreedom(contrast);
    if (!(freedom >= 1)) {
      return refusal(
        "too-few-studies",
        `too few studies stand behind ${term} for an honest interval`,
      );
    }
    const estimate = mixed.coefficients[place]! / unit;
    const errorOf = (matrix: Matrix): number =>
      Math.sqrt(Math.max(0, matrix.values[place * q + place]!)) / unit;
    return {
      kind: "told",
      robust: coefficient(term, estimate, errorOf(robust.covariance), freedom, confidence),
      model: coefficient(term, estimate, errorOf(mixed.covariance), n - q, confidence),
    };
  }
};

/** Numbers that are equal where texts are. */
const numbersOf = (texts: readonly string[]): Float64Array => {
  const places = new Map<string, number>();
  for (const text of texts) if (!places.has(text)) places.set(text, places.size);
  return Float64Array.from(texts, (text) => places.get(text)!);
};

const checkCall = (
  set: EffectSet,
  names: readonly DoseAxisName[],
  interactions: readonly (readonly [DoseAxisName, DoseAxisName])[],
): void => {
  const refuse = (code: CallErrorCode, needs: string, got: string): never => {
    throw new CallError({ code, where: "several doses together", needs, got });
  };
  if (new Set(names).size < 2 || new Set(names).size < names.length) {
    refuse("too-few-axes", "two different axes or more", names.join(", ") || "none");
  }
  for (const [a, b] of interactions) {
    if (!names.includes(a) || !names.includes(b) || a === b) {
      refuse("interaction-without-axis", "products of two of the axes asked for", `${a} × ${b}`);
    }
  }
  if (set.contrast === "between-arms") {
    refuse(
      "between-arms",
      "changes within arms or arms against a control",
      "contrasts of two trained arms, which have two doses each",
    );
  }
};
