/** When one of two protocols is called better, when the two do not differ, and when that cannot be told. */

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
  /** The call in a few words: "A is better", "no difference that counts", "cannot be told". */
  short: string;
  /** The call and why, with the rule. */
  words: string;
}>;

const noDifference = "no difference that counts";
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
 * @param smallestWorthwhilePercent 0 where nobody set one
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
