/** What a drawing of protocols side by side says: the answer in short, and each difference from the first. */
import type { ProtocolComparison, ProtocolDifference } from "../projection/compare-protocols.js";
import { isSameProtocol, isUntold } from "../tables/comparison-table.js";
import { capital, counted } from "../tables/number-format.js";
import { probabilityCell, rangeText } from "../tables/range-cells.js";
import { clipText } from "./wrap-text.js";

/** The answer in a few words, with whom it is about where there are more than two. */
export const comparisonInShort = ({ goal, protocols, differences }: ProtocolComparison): string => {
  const [only, another] = differences;
  const name = (place: number): string => clipText(protocols[place]?.name ?? "", 32);
  if (only !== undefined && another === undefined) {
    const { short } = only.verdict;
    return `${name(only.first)} or ${name(only.second)} for ${goal}: ${short === "cannot be told" ? `${short} from this file` : short}.`;
  }
  const told = differences
    .filter(({ verdict }) => verdict.call !== "tie")
    .map(({ first, second, verdict }) =>
      verdict.call === "first is better"
        ? `${name(first)} over ${name(second)}`
        : `${name(second)} over ${name(first)}`,
    );
  if (told.length === 0)
    return `${capital(goal)}: none of ${counted(differences.length, "pair")} is told apart.`;
  const more = told.length > 3 ? ` and ${told.length - 3} more` : "";
  return `${capital(goal)}: ${told.length} of ${counted(differences.length, "pair")} told apart: ${told.slice(0, 3).join(", ")}${more}.`;
};

/** Every difference from the first is turned to say what the row's protocol gives beyond the first. */
export const beyondFirst = (found: ProtocolDifference) => {
  const turned = ({ estimate, low, high }: typeof found.average) => ({
    estimate: -estimate,
    low: -high,
    high: -low,
  });
  return { found, average: turned(found.average), newTrial: turned(found.newTrial) };
};

/**
 * The strong words of a difference and those under it.
 *
 * @param much a number with its chance and call under it, with its call alone, or both on one line
 */
export const differenceWords = (
  comparison: ProtocolComparison,
  { found, average }: ReturnType<typeof beyondFirst>,
  much: "full" | "short" | "line",
): readonly [strong: string, rest: readonly string[]] => {
  if (isSameProtocol(comparison, found)) return ["the same protocol", []];
  if (isUntold(comparison, found))
    return [
      "cannot be told apart",
      much === "line" ? [] : ["the file says nothing about that in which they differ"],
    ];
  const [first, own] = [found.first, found.second].map((place) =>
    clipText(comparison.protocols[place]?.name ?? "", 14),
  );
  const { verdict, headToHead, probabilityFirstWorthwhile, probabilitySecondWorthwhile } = found;
  const short =
    verdict.call === "tie"
      ? verdict.short
      : `${verdict.call === "first is better" ? first : own} is better`;
  const number = rangeText(average);
  if (much === "line") return [`${number}: ${short}`, []];
  if (much === "short") return [number, [short]];
  const amount = comparison.smallestWorthwhilePercent;
  const more = amount > 0 ? `gives over ${amount}% more` : "is better";
  return [
    number,
    [
      probabilitySecondWorthwhile >= probabilityFirstWorthwhile
        ? `${probabilityCell(probabilitySecondWorthwhile)} that ${own} ${more}`
        : `${probabilityCell(probabilityFirstWorthwhile)} that ${first} ${more}`,
      `${short}; ${headToHead.trials.length > 0 ? "direct" : "indirect"} evidence`,
    ],
  ];
};
