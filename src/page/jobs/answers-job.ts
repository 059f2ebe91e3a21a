import type { EffectScale } from "../../effects/effect.js";
import { answerSentence } from "../../report/answer-sentence.js";
import { citationSentence } from "../../report/citation-sentence.js";
import { methodsParagraph } from "../../report/methods-paragraph.js";
import { pooledTables } from "../../report/pooled-tables.js";
import { shownResult } from "../../report/pooled-answer.js";
import { assumptionsTable } from "../../tables/assumptions-table.js";
import { heterogeneitySentences } from "../../tables/heterogeneity-sentences.js";
import type { Table } from "../../tables/table.js";
import { analysisOf, type Job } from "./bench.js";

/** One answer in words, with what it rests on. */
export type AnswerShown = Readonly<{
  id: string;
  label: string;
  sentence: string;
  heterogeneity: readonly string[];
  assumptions: readonly string[];
  notes: readonly string[];
}>;

/** Everything the answers view shows. */
export type AnswersShown = Readonly<{
  pooled: readonly Table[];
  answers: readonly AnswerShown[];
  assumed: Table | undefined;
  methods: string;
  works: readonly string[];
  cite: string;
}>;

/** The pooled answers of the open table on one scale, in tables and sentences. */
export const answersJob: Job<Readonly<{ scale: EffectScale }>, AnswersShown> = (
  bench,
  { scale },
  tell,
) => {
  const analysis = analysisOf(bench, { effects: { scale } }, tell);
  const methods = methodsParagraph(analysis);
  const assumptions = analysis.sets[0]?.assumptions ?? [];
  return {
    pooled: pooledTables(analysis),
    answers: analysis.answers.map((family) => {
      const result = shownResult(family.answer);
      return {
        id: family.id,
        label: family.label,
        sentence: answerSentence(family, analysis.confidence),
        heterogeneity: result === undefined ? [] : heterogeneitySentences(result, { scale }),
        assumptions: result?.story.assumptions ?? [],
        notes: result?.story.notes.map(({ message }) => message) ?? [],
      };
    }),
    assumed: assumptions.length === 0 ? undefined : assumptionsTable(assumptions),
    methods: methods.sentences.join(" "),
    works: methods.sources.map(
      ({ citation, doi }) => `${citation}${doi === undefined ? "" : `. https://doi.org/${doi}`}`,
    ),
    cite: citationSentence(analysis.source),
  };
};
