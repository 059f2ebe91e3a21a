/**
 * How long one hold can last: the power curves fitted to published endurance times, by joint, and
 * the band other studies' results are expected to fall in.
 */
import { CallError } from "../errors.js";
import type { EnduranceRegion } from "./regions.js";

/** Endurance time = scale × f^exponent; scale in seconds, f a share of MVC. */
export type EnduranceCurve = Readonly<{ scaleSeconds: number; exponent: number; rSquared: number }>;

/**
 * Published curves, fitted to 369 results of 194 publications (healthy adults, one joint, to
 * volitional failure), 10–100% of MVC, most of them above 25%.
 *
 * @source Frey Law LA, Avin KG (2010) Ergonomics 53:109–129, doi 10.1080/00140130903389068; the
 *   coefficients read in two public transcriptions that agree
 */
export const enduranceCurves: Readonly<Record<EnduranceRegion, EnduranceCurve>> = {
  general: { scaleSeconds: 21.92, exponent: -1.98, rSquared: 0.814 },
  ankle: { scaleSeconds: 34.71, exponent: -2.06, rSquared: 0.884 },
  trunk: { scaleSeconds: 22.69, exponent: -2.27, rSquared: 0.885 },
  elbow: { scaleSeconds: 17.98, exponent: -2.21, rSquared: 0.915 },
  hand: { scaleSeconds: 33.55, exponent: -1.61, rSquared: 0.748 },
  knee: { scaleSeconds: 19.38, exponent: -1.88, rSquared: 0.789 },
  shoulder: { scaleSeconds: 14.86, exponent: -1.83, rSquared: 0.897 },
};

/**
 * How far the 95% range of a further study lies from the mean curve, as a share of it: printed as a
 * range over joints and efforts, without saying which has which.
 *
 * @source Frey-Law LA, Looft JM, Heitsman J (2012) J Biomech 45:1803–1808 (discussion), read in a
 *   public transcription
 */
export const publishedSpread = { narrow: 0.29, wide: 0.47 } as const;

/** Efforts the curves were fitted to, percent of MVC; below, the curve is stretched past its data. */
export const fittedRangePercent = { low: 10, high: 100 } as const;

export type EnduranceTimeOptions = Readonly<{
  /**
   * Half-width of the band as a share of the time. The default is the wide end of the published
   * 29–47%, because which joint has which was not seen: the band can be too wide, not too narrow.
   */
  spread?: number;
}>;
export const enduranceTimeDefaults = {
  spread: publishedSpread.wide,
} as const satisfies Required<EnduranceTimeOptions>;

/** Time one hold can last, s, with the band (1 ∓ spread) × central; the band is about studies' means. */
export type EnduranceTime = Readonly<{
  lowSeconds: number;
  centralSeconds: number;
  highSeconds: number;
  /** Whether the effort lies inside the range the curves were fitted to. */
  inFittedRange: boolean;
}>;

/**
 * The time one sustained hold at an effort can last.
 *
 * t = scale × f^exponent seconds, f = effort / 100.
 *
 * @param intensityPercent percent of MVC, above 0 and up to 100
 * @throws {CallError} "outside-limits" for an effort or spread that is not possible
 * @source Frey Law & Avin (2010), see `enduranceCurves`; band: see `publishedSpread`
 * @example enduranceTime(50, "knee").centralSeconds // 71.3
 */
export const enduranceTime = (
  intensityPercent: number,
  region: EnduranceRegion,
  options: EnduranceTimeOptions = {},
): EnduranceTime => {
  const spread = options.spread ?? enduranceTimeDefaults.spread;
  if (!(intensityPercent > 0 && intensityPercent <= 100))
    throw new CallError({
      code: "outside-limits",
      where: "enduranceTime",
      needs: "an intensity above 0 and up to 100% of MVC",
      got: String(intensityPercent),
      ...(intensityPercent > 0 && intensityPercent <= 1
        ? { try: "is this a share rather than a percentage" }
        : {}),
    });
  if (!(spread >= 0 && spread < 1))
    throw new CallError({
      code: "outside-limits",
      where: "enduranceTime",
      needs: "a spread of at least 0 and below 1",
      got: String(spread),
    });
  const { scaleSeconds, exponent } = enduranceCurves[region];
  const centralSeconds = scaleSeconds * (intensityPercent / 100) ** exponent;
  return {
    lowSeconds: centralSeconds * (1 - spread),
    centralSeconds,
    highSeconds: centralSeconds * (1 + spread),
    inFittedRange: intensityPercent >= fittedRangePercent.low,
  };
};
