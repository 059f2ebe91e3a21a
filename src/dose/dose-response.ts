import { CallError, type Note } from "../errors.js";
import type { EffectSet } from "../effects/effect.js";
import { randomStream } from "../numeric/random-stream.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import {
  componentHeight,
  evaluateCurve,
  type AveragedCurve,
  type CurveComponent,
} from "./averaged-curve.js";
import { curveComponent } from "./curve-component.js";
import { curveDesign, type CurveUse } from "./curve-design.js";
import { curveDraws } from "./curve-draws.js";
import { doseAxisOf, type DoseAxisName } from "./dose-axes.js";
import { doseData, type DoseData } from "./dose-data.js";
import { doseEvidence, doseStory } from "./dose-response-words.js";
import type {
  ComparedShape,
  CurveGridPoint,
  DoseCurve,
  DoseResponse,
} from "./dose-response-result.js";
import { fitShape, type DesignOf, type ShapeFit } from "./fit-shape.js";
import {
  axisRefusal,
  betweenRefusal,
  doseText,
  withinRefusal,
  type Refusal,
} from "./identifiability.js";
import { mixedModel, type MixedModel } from "./mixed-model.js";
import { readOffs } from "./read-offs.js";
import { shapeContext } from "./shapes/shape-context.js";
import type { Shape, ShapeContext, ShapeName } from "./shapes/shape.js";
import { shapes as everyShape, usualShapes } from "./shapes/shapes.js";
import { simultaneousMultiple } from "./simultaneous-multiple.js";
import { shapeRefusal } from "./shape-refusal.js";
import { criterionWeights, smallSampleCriterion } from "./shape-weights.js";
import { twoStageCheck, twoStageCurve } from "./two-stage-check.js";
import { withinBetweenSlopeOf } from "./within-between-slope.js";

export type DoseResponseOptions = Readonly<{
  /** Shapes compared. */
  shapes?: readonly ShapeName[];
  /** Knots of the spline in the axis's unit; by percentile of the arms where not given. */
  knots?: readonly number[];
  /** Which comparisons the curve is made of; `best identified` takes those inside studies where it can. */
  comparisons?: CurveUse | "best identified";
  /**
   * `two-stage`: a curve for each study, then their average, for the first shape asked for that has no curved
   * parameter; its level is the one-stage model's.
   */
  form?: "one-stage" | "two-stage";
  confidence?: number;
  /** Doses at which a step is read off; the lowest, the middle and the highest dose with room for one where not given. */
  stepsFrom?: readonly number[];
  /** Length of the step in the axis's unit; the axis's own where not given. */
  step?: number;
  /** Seed of the drawn curves. */
  seed?: number;
  /** Number of drawn curves. */
  draws?: number;
}>;

export const doseResponseDefaults = {
  shapes: usualShapes,
  comparisons: "best identified",
  form: "one-stage",
  confidence: 0.95,
  seed: 20251,
  draws: 2000,
} as const satisfies DoseResponseOptions;

/** Doses on the curve's grid inside the supported range, and on either side of it. */
const gridSize = 61;
const outerGridSize = 9;
/** A shape with a smaller weight than this cannot be seen in the average and is left out of it. */
const leastWeight = 0.001;

/**
 * How the gain follows a dose: shapes compared and averaged, with bands, read-offs, or a refusal.
 *
 * One mixed model (random study, arm and effect, known sampling covariances) holds every shape. Where enough studies
 * compare doses head to head the curve is made of those comparisons alone, with the studies' mean doses kept
 * apart; otherwise it rests on differences between studies, and says so. Shapes are compared by maximum
 * likelihood and a small-sample criterion; the curve is their weighted average, its band holds the choice of shape.
 *
 * @param set    changes within arms, or arms against a control, of one outcome family
 * @param on     the axis
 * @throws {CallError} "unknown-axis", "between-arms", "unknown-shape", "bad-knots"
 * @source Crippa et al. (2019) Statistical Methods in Medical Research 28:1579–1596; Buckland, Burnham and
 *   Augustin (1997) Biometrics 53:603–618
 */
export const doseResponse = (
  set: EffectSet,
  on: DoseAxisName,
  options: DoseResponseOptions = {},
): DoseResponse => doseResponseOf(doseData(set, doseAxisOf(on)), options);

type Resolved = DoseResponseOptions &
  Required<Omit<DoseResponseOptions, "knots" | "stepsFrom" | "step">>;

/**
 * The same for effects whose doses are already worked out.
 * @source none: the body of doseResponse
 */
