/**
 * Plain verdicts on a protocol variable, from stated rules.
 *
 * The rules, in the order they are asked. Gains are differences over the whole span of doses that studies link; the
 * amount is the difference that counts.
 *
 * 1. Not studied: neither arms of one study nor studies' means can be compared.
 * 2. Only studies against each other: cannot be told, whatever the numbers. Such studies differ in everything else too.
 * 3. A second dose that moves with it inside studies: cannot be separated.
 * 4. Every pair of doses inside ± the amount by its 90% interval, on four degrees of freedom or more: no difference
 *    that counts where that interval holds zero over the span, else a difference, smaller than counts.
 * 5. The interval leaves out zero: favoured where that stands among all questions of the table (Holm) on four degrees
 *    of freedom or more, else worth testing.
 * 6. Everything else: cannot be told.
 */
import type { EffectScale } from "../effects/effect.js";
import { scales } from "../effects/scales.js";
import { CallError } from "../errors.js";
import { familyRecord } from "../records/outcome-families.js";
import { symmetricInterval } from "../synthesis/inference.js";
import { trustedFreedom } from "./identifiability.js";
import type { Coefficient } from "../synthesis/synthesis-results.js";

export const verdictNames = [
  "favoured",
  "worth testing",
  "a difference, smaller than counts",
  "no difference that counts",
  "cannot be separated",
  "cannot be told",
  "not studied",
] as const;
export type VerdictName = (typeof verdictNames)[number];

export type Verdict = Readonly<{
  verdict: VerdictName;
  /** Which end of the span, where the verdict has a side. */
  side?: "more" | "less";
  /** Which rule gave it, in a plain sentence part. */
  reason: string;
}>;

/** How the within-study and the between-study answer stand to each other. */
export type Agreement = "agree" | "differ" | "cannot be told apart" | "one answer only" | "none";

export type VerdictInput = Readonly<{
  /** Change of the effect over the span, within studies, on the effects' scale. */
  within: Coefficient | undefined;
  between: Coefficient | undefined;
  /** The amount that counts on the effects' scale, above 0. */
  amount: number;
  /** p of `within` among all questions of the table; its own where it is the only one. */
  adjustedP?: number | undefined;
  /** Whether the 90% interval of every pair of doses lies inside ± the amount. */
  allInside?: boolean | undefined;
  /** What it cannot be separated from, in words. */
  inseparable?: string | undefined;
  /** False for what is no choice of who trains: never favoured. */
  isChoice?: boolean;
  /** p from which on a difference stands. */
  level?: number;
}>;

/** Two one-sided tests at 5% ask the ordinary interval of this coverage. */
export const equivalenceConfidence = 0.9;

/**
 * The verdict of the rules above.
 *
 * @throws {CallError} "bad-amount" unless the amount is above 0
 * @source rules of this project; Tipton (2015) Psychological Methods 20:375–393 (fewer than four degrees of freedom);
 *   Schuirmann (1987) Journal of Pharmacokinetics and Biopharmaceutics 15:657–680 (two one-sided tests)
 */
export const verdictOf = (input: VerdictInput): Verdict => {
  const { within, between, amount, inseparable, isChoice = true, level = 0.05 } = input;
  if (!(amount > 0 && amount < Infinity)) {
    throw new CallError({
      code: "bad-amount",
      where: "a verdict",
      needs: "an amount above 0",
      got: String(amount),
    });
  }
  if (within === undefined && between === undefined)
    return { verdict: "not studied", reason: "no comparison of doses can be made" };
  if (within === undefined) {
    const { low, high } = between!.interval;
    const points = low > 0 ? "; that points to more" : high < 0 ? "; that points to less" : "";
    return {
      verdict: "cannot be told",
      reason: `only studies that differ in everything else too are compared${points}`,
    };
  }
  if (inseparable !== undefined) return { verdict: "cannot be separated", reason: inseparable };
  const { estimate, standardError, degreesOfFreedom, p, interval } = within;
  const { adjustedP = p } = input;
  const side = estimate > 0 ? "more" : "less";
  const trusted = degreesOfFreedom >= trustedFreedom;
  if (trusted && input.allInside === true) {
    const { low, high } = symmetricInterval(
      estimate,
      standardError,
      degreesOfFreedom,
      equivalenceConfidence,
    );
    return low <= 0 && high >= 0
      ? {
          verdict: "no difference that counts",
          reason: "every pair of doses differs by less than the amount that counts",
        }
      : {
          verdict: "a difference, smaller than counts",
          side,
          reason: "no difference is left out, and every pair of doses differs by less than counts",
        };
  }
  if (p < level) {
    if (trusted && isChoice && adjustedP < level)
      return {
        verdict: "favoured",
        side,
        reason: "no difference is left out, also among all questions of the table",
      };
    return {
      verdict: "worth testing",
      side,
      reason: !trusted
        ? "no difference is left out, on too few studies to rely on"
        : isChoice
          ? "no difference is left out, but not among all questions of the table"
          : "no difference is left out, but it is no choice of a protocol",
    };
  }
  const within90 = interval.low <= -amount && interval.high >= amount;
  return {
    verdict: "cannot be told",
    reason: within90
      ? "the interval holds both gain and loss larger than counts"
      : interval.low > -amount && interval.high < amount
        ? "the ends of the span differ by less than counts, but not every pair of doses, or on too few studies to rely on"
        : "the interval holds no difference and a difference larger than counts",
  };
};

/**
 * p values that hold for all questions asked at once, in the order given.
 *
 *   p_(i)* = max over j ≤ i of min(1, (m − j + 1) p_(j))      p_(1) ≤ … ≤ p_(m)
 *
 * @source Holm (1979) Scandinavian Journal of Statistics 6:65–70
 */
export const holmAdjusted = (ps: readonly number[]): readonly number[] => {
  const adjusted = new Array<number>(ps.length);
  let highest = 0;
  ps.map((p, place) => ({ p, place }))
    .sort((a, b) => a.p - b.p)
    .forEach(({ p, place }, rank) => {
      highest = Math.max(highest, Math.min(1, (ps.length - rank) * p));
      adjusted[place] = highest;
    });
  return adjusted;
};

/**
 * Whether arms within studies and studies' means tell the same: by the interval of the difference of slopes.
 *
 * "differ" when it leaves out zero; "agree" when it lies inside ± the stated amount; otherwise the data cannot tell.
 *
 * @param difference between-study minus within-study change over the span
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

/** On scales in standard deviations. */
const statedDeviations = 0.2;

/**
 * The stated amount of a family on a scale: the difference that is called large enough to matter.
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
