/** What the questions that look at every average again give in common: a refusal where none told, and the data. */
import { isRefusal, toldOrRefused, type Refusal } from "../errors.js";
import { noEffects } from "./average.js";
import { linesOf } from "./evidence.js";
import type { PreparedPool } from "./pool.js";
import type { PreparedGroup } from "./pool-words.js";

/** What was found of one group, or why nothing was. */
export type ToldOf<Found extends object> = Readonly<{
  prepared: PreparedGroup;
  answer: Found | Refusal;
}>;

/**
 * The refusal and the data of an answer told group by group.
 *
 * @param leading the group whose sentence is the headline
 */
export const toldByGroup = <Found extends object>(
  pooled: PreparedPool,
  answers: readonly ToldOf<Found>[],
  leading: ToldOf<Found> | undefined,
  confidence: number,
) => ({
  refusal: answers.some(({ answer }) => !isRefusal(answer))
    ? undefined
    : ((leading?.answer as Refusal | undefined) ?? noEffects),
  data: {
    scale: pooled.set?.scale ?? null,
    contrast: pooled.set?.contrast ?? null,
    confidence,
    rowsUsed: linesOf({
      effects: answers.flatMap(({ prepared }) => prepared.group.headline.set?.effects ?? []),
    }),
    groups: answers.map(({ prepared: { group }, answer }) => ({
      group: group.label,
      id: group.id,
      ...toldOrRefused(answer),
    })),
  },
});
