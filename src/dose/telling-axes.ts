import type { EffectSet } from "../effects/effect.js";
import { doseAxes, usualAxes, type DoseAxis, type DoseAxisName } from "./dose-axes.js";
import { doseData, type DoseData } from "./dose-data.js";
import type { DoseSupport } from "./dose-support.js";
import { axisRefusal, betweenRefusal, withinRefusal } from "./identifiability.js";

/** What a file can tell about one axis, before any model. */
export type AxisPromise = Readonly<{
  axis: DoseAxis;
  support: DoseSupport;
  /** Which comparisons there are enough of; `none` with the reason. */
  evidence: "within studies" | "between studies only" | "none";
  /** What is missing for a curve from comparisons inside studies, or for any. */
  missing?: string;
}>;

const rank = { "within studies": 0, "between studies only": 1, none: 2 } as const;

const promiseOf = (data: DoseData): AxisPromise => {
  const { axis, support } = data;
  const whole = axisRefusal(support, axis);
  if (whole !== undefined) return { axis, support, evidence: "none", missing: whole.reason };
  const within = withinRefusal(support, axis);
  if (within === undefined) return { axis, support, evidence: "within studies" };
  const between = betweenRefusal(support, axis);
  return between === undefined
    ? { axis, support, evidence: "between studies only", missing: within.reason }
    : { axis, support, evidence: "none", missing: `${within.reason}; and ${between.reason}` };
};

/**
 * The axes of a file, the most telling first.
 *
 * Axes that enough studies compare inside themselves come before those that only tell studies apart, and those before
 * axes with no answer. Within the first kind more comparing studies come first, then more doses compared; within
 * the second more studies. Nothing is fitted, so no axis is chosen for its result.
 *
 * @param set   effects of one outcome family
 * @param names axes looked at
 * @source none: our rule
 */
export const tellingAxes = (
  set: EffectSet,
  names: readonly DoseAxisName[] = usualAxes,
): readonly AxisPromise[] =>
  names
    .map((name) => promiseOf(doseData(set, doseAxes[name])))
    .map((promise, place) => ({ promise, place }))
    .sort((a, b) => {
      const [first, second] = [a.promise, b.promise];
      const kinds = rank[first.evidence] - rank[second.evidence];
      if (kinds !== 0) return kinds;
      const [one, other] = [first.support, second.support];
      const inside = first.evidence === "within studies";
      const studies = inside
        ? other.studiesWithin - one.studiesWithin
        : other.studies - one.studies;
      return studies || other.dosesWithin - one.dosesWithin || a.place - b.place;
    })
    .map(({ promise }) => promise);
