import { highest, lowest } from "./extent.js";
import type { EstimatesInput } from "./estimates-input.js";

/**
 * Ends of the effect axis: every estimate, the pooled intervals and zero are inside; most intervals are.
 *
 * An interval that runs very far would squeeze all others, so intervals may be cut where they pass
 * one and a half times the spread of the estimates beyond the outermost of them; the figure marks the cut and the
 * numbers beside it stay whole.
 */
export const effectDomain = (input: EstimatesInput): readonly [number, number] => {
  const { effects, pooled } = input;
  const inside = [0, ...effects.map(({ estimate }) => estimate)];
  if (pooled !== undefined) {
    inside.push(pooled.estimate, pooled.interval.low, pooled.interval.high);
    if (pooled.predictionInterval !== null) {
      inside.push(pooled.predictionInterval.low, pooled.predictionInterval.high);
    }
  }
  const halves = effects.map(({ low, high }) => (high - low) / 2).sort((a, b) => a - b);
  const usual = halves[Math.floor((halves.length - 1) * 0.75)] ?? 0;
  const innerLow = lowest(inside);
  const innerHigh = highest(inside);
  const allowance = Math.max(1.5 * (innerHigh - innerLow), 1.25 * usual);
  const low = Math.max(
    innerLow - allowance,
    Math.min(innerLow, lowest(effects.map((effect) => effect.low))),
  );
  const high = Math.min(
    innerHigh + allowance,
    Math.max(innerHigh, highest(effects.map((effect) => effect.high))),
  );
  const span = high - low;
  return span > 0 ? [low - 0.03 * span, high + 0.03 * span] : [low - 1, high + 1];
};
