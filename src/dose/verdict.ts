/**
 * Plain verdicts on a protocol variable, from stated rules.
 *
 * The rules, in the order they are asked (differences and amounts are for one stated step of the variable):
 *
 * 1. Not studied: neither arms of one study nor studies' means can be compared.
 * 2. Only studies against each other: unclear, whatever the numbers. Such studies differ in everything else too.
 * 3. The within-study interval leaves out zero: more, or less, is favoured.
 * 4. The within-study interval lies wholly inside ± the stated amount: no difference larger than that.
 * 5. Everything else: unclear.
 *
 * With fewer than four robust degrees of freedom rules 3 and 4 are asked of the 99% interval, since the ordinary one
 * is not to be relied on.
 */
import type { EffectScale } from "../effects/effect.js";
import { scales } from "../effects/scales.js";
import { CallError } from "../errors.js";
import { familyRecord } from "../records/outcome-families.js";
import { symmetricInterval } from "../synthesis/inference.js";
import type { Coefficient } from "../synthesis/synthesis-results.js";
import type { SlopeAnswer } from "./within-between-slope.js";

export const verdictNames = [
  "more is favoured",
  "less is favoured",
  "no difference larger than the stated amount",
  "unclear",
  "not studied",
] as const;
export type VerdictName = (typeof verdictNames)[number];

export type Verdict = Readonly<{
  verdict: VerdictName;
  /** Which rule gave it, in a plain sentence part. */
  reason: string;
}>;

/** How the within-study and the between-study answer stand to each other. */
export type Agreement = "agree" | "differ" | "cannot be told apart" | "one answer only" | "none";

export type VerdictInput = Readonly<{
  /** Change of the effect for one stated step, within studies, on the effects' scale. */
  within: Coefficient | undefined;
  between: Coefficient | undefined;
  /** The stated amount on the effects' scale, above 0. */
  amount: number;
}>;

/** Robust degrees of freedom from which an ordinary interval is trusted; below, this coverage is asked for. */
export const trustedFreedom = 4;
export const strictConfidence = 0.99;

/**
 * The verdict of the rules above.
 *
 * @param input slopes for one step, with robust intervals; undefined where refused
 * @throws {CallError} "bad-amount" unless the amount is above 0
 * @source rules of this project; Tipton (2015) Psychological Methods 20:375–393 (fewer than four degrees of freedom)
 */
export const verdictOf = ({ within, between, amount }: VerdictInput): Verdict => {
  if (!(amount > 0 && amount < Infinity)) {
    throw new CallError({
      code: "bad-amount",
      where: "a verdict",
      needs: "an amount above 0",
      got: String(amount),
    });
  }
  if (within === undefined && between === undefined) {
    return { verdict: "not studied", reason: "no comparison of doses can be made" };
  }
  if (within === undefined) {
    const { interval } = between!;
    const points = interval.low > 0 ? "points to more" : interval.high < 0 ? "points to less" : "";
    return {
      verdict: "unclear",
      reason: `only studies that differ in everything else too are compared${points === "" ? "" : `; that ${points}`}`,
    };
  }
  const { estimate, standardError, interval, degreesOfFreedom } = within;
  const few = degreesOfFreedom < trustedFreedom;
  const asked = few
    ? symmetricInterval(estimate, standardError, degreesOfFreedom, strictConfidence)
    : interval;
  const inside = asked.low > -amount && asked.high < amount;
  if (asked.low > 0 || asked.high < 0) {
    return {
      verdict: asked.low > 0 ? "more is favoured" : "less is favoured",
      reason: inside
        ? "arms of one study differ so, by less than the stated amount for one step"
        : "arms of one study differ so, and the interval leaves out no difference",
    };
  }
  if (inside) {
    return {
      verdict: "no difference larger than the stated amount",
      reason: "the whole interval lies inside the stated amount",
    };
  }
  if (interval.low > 0 || interval.high < 0) {
    return {
      verdict: "unclear",
      reason: `arms of one study point to ${interval.low > 0 ? "more" : "less"}, on too few studies to rely on`,
    };
  }
  return {
    verdict: "unclear",
    reason:
      interval.low <= -amount && interval.high >= amount
        ? "the interval holds both gain and loss larger than the stated amount"
        : "the interval holds no difference and a difference larger than the stated amount",
  };
};

/**
 * Whether arms within studies and studies' means tell the same: by the interval of the difference of slopes.
 *
 * "differ" when it leaves out zero; "agree" when it lies inside ± the stated amount; otherwise the data cannot tell.
 *
 * @param difference between-study minus within-study change for one step
 * @source none: rules of this project
 */
export const agreementOf = (
  within: Coefficient | undefined,
  between: Coefficient | undefined,
  difference: Coefficient | undefined,
  amount: number,
): Agreement => {
  if (within === undefined && between === undefined) return "none";
  if (within === undefined || between === undefined || difference === undefined) {
    return "one answer only";
  }
  const { low, high } = difference.interval;
  if (low > 0 || high < 0) return "differ";
  return low > -amount && high < amount ? "agree" : "cannot be told apart";
};

/**
 * A slope's coefficient for a step of the variable; undefined for a refusal.
 * @source none: a change of unit
 */
export const perStep = (slope: SlopeAnswer, step: number): Coefficient | undefined => {
  if (slope.kind === "refusal") return undefined;
  const { term, estimate, standardError, interval, degreesOfFreedom, p } = slope.robust;
  return {
    term,
    estimate: estimate * step,
    standardError: standardError * step,
    interval: { low: interval.low * step, high: interval.high * step },
    degreesOfFreedom,
    p,
  };
};

/** On scales in standard deviations. */
const statedDeviations = 0.2;

/**
 * The stated amount of a family on a scale: the difference for one step that is called large enough to matter.
 *
 * @returns log ratio on ratio scales, standard deviations on standardised ones; undefined for raw differences,
 *   whose unit only the user knows
 * @source none: amounts of this project
 */
export const statedAmount = (family: string, scale: EffectScale): number | undefined => {
  const { kind } = scales[scale];
  if (kind === "raw") return undefined;
  return kind === "log ratio"
    ? Math.log1p(familyRecord(family).countsFromPercent / 100)
    : statedDeviations;
};
