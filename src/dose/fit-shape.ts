/** One shape fitted by maximum likelihood, its curved parameter looked for by profile. */
import { CallError, ConvergenceError, refusal, type Refusal } from "../errors.js";
import { minimiseScalar } from "../numeric/minimise-scalar.js";
import { didNotSettle } from "./identifiability.js";
import type { CurveDesign } from "./curve-design.js";
import type { MixedFit, MixedModel } from "./mixed-model.js";
import type { Shape, ShapeContext } from "./shapes/shape.js";

export type ShapeFit = Readonly<{
  kind: "told";
  shape: Shape;
  /** The curved parameter where the likelihood is highest; absent for shapes without one. */
  parameter?: number;
  /** True when the parameter stands at an end of the places it was looked for. */
  atBound: boolean;
  /** Maximum likelihood, all parameters free. */
  logLikelihood: number;
  /** Coefficients, curved parameter and variances. */
  parameters: number;
  design: CurveDesign;
  fit: MixedFit;
}>;

/** How columns become a design; the same for every shape that is compared. */
export type DesignOf = (columns: (dose: number) => readonly number[]) => CurveDesign;

/** Rounds of looking for the parameter and the variances in turn. */
const rounds = 5;
const settledLikelihood = 1e-6;

/**
 * The shape's maximum likelihood fit, or why there is none.
 *
 * The curved parameter p is looked for on its candidates with the variances held, then refined between the
 * neighbours of the best one; variances and p are renewed in turn until the likelihood rises by less than 1e-6.
 *
 * @param designOf from columns to a design; every shape compared uses the same
 * @source none: profile likelihood with a linear mixed model inside
 */
export const fitShape = (
  model: MixedModel,
  designOf: DesignOf,
  shape: Shape,
  context: ShapeContext,
): ShapeFit | Refusal => {
  const at = (parameter: number): CurveDesign =>
    designOf((dose) => shape.basis(dose, context, parameter));
  try {
    const first = shape.parameter?.candidates(context) ?? [0];
    const chosen = shape.parameter === undefined ? undefined : search(model, at, shape, first);
    if (shape.parameter !== undefined && chosen === undefined) {
      return refusal("bends-the-other-way", "the effects bend the other way at every place tried");
    }
    const design = at(chosen?.parameter ?? 0);
    if (model.aliased(design.design).length > 0) return aliased(shape);
    const fit = model.fit(design.design, { likelihood: "maximum-likelihood" });
    return {
      kind: "told",
      shape,
      ...(chosen === undefined ? {} : { parameter: chosen.parameter }),
      atBound: chosen?.atBound ?? false,
      logLikelihood: fit.logLikelihood,
      parameters:
        design.design.columns + model.levels.length + (shape.parameter === undefined ? 0 : 1),
      design,
      fit,
    };
  } catch (error) {
    if (error instanceof ConvergenceError) return didNotSettle;
    if (error instanceof CallError && error.code === "aliased-columns") return aliased(shape);
    throw error;
  }
};

const aliased = (shape: Shape): Refusal =>
  refusal("cannot-be-separated", `the doses do not tell the parts of the ${shape.label} apart`);

const search = (
  model: MixedModel,
  at: (parameter: number) => CurveDesign,
  shape: Shape,
  candidates: readonly number[],
): Readonly<{ parameter: number; atBound: boolean }> | undefined => {
  let best = { parameter: candidates[0]!, logLikelihood: -Infinity };
  const usable = candidates.filter((candidate) => model.aliased(at(candidate).design).length === 0);
  if (usable.length === 0) return { parameter: candidates[0]!, atBound: true };
  const middle = usable[Math.floor(usable.length / 2)]!;
  let variances = model.fit(at(middle).design, { likelihood: "maximum-likelihood" }).fit.variances;
  for (let round = 0; round < rounds; round++) {
    const held = model.heldLikelihood(variances);
    const mustRise = shape.rises === true ? 1 : undefined;
    const holding = (parameter: number): number => held(at(parameter).design, mustRise);
    const heights = usable.map(holding);
    let top = 0;
    heights.forEach((height, i) => {
      if (height > heights[top]!) top = i;
    });
    if (heights[top] === -Infinity) return undefined;
    let parameter = usable[top]!;
    if (shape.parameter!.kind === "dose") {
      const low = usable[Math.max(0, top - 1)]!;
      const high = usable[Math.min(usable.length - 1, top + 1)]!;
      const refined = minimiseScalar((value) => -holding(value), low, high);
      if (-refined.value > heights[top]!) parameter = refined.x;
    }
    const fitted = model.fit(at(parameter).design, { likelihood: "maximum-likelihood" });
    const gain = fitted.logLikelihood - best.logLikelihood;
    if (gain > 0) best = { parameter, logLikelihood: fitted.logLikelihood };
    variances = fitted.fit.variances;
    if (model.levels.length === 0 || !(gain > settledLikelihood)) break;
  }
  const span = Math.abs(candidates.at(-1)! - candidates[0]!);
  const near = (end: number): boolean => Math.abs(best.parameter - end) <= 1e-6 * span;
  return {
    parameter: best.parameter,
    atBound: shape.parameter!.kind === "dose" && (near(candidates[0]!) || near(candidates.at(-1)!)),
  };
};
