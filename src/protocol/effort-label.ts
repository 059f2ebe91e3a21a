import { effectiveIntensityPercent } from "./effective-intensity.js";
import type { Prescription } from "./prescription.js";

/** Above this percentage of MVC an effort is called near-maximal: common practice, no source. */
export const nearMaximalAbovePercent = 90;

/**
 * The word for an effort, for labels only; no calculation rests on it.
 *
 * `maximal` when the prescription says so or reaches 100 %; `near-maximal` above 90 % (common
 * practice, no source); otherwise `submaximal`; undefined when the effort is not known in %MVC.
 */
export const effortLabel = (
  p: Prescription,
): "maximal" | "near-maximal" | "submaximal" | undefined => {
  const intensity = effectiveIntensityPercent(p);
  if (p.intensityBasis === "maximal effort" || (intensity !== undefined && intensity >= 100))
    return "maximal";
  if (intensity === undefined) return undefined;
  return intensity > nearMaximalAbovePercent ? "near-maximal" : "submaximal";
};
