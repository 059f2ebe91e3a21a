/** When one of two protocols is called better, when the two do not differ, and when that cannot be told. */

import { listed } from "../protocol/listed.js";
import type { Interval } from "../synthesis/synthesis-results.js";

/** A difference is called when its probability reaches this. */
export const decisionProbability = 0.9;

export type DifferenceProbabilities = Readonly<{
  /** That the first is better by more than the smallest worthwhile amount, and the second. */
  firstWorthwhile: number;
  secondWorthwhile: number;
  /** That they differ by less than that, either way. */
  within: number;
}>;

export type TieVerdict = Readonly<{
  call: "first is better" | "second is better" | "tie";
  /** The call in a few words: "A is better", "no difference that counts", "cannot be told", "the trials and the model disagree". */
  short: string;
  /** The call and why, with the rule. */
  words: string;
}>;

const noDifference = "no difference that counts";
const disagree = "the trials and the model disagree";
const cannotBeTold = "cannot be told";

const percent = (probability: number): string => {
  const whole = Math.round(100 * probability);
  return whole >= 100 ? "over 99%" : whole <= 0 ? "under 1%" : `${whole}%`;
};

/**
 * The call between two protocols, by one rule for everybody.
 *
 * One is called better when the probability that it is better by more than the smallest worthwhile amount is at
 * least 90%. Everything else is a tie: there is no difference that counts, when they differ by less than that amount
 * with at least 90%; otherwise the evidence cannot tell them apart.
 *
 * @param smallestWorthwhilePercent the amount that counts; 0 where any difference does
 * @param names of the two protocols
 * @source none: a rule stated beside every call
 */
export const tieRule = (
  { firstWorthwhile, secondWorthwhile, within }: DifferenceProbabilities,
  smallestWorthwhilePercent: number,
  names: readonly [string, string] = ["the first", "the second"],
): TieVerdict => {
  const amount = smallestWorthwhilePercent > 0 ? ` by more than ${smallestWorthwhilePercent}%` : "";
  const rule = `we call it from ${percent(decisionProbability)}`;
  const called = (call: TieVerdict["call"], name: string, probability: number): TieVerdict => ({
    call,
    short: `${name} is better`,
    words: `${name} is better${amount} (with a chance of ${percent(probability)}; ${rule})`,
  });
  if (firstWorthwhile >= decisionProbability)
    return called("first is better", names[0], firstWorthwhile);
  if (secondWorthwhile >= decisionProbability)
    return called("second is better", names[1], secondWorthwhile);
  if (smallestWorthwhilePercent > 0 && within >= decisionProbability)
    return {
      call: "tie",
      short: noDifference,
      words: `${noDifference} (less than ${smallestWorthwhilePercent}% apart with a chance of ${percent(within)})`,
    };
  return {
    call: "tie",
    short: cannotBeTold,
    words: `${cannotBeTold} from this file (${names[0]} is better${amount} with a chance of ${percent(firstWorthwhile)}, ${names[1]} with one of ${percent(secondWorthwhile)}; ${rule})`,
  };
};

/**
 * The call where the model sees no difference between two protocols.
 *
 * @param same whether they are one protocol written twice
 * @source none: a rule stated beside every call
 */
export const tieOfTheUntold = (same: boolean, names: readonly [string, string]): TieVerdict => ({
  call: "tie",
  short: same ? "the same protocol" : cannotBeTold,
  words: same
    ? "the same protocol, so nothing differs"
    : `${cannotBeTold} from this file, as nothing in which ${names[0]} and ${names[1]} differ moves a projection, so both get one gain by construction; that is no evidence that they are equal`,
});

/** What speaks against a call. */
export type CallDoubts = Readonly<{
  /** Head-to-head trials, pooled, against the model; log scale, half-widths at 95%. */
  trials?: Readonly<{ estimate: number; halfWidth: number }>;
  model: Readonly<{ estimate: number; halfWidth: number }>;
  /** The curve of the one dose in which the two differ, first minus second, and its name. */
  curve?: Readonly<{ estimate: number; interval: Interval; label: string }>;
  /** The amount that counts, log scale; a curve that leaves room for more calls no two equal. */
  amount?: number;
  /** The model does not give what the file's arms found. */
  misses?: boolean;
  /** Parts in which the two differ and which the model does not hold. */
  unseen?: readonly string[];
}>;

/**
 * A verdict after everything that speaks against it.
 *
 * Nothing is called where head-to-head trials and the model differ by more than their joint error √(h₁² + h₂²), or where one
 * protocol would be called better and the trials, or the curve of the only dose in which the two differ, point the other way;
 * nor where the model misses the arms. Two that also differ in what the model does not hold, or whose curve leaves room for more
 * than the amount, are not called equal.
 *
 * @source none: a rule of this project
 */
export const vetoed = (
  verdict: TieVerdict,
  { trials, model, curve, amount = Infinity, misses = false, unseen = [] }: CallDoubts,
): TieVerdict => {
  const way = verdict.call === "first is better" ? 1 : verdict.call === "second is better" ? -1 : 0;
  const against = (estimate: number): boolean => way * estimate < 0;
  const isFar =
    trials !== undefined &&
    Math.abs(trials.estimate - model.estimate) > Math.hypot(trials.halfWidth, model.halfWidth);
  const tie = (short: string, words: string): TieVerdict => ({ call: "tie", short, words });
  if (trials !== undefined && (isFar || against(trials.estimate)))
    return tie(
      disagree,
      isFar
        ? "the trials that compare such arms and the model differ by more than both can err, so nothing is called"
        : "the trials that compare such arms point the other way than the model, so nothing is called",
    );
  if (curve !== undefined && against(curve.estimate))
    return tie(
      disagree,
      `the curve of ${curve.label} alone points the other way than the model, so nothing is called`,
    );
  if (misses)
    return tie(
      cannotBeTold,
      `${cannotBeTold} from this file, as the model does not give what its arms found`,
    );
  if (verdict.short !== noDifference) return verdict;
  if (curve !== undefined && Math.max(-curve.interval.low, curve.interval.high) > amount)
    return tie(
      cannotBeTold,
      `${cannotBeTold} from this file, as the curve of ${curve.label} alone leaves room for a difference that counts`,
    );
  return unseen.length > 0
    ? tie(
        cannotBeTold,
        `${cannotBeTold} from this file, as the two also differ in ${listed(unseen)}, of which the model knows nothing`,
      )
    : verdict;
};