export const doseResponseOf = (data: DoseData, options: DoseResponseOptions = {}): DoseResponse => {
  const resolved: Resolved = { ...doseResponseDefaults, ...options };
  for (const name of resolved.shapes) {
    if (!(name in everyShape)) {
      throw new CallError({
        code: "unknown-shape",
        where: "doseResponse",
        needs: `shapes among ${Object.keys(everyShape).join(", ")}`,
        got: `"${String(name)}"`,
      });
    }
  }
  const { axis, support } = data;
  const slopes = withinBetweenSlopeOf(data, { confidence: resolved.confidence });
  const base = {
    axis,
    scale: data.scale,
    contrast: data.contrast,
    confidence: resolved.confidence,
    slopes,
    support,
    points: data.effects.map((effect, row) => ({
      effectId: effect.effectId,
      study: effect.study,
      arm: effect.arm ?? effect.effectId,
      dose: data.doses[row]!,
      estimate: effect.estimate,
      standardError: Math.sqrt(effect.variance),
      isMidpoint: data.midpoints[row]!,
    })),
    effects: data.effects.length,
    studies: support.studies,
    people: data.people,
    notes: data.notes,
  };
  const use = chosenUse(data, resolved.comparisons);
  if (typeof use !== "string") return { ...base, identified: false, missing: use.missing };
  const range: Interval =
    use === "within studies"
      ? support.rangeWithin!
      : { low: support.lowest, high: support.highest };
  const context = shapeContext(armDoses(data, use), resolved.knots);
  const model = mixedModel(data.effects, data.covariances);
  const designOf: DesignOf = (columns) => curveDesign(data, use, columns);
  const compared = compareShapes(model, designOf, context, data, use, resolved.shapes);
  const kept = withWeight(compared);
  if (kept.length === 0) {
    return {
      ...base,
      identified: false,
      missing: `no shape can be fitted on ${axis.label}: ${support.arms} arms in ${support.studies} studies are too few`,
    };
  }
  const notes: Note[] = [...data.notes];
  const modelFreedom = Math.max(
    1,
    (use === "within studies" ? support.studiesWithin : support.studies) - 1,
  );
  const components = kept.map(({ fit, weight }) =>
    curveComponent(model, fit!, { context, designOf, weight, range, modelFreedom }),
  );
  if (components.some(({ errors }) => errors === "of the model")) {
    notes.push({
      code: "model-errors",
      message:
        "some shapes rest on too few studies for errors robust by study; the model's own errors are used for them",
    });
  }
  let averaged: AveragedCurve = {
    context,
    confidence: resolved.confidence,
    components: components.map(({ component }) => component),
  };
  if (resolved.form === "two-stage") {
    const own = twoStageAverage(data, averaged, resolved.shapes, kept);
    if (!own.identified) return { ...base, identified: false, missing: own.missing };
    averaged = own.averaged;
    notes.push(own.note);
  }
  const inside = evenGrid(range, gridSize);
  const draws = curveDraws(averaged, inside, resolved.draws, randomStream(resolved.seed));
  const multiple = simultaneousMultiple(averaged, draws, resolved.confidence);
  const step = resolved.step ?? axis.step;
  return {
    ...base,
    identified: true,
    form: resolved.form,
    evidence: use,
    evidenceWords: doseEvidence(data, use),
    range,
    shapes: compared.map(({ row }) => row),
    averaged,
    curve: gridOf(averaged, range, support, multiple),
    shapeCurves: averaged.components.map((component) => ({
      shape: component.shape,
      weight: component.weight,
      heights: inside.map((dose) => componentHeight(component, context, dose)),
    })),
    simultaneousMultiple: multiple,
    readOffs: readOffs(averaged, draws, {
      step,
      from: resolved.stepsFrom ?? usualSteps(range, step),
    }),
    twoStage: twoStageCheck(data, resolved.confidence),
    varianceByLevel: components[0]!.fit.varianceByLevel,
    notes: [...notes, ...contextNotes(slopes.difference, data)],
    story: doseStory(data, use, resolved, model, notes),
  };
};

const chosenUse = (data: DoseData, wanted: CurveUse | "best identified"): CurveUse | Refusal => {
  const { support, axis } = data;
  const whole = axisRefusal(support, axis);
  if (whole !== undefined) return whole;
  const within = withinRefusal(support, axis);
  const between = betweenRefusal(support, axis);
  if (wanted === "within studies") return within ?? wanted;
  if (wanted !== "best identified")
    return between === undefined || within === undefined ? wanted : between;
  if (within === undefined) return "within studies";
  if (between === undefined) return "between studies only";
  return { identified: false, missing: `${within.missing}; and ${between.missing}` };
};

