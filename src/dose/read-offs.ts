/** Answers read off a curve, with intervals from draws of the whole curve. */
import { quantile } from "simple-statistics";
import { refusal, type Refusal } from "../errors.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { curveStep, evaluateCurve, type AveragedCurve, type CurvePoint } from "./averaged-curve.js";
import type { CurveDraws } from "./curve-draws.js";

export type BestDose = Readonly<{
  kind: "told";
  /** Dose with the largest predicted gain inside the supported range, and that gain. */
  dose: number;
  gain: CurvePoint;
  /** Where the draws' best doses fall; it often reaches an end of the range. */
  interval: Interval;
  /** Share of the draws in which no dose is better than another; they are left out of the interval. */
  drawsWithoutBest: number;
  /** The best dose stands at an end of the range: the best may lie beyond. */
  atEnd: "lowest" | "highest" | "neither";
}>;

export type ShareOfBest = Readonly<{
  kind: "told";
  share: number;
  /** Lowest dose whose predicted gain is at least that share of the best. */
  dose: number;
  interval: Interval;
  /** Draws without a gain above zero anywhere, as a share; they are left out of the interval. */
  drawsWithoutGain: number;
}>;

export type ReadOffs = Readonly<{
  best: BestDose | Refusal;
  ninetyPercent: ShareOfBest | Refusal;
  /** Stretches of doses whose gain cannot be told from the best one. */
  notDistinguishable: readonly Interval[];
  /** What is added from one end of the span to the other. */
  whole: CurveStretch;
  /** What a step adds at each of some places; `dose` is the place the step ends. */
  steps: readonly (CurveStretch & Readonly<{ step: number }>)[];
}>;

/** What the curve adds between two doses. */
export type CurveStretch = Readonly<{ from: number; to: number; added: CurvePoint }>;

const share = 0.9;

/**
 * Best dose, the dose of nine tenths of its gain, and the doses not distinguishable from it.
 *
 * All inside the supported range. Intervals are percentiles of the same quantity over drawn curves, because the
 * place of a maximum jumps to the ends of the range and has no useful standard error. A dose is not
 * distinguishable from the best when the interval of the draws' difference between the two holds zero.
 *
 * @param draws  on an ascending grid over the supported range
 * @param steps  step, the places it starts from, and the span over which the whole curve is told
 * @source Crippa and Orsini (2016) BMC Medical Research Methodology 16:91 (read-offs from a curve)
 */
export const readOffs = (
  curve: AveragedCurve,
  draws: CurveDraws,
  steps: Readonly<{ step: number; from: readonly number[]; span: Interval }>,
): ReadOffs => {
  const { doses, curves } = draws;
  const tail = (1 - curve.confidence) / 2;
  const heights = doses.map((dose) => evaluateCurve(curve, dose).estimate);
  const best = placeOfHighest(heights);
  const flat = isFlat(heights) || curves.every(isFlat);
  const bent = curves.filter((drawn) => !isFlat(drawn));
  const drawnBest = bent.map((drawn) => doses[placeOfHighest(drawn)]!);
  const fits: readonly Interval[] = flat
    ? [{ low: doses[0]!, high: doses.at(-1)! }]
    : stretches(
        doses,
        doses.map((_, i) => {
          if (i === best) return true;
          const differences = curves.map((drawn) => drawn[best]! - drawn[i]!);
          return quantile(differences, tail) <= 0;
        }),
      );
  const stretch = (from: number, to: number): CurveStretch => ({
    from,
    to,
    added: curveStep(curve, from, to),
  });
  const told = {
    notDistinguishable: fits,
    whole: stretch(steps.span.low, steps.span.high),
    steps: steps.from.map((from) => ({ ...stretch(from, from + steps.step), step: steps.step })),
  };
  if (flat) {
    const level = refusal("level-curve", "the curve is level: no dose is better than another");
    return { best: level, ninetyPercent: level, ...told };
  }
  const bestDose: BestDose = {
    kind: "told",
    dose: doses[best]!,
    gain: evaluateCurve(curve, doses[best]!),
    interval: { low: quantile(drawnBest, tail), high: quantile(drawnBest, 1 - tail) },
    drawsWithoutBest: 1 - bent.length / curves.length,
    atEnd: best === 0 ? "lowest" : best === doses.length - 1 ? "highest" : "neither",
  };
  return {
    best: bestDose,
    ninetyPercent: ninetyPercentOf(doses, heights, curves, tail),
    ...told,
  };
};

const isFlat = (heights: ArrayLike<number>): boolean => {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < heights.length; i++) {
    low = Math.min(low, heights[i]!);
    high = Math.max(high, heights[i]!);
  }
  return high - low <= 1e-9 * Math.max(Math.abs(low), Math.abs(high));
};

const placeOfHighest = (heights: ArrayLike<number>): number => {
  let best = 0;
  for (let i = 1; i < heights.length; i++) if (heights[i]! > heights[best]!) best = i;
  return best;
};

/** The lowest dose that reaches a share of the highest gain, between grid doses by a straight line. */
const doseOfShare = (doses: readonly number[], heights: ArrayLike<number>): number | undefined => {
  const target = share * heights[placeOfHighest(heights)]!;
  if (!(target > 0)) return undefined;
  for (let i = 0; i < heights.length; i++) {
    if (heights[i]! < target) continue;
    if (i === 0) return doses[0]!;
    const part = (target - heights[i - 1]!) / (heights[i]! - heights[i - 1]!);
    return doses[i - 1]! + part * (doses[i]! - doses[i - 1]!);
  }
  return undefined;
};

const ninetyPercentOf = (
  doses: readonly number[],
  heights: readonly number[],
  curves: readonly Float64Array[],
  tail: number,
): ShareOfBest | Refusal => {
  const dose = doseOfShare(doses, heights);
  const drawn = curves.flatMap((curve) => {
    const place = doseOfShare(doses, curve);
    return place === undefined ? [] : [place];
  });
  if (dose === undefined || drawn.length < curves.length / 2) {
    return refusal("no-gain", "no gain above zero is predicted with any confidence");
  }
  return {
    kind: "told",
    share,
    dose,
    interval: { low: quantile(drawn, tail), high: quantile(drawn, 1 - tail) },
    drawsWithoutGain: 1 - drawn.length / curves.length,
  };
};

const stretches = (doses: readonly number[], inside: readonly boolean[]): readonly Interval[] => {
  const found: Interval[] = [];
  let start: number | undefined;
  inside.forEach((here, i) => {
    if (here && start === undefined) start = doses[i]!;
    if (start !== undefined && (!here || i === inside.length - 1)) {
      found.push({ low: start, high: here ? doses[i]! : doses[i - 1]! });
      start = undefined;
    }
  });
  return found;
};
