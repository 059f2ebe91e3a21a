/** A question asked of each kind of outcome at all angles and weeks, which a headline otherwise chooses among. */
import * as z from "zod";
import type { EffectSet } from "../effects/effect.js";
import { type RefusalCode, refusal } from "../errors.js";
import type { HeadlineGroup } from "./headline-selection.js";
import {
  borrowedSentences,
  countsOf,
  dataOf,
  doubtsOf,
  groupFields,
  namingRows,
  outcomeGroups,
  outcomeShape,
  rowsOfGroup,
  together,
  untoldOf,
  type AnswerPart,
} from "./outcome-groups.js";
import type { NotWeightedAbout } from "./not-weighted.js";
import { question, type Options } from "./question.js";

type OutcomeOptions = Options<typeof outcomeShape>;

/** What makes one such question. */
type Asked<Shape extends z.ZodRawShape, Result> = Readonly<{
  id: string;
  /** Its own options. */
  options: Shape;
  fit: (all: EffectSet, options: OutcomeOptions & Options<Shape>) => Result;
  /** Effects that give occasion for the question; none where there is nothing to ask. */
  points: (result: Result) => readonly Readonly<{ effectId: string }>[];
  part: (group: HeadlineGroup, result: Result) => AnswerPart;
  /** What is missing where no kind of outcome gives occasion. */
  nothing: Readonly<{ code: RefusalCode; what: string; was: string }>;
  /** Rows without a weight that would give occasion, and what is said of them. */
  rows: Required<NotWeightedAbout>;
}>;

/**
 * The question as every door asks it; isometric tests and other ways of testing stand apart.
 *
 * @param asked how it is fitted and told
 */
export const ofAllAnglesAndWeeks = <Shape extends z.ZodRawShape, Result extends object>({
  id,
  options: own,
  fit,
  points,
  part,
  nothing,
  rows,
}: Asked<Shape, Result>) =>
  question({
    id,
    options: { ...outcomeShape, ...own },
    choices: [],
    data: { answers: z.array(z.looseObject({ family: z.string(), answer: z.looseObject({}) })) },
    prepare: (evidence, given, tell) => {
      const options = given as unknown as OutcomeOptions & Options<Shape>;
      tell("effects");
      const { set, groups, unweighted } = outcomeGroups(evidence, options);
      const asked = groups.flatMap((group) => {
        tell(group.label);
        const answer = fit(group.all, options);
        return points(answer).length === 0 ? [] : [{ group, answer }];
      });
      return { set, groups, asked, unweighted, confidence: options.confidence };
    },
    answer: ({ set, groups, asked, unweighted, confidence }) => {
      const effects = groups.flatMap(({ all }) => all.effects);
      const ids = new Set(asked.flatMap(({ answer }) => points(answer).map((p) => p.effectId)));
      const used = effects.filter(({ effectId }) => ids.has(effectId));
      const without = unweighted(rows) || (effects.length === 0 ? unweighted() : "");
      const told = together(
        asked.map(({ group, answer }) =>
          namingRows(
            untoldOf(part(group, answer), group.family, [id]),
            unweighted({ ...rows, of: (all) => rows.of(rowsOfGroup(group)(all)) }),
          ),
        ),
        without,
        refusal(
          nothing.code,
          `no ${nothing.what} ${without === "" ? "" : "with a weight "}was ${nothing.was}, in ${countsOf(effects)}`,
        ),
      );
      return {
        ...told,
        untold: asked.length === 0 ? [{ topics: [id] }] : told.untold,
        sentences: [...told.sentences, ...borrowedSentences(used)],
        notes: [...set.notes, ...doubtsOf(used), ...told.notes],
        data: {
          ...dataOf(set, confidence, used),
          answers: asked.map(({ group, answer }) => ({
            ...groupFields(group),
            family: group.label,
            answer,
          })),
        },
      };
    },
  });
