/** Every shape asked for fitted to the same effects by maximum likelihood, with its weight or why it was not tried. */
import type { CurveUse } from "./curve-design.js";
import type { DoseData } from "./dose-data.js";
import type { ComparedShape } from "./dose-response-result.js";
import { fitShape, type DesignOf, type ShapeFit } from "./fit-shape.js";
import { doseText } from "./identifiability.js";
import type { MixedModel } from "./mixed-model.js";
import { shapeRefusal } from "./shape-refusal.js";
import { criterionWeights, smallSampleCriterion } from "./shape-weights.js";
import type { Shape, ShapeContext, ShapeName } from "./shapes/shape.js";
import { shapes as everyShape } from "./shapes/shapes.js";

/** A shape with a smaller weight than this cannot be seen in the average and is left out of it. */
const leastWeight = 0.001;

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
  const criteria = tried.map(({ answer }) =>
    answer.identified
      ? smallSampleCriterion(answer.logLikelihood, answer.parameters, data.effects.length)
      : Infinity,
  );
  const weights = criterionWeights(criteria);
  return tried.map(({ shape, answer }, i): Compared => {
    const { name, label, meaning } = shape;
    if (!answer.identified) {
      return { row: { name, label, meaning, ...answer }, fit: undefined, weight: 0 };
    }
    if (criteria[i] === Infinity) {
      const missing = `has ${answer.parameters} parameters, too many for ${data.effects.length} effects`;
      return {
        row: { name, label, meaning, identified: false, missing },
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
        identified: true,
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

/** Shapes that count in the average, their weights adding up to one. */
export const shapesThatCount = (compared: readonly Compared[]): readonly Compared[] => {
  const counted = compared.filter(({ fit, weight }) => fit !== undefined && weight >= leastWeight);
  const total = counted.reduce((sum, { weight }) => sum + weight, 0);
  return counted.map((one) => ({ ...one, weight: one.weight / total }));
};
