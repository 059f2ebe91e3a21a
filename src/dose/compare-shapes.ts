/** Every shape asked for fitted to the same effects by maximum likelihood, with its weight or why it was not tried. */
import { refusal, type Refusal } from "../errors.js";
import type { CurveUse } from "./curve-design.js";
import type { DoseData } from "./dose-data.js";
import type { DoseSupport } from "./dose-support.js";
import { type DesignOf, type ShapeFit, fitShape } from "./fit-shape.js";
import { doseText, fewestStudiesWithin } from "./identifiability.js";
import type { MixedModel } from "./mixed-model.js";
import type { Shape, ShapeContext, ShapeName } from "./shapes/shape.js";
import { shapes as everyShape } from "./shapes/shapes.js";

/**
 * Small-sample information criterion and the weights it gives.
 *
 *   criterion = −2 ln L + 2k + 2k(k + 1)/(n − k − 1)      w_m = e^(−Δ_m/2) / Σ e^(−Δ/2)
 *   L = full likelihood at its maximum, k = coefficients, curved parameters and variances, n = effects
 *
 * n counts effects, the observations of the likelihood; k counts the variances too. Where n ≤ k + 1 the criterion has no value and the shape is not compared.
 *
 * @source Hurvich and Tsai (1989) Biometrika 76:297–307; Burnham and Anderson (2002) Model Selection and
 *   Multimodel Inference, section 2.9
 */
export const smallSampleCriterion = (
  logLikelihood: number,
  parameters: number,
  effects: number,
): number =>
  effects > parameters + 1
    ? -2 * logLikelihood +
      2 * parameters +
      (2 * parameters * (parameters + 1)) / (effects - parameters - 1)
    : Infinity;

/** Weights of finite criteria; zero for the others. */
export const criterionWeights = (criteria: readonly number[]): readonly number[] => {
  const lowest = Math.min(...criteria);
  if (lowest === Infinity) return criteria.map(() => 0);
  const shares = criteria.map((criterion) => Math.exp(-(criterion - lowest) / 2));
  const total = shares.reduce((sum, share) => sum + share, 0);
  return shares.map((share) => share / total);
};

/** Fewest studies behind a shape that bends in a way of its own (two columns, or a curved parameter). */
export const fewestStudiesForBend = 5;

/**
 * Why a shape is not tried on these doses, or undefined when it is.
 *
 * A shape with c columns and a curved parameter (counted 1) needs c + 1 + that many distinct doses among the
 * comparisons it is made of; one that bends in a way of its own also needs five studies. Shapes of one column
 * and no further parameter (line, logarithm, square root) need three studies. On two doses every curve is the
 * straight line, so all others need three.
 *
 * @source none: our rule
 */
export const shapeRefusal = (
  shape: Shape,
  context: ShapeContext,
  support: DoseSupport,
  use: CurveUse,
): Refusal | undefined => {
  const columns = shape.columns(context);
  if (columns === 0) return undefined;
  const bends = columns > 1 || shape.parameter !== undefined;
  const dosesNeeded =
    shape.name === "straight line"
      ? 2
      : Math.max(3, columns + 1 + (shape.parameter === undefined ? 0 : 1));
  const studiesNeeded = bends ? fewestStudiesForBend : fewestStudiesWithin;
  const inside = use === "within studies";
  const doses = inside ? support.dosesWithin : support.doses.length;
  const studies = inside ? support.studiesWithin : support.studies;
  const which = inside ? " compared inside studies" : "";
  if (doses < dosesNeeded) {
    return refusal(
      "too-few-doses",
      `needs ${dosesNeeded} distinct doses${which}, there are ${doses}`,
    );
  }
  if (studies < studiesNeeded) {
    return refusal(
      "too-few-studies",
      `needs ${studiesNeeded} studies${inside ? " that compare doses" : ""}, there are ${studies}`,
    );
  }
  return undefined;
};

/** A shape with a smaller weight than this cannot be seen in the average and is left out of it. */
const leastWeight = 0.001;

/** One shape in the comparison: fitted with its weight, or why it was not tried. */
export type ComparedShape = Readonly<{
  name: ShapeName;
  label: string;
  meaning: string;
}> &
  (
    | Readonly<{
        kind: "told";
        logLikelihood: number;
        parameters: number;
        /** Small-sample information criterion; lower is better. */
        criterion: number;
        weight: number;
        /** Its curved parameter in words and as a number, and whether it stands at the end of the search. */
        parameter?: Readonly<{ label: string; value: number; text: string; atBound: boolean }>;
      }>
    | Refusal
  );

export type Compared = Readonly<{ row: ComparedShape; fit: ShapeFit | undefined; weight: number }>;

/**
 * The shapes in the order asked for.
 *
 * @param designOf the same for all, so that they differ in nothing but their columns
 * @source none: see smallSampleCriterion
 */
export const compareShapes = (
  model: MixedModel,
  designOf: DesignOf,
  context: ShapeContext,
  data: DoseData,
  use: CurveUse,
  names: readonly ShapeName[],
): readonly Compared[] => {
  const tried = names.map((name) => {
    const shape: Shape = everyShape[name];
    const refusal = shapeRefusal(shape, context, data.support, use);
    return { shape, answer: refusal ?? fitShape(model, designOf, shape, context) };
  });
  const criteria = tried.map(({ answer: one }) =>
    one.kind !== "told"
      ? Infinity
      : tried.length === 1
        ? // A shape that stands alone is not compared, so that few effects are no bar to it.
          2 * (one.parameters - one.logLikelihood)
        : smallSampleCriterion(one.logLikelihood, one.parameters, data.effects.length),
  );
  const weights = criterionWeights(criteria);
  return tried.map(({ shape, answer }, i): Compared => {
    const { name, label, meaning } = shape;
    if (answer.kind === "refusal") {
      return { row: { name, label, meaning, ...answer }, fit: undefined, weight: 0 };
    }
    if (criteria[i] === Infinity) {
      const missing = `has ${answer.parameters} parameters, too many for ${data.effects.length} effects`;
      return {
        row: { name, label, meaning, kind: "refusal", code: "too-few-effects", reason: missing },
        fit: undefined,
        weight: 0,
      };
    }
    const { parameter } = answer;
    return {
      row: {
        name,
        label,
        meaning,
        kind: "told",
        logLikelihood: answer.logLikelihood,
        parameters: answer.parameters,
        criterion: criteria[i]!,
        weight: weights[i]!,
        ...(parameter === undefined || shape.parameter === undefined
          ? {}
          : {
              parameter: {
                label: shape.parameter.label,
                value: parameter,
                text: shape.parameter.text?.(parameter) ?? doseText(parameter, data.axis),
                atBound: answer.atBound,
              },
            }),
      },
      fit: answer,
      weight: weights[i]!,
    };
  });
};

/**
 * Shapes that count in the average, their weights adding up to one. Where there is any other, no effect at all is
 * compared but not averaged: it would draw every difference, and its interval, towards none.
 */
export const shapesThatCount = (compared: readonly Compared[]): readonly Compared[] => {
  const fitted = compared.filter(({ fit }) => fit !== undefined);
  const sloping = fitted.filter(({ row }) => row.name !== "none");
  const asked = sloping.length > 0 ? sloping : fitted;
  const all = asked.reduce((sum, { weight }) => sum + weight, 0);
  const counted = asked.filter(({ weight }) => weight >= leastWeight * all);
  const total = counted.reduce((sum, { weight }) => sum + weight, 0);
  return counted.map((one) => ({ ...one, weight: one.weight / total }));
};
