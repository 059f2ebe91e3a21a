import { CallError, type Note } from "../errors.js";
import type { EffectSet } from "../effects/effect.js";
import { randomStream } from "../numeric/random-stream.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { componentHeight, type AveragedCurve } from "./averaged-curve.js";
import { chooseComparisons, comparedDoses } from "./identifiability.js";
import { compareShapes, shapesThatCount } from "./compare-shapes.js";
import { curveComponent } from "./curve-component.js";
import { curveDesign, type CurveUse } from "./curve-design.js";
import { curveDraws } from "./curve-draws.js";
import { curveGrid, gridDoses, usualStepPlaces } from "./curve-grid.js";
import { doseAxisOf, type DoseAxisName } from "./dose-axes.js";
import { doseData, type DoseData } from "./dose-data.js";
import { contextNotes, doseEvidence, doseStory } from "./dose-response-words.js";
import type { DoseResponse } from "./dose-response-result.js";
import type { DesignOf } from "./fit-shape.js";
import { mixedModel } from "./mixed-model.js";
import { readOffs } from "./read-offs.js";
import { shapeContext } from "./shapes/shape-context.js";
import type { ShapeName } from "./shapes/shape.js";
import { shapes as everyShape, usualShapes } from "./shapes/shapes.js";
import { simultaneousMultiple } from "./simultaneous-multiple.js";
import { twoStageAverage } from "./two-stage-average.js";
import { twoStageCheck } from "./two-stage-check.js";
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
  const use = chooseComparisons(data, resolved.comparisons);
  if (typeof use !== "string") return { ...base, identified: false, missing: use.missing };
  const range: Interval =
    use === "within studies"
      ? support.rangeWithin!
      : { low: support.lowest, high: support.highest };
  const context = shapeContext(comparedDoses(data, use), resolved.knots);
  const model = mixedModel(data.effects, data.covariances);
  const designOf: DesignOf = (columns) => curveDesign(data, use, columns);
  const compared = compareShapes(model, designOf, context, data, use, resolved.shapes);
  const kept = shapesThatCount(compared);
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
  const inside = gridDoses(range);
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
    curve: curveGrid(averaged, range, support, multiple),
    shapeCurves: averaged.components.map((component) => ({
      shape: component.shape,
      weight: component.weight,
      heights: inside.map((dose) => componentHeight(component, context, dose)),
    })),
    simultaneousMultiple: multiple,
    readOffs: readOffs(averaged, draws, {
      step,
      from: resolved.stepsFrom ?? usualStepPlaces(range, step),
    }),
    twoStage: twoStageCheck(data, resolved.confidence),
    varianceByLevel: components[0]!.fit.varianceByLevel,
    notes: [...notes, ...contextNotes(slopes.difference, data)],
    story: doseStory(data, use, resolved, model, notes),
  };
};
