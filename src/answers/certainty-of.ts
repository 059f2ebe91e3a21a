/** How sure one answer about a file is: what the rules look at, gathered; for headlines, verdicts and statements. */
import {
  rated,
  type Allocation,
  type Decision,
  type Rating,
  type RatingFacts,
} from "../certainty/rating.js";
import { overallJudgement, weightByJudgement } from "../certainty/risk-of-bias.js";
import type { SelectionModel } from "../certainty/selection-model.js";
import type { SmallStudyRegression } from "../certainty/small-study-regression.js";
import type { Effect } from "../effects/effect.js";
import { peopleOfRows } from "../effects/people-of-rows.js";
import { refusal, type Refusal } from "../errors.js";
import { grouped } from "../records/grouped.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { Interval } from "../synthesis/synthesis-results.js";

/** An answer with the effects behind it. */
export type AnswerToRate = Readonly<{
  effects: readonly Effect[];
  /** What each effect counts, per cent; alike where left out. */
  weightsPercent?: readonly number[];
  estimate: number;
  interval: Interval;
  /** Range of a further study; null or left out where none is told. */
  range?: Interval | null;
  iSquaredPercent?: number | null;
  amount: number | undefined;
  /** Whether doses are compared inside studies, or only between them; an average where left out. */
  compares?: "inside studies" | "between studies";
  deviations?: number | undefined;
  smallStudies?: SmallStudyRegression | Refusal;
  selection?: SelectionModel | Refusal;
}>;

export type RatedAnswer = Readonly<{
  rating: Rating;
  facts: RatingFacts;
  /** Studies whose allocation was not at random, and those where nothing says. */
  notAtRandom: readonly string[];
  notCoded: readonly string[];
}>;

const rowsOf = ({ row, comparatorRow }: Effect): readonly OutcomeRow[] =>
  comparatorRow === undefined ? [row] : [row, comparatorRow];

/** People behind some effects, each once. */
export const peopleBehind = (effects: readonly Effect[]): number => {
  const rows = effects.flatMap(rowsOf);
  const key = peopleOfRows(rows);
  return [...grouped(rows, key).values()].reduce(
    (sum, own) => sum + Math.max(...own.map(({ nEnd, nStart }) => nEnd ?? nStart ?? 0)),
    0,
  );
};

/** How a study's people or limbs came into what is compared. */
const allocatedIn = (effects: readonly Effect[]): Allocation => {
  const words = effects.map(({ row, contrast }): Allocation => {
    const ofLimbs = contrast === "against-other-limb" || row.design === "within-person limbs";
    if (ofLimbs) return row.limbAllocation ?? "not coded";
    if (row.design === "randomised groups") return "at random";
    return row.design === undefined || row.design === "crossover" ? "not coded" : "not at random";
  });
  return (
    (["not at random", "not coded"] as const).find((word) => words.includes(word)) ?? "at random"
  );
};

/**
 * The rating of an answer by the rules of the room of certainty.
 *
 * High to begin with only where both sides of every comparison were allocated at random: people by the column design, limbs
 * by limb_allocation. What is not coded begins low.
 *
 * @param decisions a person's, of this answer
 */
export const certaintyOf = (
  answer: AnswerToRate,
  decisions: readonly Decision[] = [],
): RatedAnswer => {
  const { effects, compares, weightsPercent } = answer;
  const studies = grouped(effects, ({ cohort }) => cohort);
  const named = (word: Allocation): readonly string[] =>
    [...studies].flatMap(([cohort, own]) => (allocatedIn(own) === word ? [cohort] : []));
  const [notAtRandom, notCoded] = [named("not at random"), named("not coded")];
  const allocation: Allocation =
    compares === "between studies"
      ? "between studies"
      : compares === undefined && effects.every(({ contrast }) => contrast === "change-within-arm")
        ? "before to after"
        : notAtRandom.length > 0
          ? "not at random"
          : notCoded.length > 0
            ? "not coded"
            : "at random";
  const judgements = new Map(
    [...studies].map(([cohort, own]) => [cohort, overallJudgement(own.flatMap(rowsOf))]),
  );
  const missing = refusal("not-told", "it was not asked of this answer");
  const { deviations, amount, estimate, interval } = answer;
  const facts: RatingFacts = {
    ...{ allocation, estimate, interval, deviations, amount },
    range: answer.range ?? null,
    iSquaredPercent: answer.iSquaredPercent ?? null,
    studies: studies.size,
    people: peopleBehind(effects),
    weightByRisk: weightByJudgement(
      effects.map(({ cohort }, place) => ({
        judgement: judgements.get(cohort)!,
        percent: weightsPercent?.[place] ?? 100 / effects.length,
      })),
    ),
    smallStudies: answer.smallStudies ?? missing,
    selection: answer.selection ?? missing,
  };
  return { rating: rated(facts, decisions), facts, notAtRandom, notCoded };
};
