import type { CautionsBlock } from "../projection/cautions.js";
import type { PreparedProjection } from "../projection/prepare-projection.js";
import type { ProjectionInput } from "./projection-input.js";

/** What a projection rests on, for a JSON result: model, priors, predictors, spreads, doubts. */
export const projectionBasis = (
  prepared: PreparedProjection,
): Readonly<Record<string, unknown>> => {
  if (prepared.kind === "refusal") {
    const { goal, reason, notes } = prepared;
    return { goal, refused: reason, notes };
  }
  const { points: _points, ...individual } = prepared.individual;
  return {
    goal: prepared.goal,
    contrast: prepared.contrast,
    contrastWords: prepared.contrastWords,
    effects: prepared.effects,
    studies: prepared.studies,
    people: prepared.people,
    levels: prepared.levels,
    predictors: prepared.design.predictors,
    predictorsLeftOut: prepared.design.dropped,
    priors: Object.fromEntries(
      // A flat prior has no number; its word says so.
      Object.entries(prepared.priors).map(([name, value]) => [
        name,
        value === Infinity ? "flat" : value,
      ]),
    ),
    priorWords: prepared.priorWords,
    individualResponse: individual,
    measurementError: prepared.measurement ?? null,
    weeksStudied: prepared.weeksStudied,
    courseIsIdentified: prepared.courseIsIdentified,
    quadrature: prepared.quadrature,
    notes: prepared.notes,
  };
};

/** The file an answer rests on, for a JSON result. */
export const projectionSource = ({
  file,
  invented,
}: ProjectionInput): Readonly<Record<string, unknown>> => ({
  file: file.name,
  fingerprint: file.fingerprint,
  invented,
});

/** Cautions for a JSON result, without the state that serves one document only. */
export const cautionsJson = ({ shown: _shown, ...block }: CautionsBlock): unknown => block;