/** Doses of the arms, an arm counted once at each; inside studies, of the studies that compare doses. */
const armDoses = (data: DoseData, use: CurveUse): readonly number[] => {
  const distinct = new Map<string, Set<number>>();
  data.effects.forEach(({ study }, row) => {
    const doses = distinct.get(study) ?? new Set<number>();
    distinct.set(study, doses.add(data.doses[row]!));
  });
  const seen = new Map<string, number>();
  data.effects.forEach((effect, row) => {
    if (use === "within studies" && distinct.get(effect.study)!.size < 2) return;
    seen.set(`${effect.study}\u0000${effect.arm ?? ""}\u0000${data.doses[row]!}`, data.doses[row]!);
  });
  return [...seen.values()];
};

type Compared = Readonly<{ row: ComparedShape; fit: ShapeFit | undefined; weight: number }>;

const compareShapes = (
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
const withWeight = (compared: readonly Compared[]): readonly Compared[] => {
  const counted = compared.filter(({ fit, weight }) => fit !== undefined && weight >= leastWeight);
  const total = counted.reduce((sum, { weight }) => sum + weight, 0);
  return counted.map((one) => ({ ...one, weight: one.weight / total }));
};

const evenGrid = ({ low, high }: Interval, size: number): readonly number[] =>
  Array.from({ length: size }, (_, i) => low + ((high - low) * i) / (size - 1));

const gridOf = (
  averaged: AveragedCurve,
  range: Interval,
  support: DoseData["support"],
  multiple: number,
): readonly CurveGridPoint[] => {
  const before =
    support.lowest < range.low
      ? evenGrid({ low: support.lowest, high: range.low }, outerGridSize).slice(0, -1)
      : [];
  const after =
    support.highest > range.high
      ? evenGrid({ low: range.high, high: support.highest }, outerGridSize).slice(1)
      : [];
  return [...before, ...evenGrid(range, gridSize), ...after].map((dose) => {
    const { estimate, standardError, interval } = evaluateCurve(averaged, dose);
    const half = multiple * standardError;
    return {
      dose,
      estimate,
      standardError,
      interval,
      simultaneous: { low: estimate - half, high: estimate + half },
      supported: dose >= range.low && dose <= range.high,
    };
  });
};

const usualSteps = ({ low, high }: Interval, step: number): readonly number[] => {
  const last = high - step;
  if (last < low) return [];
  const places = [low, low + (last - low) / 2, last];
  return [...new Set(places.map((place) => Number(place.toPrecision(12))))];
};

const twoStageAverage = (
  data: DoseData,
  averaged: AveragedCurve,
  names: readonly ShapeName[],
  kept: readonly Compared[],
): Readonly<{ identified: true; averaged: AveragedCurve; note: Note }> | Refusal => {
  const straight = names.filter((name) => {
    const shape: Shape = everyShape[name];
    return shape.parameter === undefined && shape.columns(averaged.context) > 0;
  });
  const name = straight.find((one) => kept.some(({ row }) => row.name === one));
  const component = averaged.components.find(({ shape }) => shape === name);
  if (name === undefined || component === undefined) {
    return {
      identified: false,
      missing:
        "the two-stage form needs a shape without a curved parameter that the file identifies",
    };
  }
  const own = twoStageCurve(data, (dose) => everyShape[name].basis(dose, averaged.context, 0));
  if (!own.identified) return own;
  const { coefficients, covariance } = own.pooled;
  const q = coefficients.length;
  const size = q + 1;
  const freedom = Math.max(1, own.studies - q);
  const single: CurveComponent = {
    ...component,
    weight: 1,
    coefficients: [component.coefficients[0]!, ...coefficients],
    covariance: Array.from({ length: size * size }, (_, at) => {
      const [i, j] = [Math.floor(at / size), at % size];
      if (i === 0 && j === 0) return component.covariance[0]!;
      return i === 0 || j === 0 ? 0 : covariance.values[(i - 1) * q + j - 1]!;
    }),
    heightFreedom: [{ dose: averaged.context.low, degreesOfFreedom: freedom }],
    stepFreedom: freedom,
  };
  return {
    identified: true,
    averaged: { ...averaged, components: [single] },
    note: {
      code: "two-stage",
      message: `the curve is the average of ${own.studies} studies' own curves (${name}); its level is the one-stage model's`,
    },
  };
};

const contextNotes = (
  difference: DoseCurve["slopes"]["difference"],
  { axis }: DoseData,
): readonly Note[] =>
  difference.identified && difference.robust.p < 0.05
    ? [
        {
          code: "between-differs-from-within",
          message: `studies that train at a higher ${axis.label} differ in more than that: the slope between studies is not the slope inside them, and only the one inside is the dose's own`,
        },
      ]
    : [];
