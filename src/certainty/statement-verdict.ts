/**
 * Whether a statement stands: where its interval lies beside what it claims, and how statements that are asked together
 * share one level.
 */
import type { Interval } from "../synthesis/synthesis-results.js";

export const statementVerdicts = [
  "supported",
  "against",
  "mixed",
  "undecided",
  "not testable with this file",
] as const;
export type StatementVerdict = (typeof statementVerdicts)[number];

/** On which side of a claim an interval lies: inside it, wholly outside, or neither. */
export type ClaimSide = "inside" | "outside" | "neither";

/**
 * Where an interval lies beside a claimed region. An edge of the region belongs to neither side, so that a claim of
 * "more" is not met by an interval that touches no change.
 *
 * @param claim ends of the region, infinite where it is open
 * @source none: a definition
 */
export const sideOf = (interval: Interval, claim: Interval): ClaimSide =>
  interval.low > claim.low && interval.high < claim.high
    ? "inside"
    : interval.high < claim.low || interval.low > claim.high
      ? "outside"
      : "neither";

/** A claim that is met only where all of its parts are, and is refuted by any of them. */
export const sideOfAll = (sides: readonly ClaimSide[]): ClaimSide =>
  sides.includes("outside")
    ? "outside"
    : sides.every((side) => side === "inside")
      ? "inside"
      : "neither";

/** What one statement found, before it is looked at beside the others. */
export type AskedClaim = Readonly<{
  /** Its side by an interval of a coverage; undefined for what has no interval at all. */
  side?: (confidence: number) => ClaimSide;
}>;

/** The coverage at which a statement is judged, and its side there. */
export type JudgedClaim = Readonly<{ confidence: number; side: ClaimSide }>;

/**
 * Sides of statements that are asked together, each by an interval adjusted for how many are still open.
 *
 *   confidence = 1 − α / m,  m the statements not decided at a stricter level
 *
 * All are first asked at 1 − α/m. Those decided there leave, the rest are asked again as the fewer that they are, until
 * none more is decided: Holm's procedure, in intervals. With α = 5% the chance of any wrong side is at most 5%, whatever
 * is true, as far as each interval keeps its coverage.
 *
 * @param claims     those without an interval take no part and are not counted
 * @param confidence of one statement asked alone, 1 − α
 * @returns for each claim in its order; undefined without an interval
 * @source Holm (1979) Scandinavian Journal of Statistics 6:65–70
 */
export const judgedTogether = (
  claims: readonly AskedClaim[],
  confidence: number,
): readonly (JudgedClaim | undefined)[] => {
  const judged = new Array<JudgedClaim | undefined>(claims.length);
  let open = claims.flatMap(({ side }, place) => (side === undefined ? [] : [{ side, place }]));
  while (open.length > 0) {
    const own = 1 - (1 - confidence) / open.length;
    for (const { side, place } of open) judged[place] = { confidence: own, side: side(own) };
    const left = open.filter(({ place }) => judged[place]!.side === "neither");
    if (left.length === open.length) break;
    open = left;
  }
  return judged;
};

/** Fewest studies of an average, and of arms set head to head inside studies. */
export const fewestStatementStudies = { average: 3, "head to head": 2 } as const;

/** Studies on each side, by their own intervals, that make an answer mixed. */
const fewestEachWay = 2;

/**
 * The verdict on a statement.
 *
 * Not testable with fewer studies in range than are needed; supported where the adjusted interval lies inside the claim,
 * against where it lies wholly outside; mixed where at least two studies stand on each side by their own intervals;
 * undecided else.
 *
 * @param side undefined where there are studies and no interval
 * @source rules of this project
 */
export const statementVerdict = ({
  studies,
  needed,
  side,
  forIt,
  againstIt,
}: Readonly<{
  studies: number;
  needed: number;
  side: ClaimSide | undefined;
  forIt: number;
  againstIt: number;
}>): StatementVerdict =>
  studies < needed
    ? "not testable with this file"
    : side === "inside"
      ? "supported"
      : side === "outside"
        ? "against"
        : forIt >= fewestEachWay && againstIt >= fewestEachWay
          ? "mixed"
          : "undecided";
