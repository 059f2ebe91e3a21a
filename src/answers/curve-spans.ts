/** What the curve of a single dose gives over a span, as the question `dose` fits it, for two protocols that differ in it alone. */
import { curveStep } from "../dose/averaged-curve.js";
import type { DoseAxisName } from "../dose/dose-axes.js";
import { doseResponse, type DoseResponse } from "../dose/dose-response.js";
import type { EffectSet } from "../effects/effect.js";
import type { CompareOptions } from "../projection/compare-protocols.js";
import { counted } from "../tables/number-format.js";
import { shownDose } from "../tables/shown-dose.js";
import { unsettled } from "./unsettled.js";

/** Curves of single doses, as `dose` fits them, each once. */
export const curvesOf = (set: EffectSet): NonNullable<CompareOptions["curveOn"]> => {
  const made = new Map<DoseAxisName, DoseResponse | undefined>();
  const curve = (axis: DoseAxisName): DoseResponse | undefined => {
    if (made.has(axis)) return made.get(axis);
    let fitted: DoseResponse | undefined;
    try {
      fitted = doseResponse(set, axis);
    } catch (error) {
      unsettled(error);
    }
    made.set(axis, fitted);
    return fitted;
  };
  return (axis, from, to) => {
    const answer = curve(axis);
    if (answer?.kind !== "told") return undefined;
    const { low, high } = answer.range;
    if (Math.min(from, to) < low || Math.max(from, to) > high) return undefined;
    const { estimate, interval } = curveStep(answer.averaged, from, to);
    const { studiesWithin } = answer.support;
    return {
      axis,
      label: answer.axis.label,
      first: shownDose(to, answer.axis),
      second: shownDose(from, answer.axis),
      estimate,
      interval,
      evidence:
        answer.evidence === "within studies"
          ? `from ${counted(studiesWithin, "study", "studies")} that compared it directly`
          : answer.evidenceWords,
    };
  };
};
