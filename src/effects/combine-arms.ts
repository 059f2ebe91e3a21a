import type { GroupSummary } from "./arm-summary.js";
import { checkedGroup } from "./arm-summary.js";

/**
 * Two groups as if they had been one: people added, mean weighted, deviation including the gap between
 * the means. Associative, so several arms are combined two at a time.
 *
 *   n = n₁+n₂    m = (n₁m₁+n₂m₂)/n    s² = ((n₁−1)s₁² + (n₂−1)s₂² + (n₁n₂/n)(m₁−m₂)²)/(n−1)
 *
 * @param first  mean, deviation, participants (1 or more)
 * @param second  the same
 * @returns the combined group
 * @source Cochrane Handbook for Systematic Reviews of Interventions, Table 6.5.a
 */
export const combineArms = (first: GroupSummary, second: GroupSummary): GroupSummary => {
  checkedGroup(first, { where: "combineArms", least: 1 });
  checkedGroup(second, { where: "combineArms", least: 1 });
  const participants = first.participants + second.participants;
  const mean = (first.participants * first.mean + second.participants * second.mean) / participants;
  const gap =
    ((first.participants * second.participants) / participants) * (first.mean - second.mean) ** 2;
  const squares =
    (first.participants - 1) * first.deviation ** 2 +
    (second.participants - 1) * second.deviation ** 2 +
    gap;
  return { mean, deviation: Math.sqrt(squares / (participants - 1)), participants };
};
