/** When one of two protocols is called better, and when it is a tie. */

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
  /** Why, in words, with the rule. */
  words: string;
}>;

const percent = (probability: number): string => {
  const whole = Math.round(100 * probability);
  return whole >= 100 ? "over 99 %" : whole <= 0 ? "under 1 %" : `${whole} %`;
};

/**
 * The call between two protocols, by one rule for everybody.
 *
 * One is called better when the probability that it is better by more than the smallest worthwhile amount is at
 * least 90 %. Everything else is a tie: of equals, when they differ by less than that amount with at least
 * 90 %; otherwise because the evidence cannot tell them apart.
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
  const amount =
    smallestWorthwhilePercent > 0 ? ` by more than ${smallestWorthwhilePercent} %` : "";
  const called = (name: string, probability: number): string =>
    `${name} is better${amount} with probability ${percent(probability)} (called from ${percent(decisionProbability)} on)`;
  if (firstWorthwhile >= decisionProbability)
    return { call: "first is better", words: called(names[0], firstWorthwhile) };
  if (secondWorthwhile >= decisionProbability)
    return { call: "second is better", words: called(names[1], secondWorthwhile) };
  if (smallestWorthwhilePercent > 0 && within >= decisionProbability)
    return {
      call: "tie",
      words: `a tie of equals: they differ by less than ${smallestWorthwhilePercent} % with probability ${percent(within)}`,
    };
  return {
    call: "tie",
    words: `a tie for want of evidence: neither is better${amount} with probability ${percent(decisionProbability)} (${names[0]} ${percent(firstWorthwhile)}, ${names[1]} ${percent(secondWorthwhile)})`,
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
  words: same
    ? "a tie, since they are the same protocol"
    : `a tie for want of evidence: nothing in which ${names[0]} and ${names[1]} differ moves a projection from this file, so both get one gain by construction; that is no evidence that they are equal`,
});
