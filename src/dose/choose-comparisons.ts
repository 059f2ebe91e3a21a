import type { CurveUse } from "./curve-design.js";
import type { DoseData } from "./dose-data.js";
import { axisRefusal, betweenRefusal, withinRefusal, type Refusal } from "./identifiability.js";

/**
 * The comparisons a curve is made of, or why there are none to make it of.
 *
 * @param wanted `best identified` takes comparisons inside studies where there are enough, else between studies
 * @source none: the rules of identifiability.ts in order
 */
export const chooseComparisons = (
  data: DoseData,
  wanted: CurveUse | "best identified",
): CurveUse | Refusal => {
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
export const comparedDoses = (data: DoseData, use: CurveUse): readonly number[] => {
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
