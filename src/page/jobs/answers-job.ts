import type { EffectScale } from "../../effects/effect.js";
import type { Figure } from "../../figures/figure.js";
import type { FamilyAnswer } from "../../report/analysis.js";
import { answerSentence } from "../../report/answer-sentence.js";
import { citationSentence } from "../../report/citation-sentence.js";
import { methodsParagraph } from "../../report/methods-paragraph.js";
import { pooledTables } from "../../report/pooled-tables.js";
import { shownResult } from "../../report/pooled-answer.js";
import { answerFigures } from "../../report/report-figures.js";
import { assumptionsTable } from "../../tables/assumptions-table.js";
import { effectsTable } from "../../tables/effects-table.js";
import { heterogeneitySentences } from "../../tables/heterogeneity-sentences.js";
import { multilevelTable } from "../../tables/multilevel-table.js";
import type { Table } from "../../tables/table.js";
import { varianceTable } from "../../tables/variance-table.js";
import { reportOn } from "../../report/report-parts.js";
import { analysisOf, openFile, type Job } from "./bench.js";

/** One answer as it stands among the others. */
export type AnswerShown = Readonly<{ id: string; label: string; sentence: string }>;

/** Everything the answers view shows at once. */
export type AnswersShown = Readonly<{
  pooled: readonly Table[];
  answers: readonly AnswerShown[];
  assumed: Table | undefined;
  methods: string;
  works: readonly string[];
  cite: string;
}>;

/** The pooled answers of the open table on one scale, in tables and sentences. */
export const answersJob: Job<Readonly<{ scale: EffectScale }>, AnswersShown> = async (
  bench,
  { scale },
  tell,
) => {
  const analysis = analysisOf(bench, { effects: { scale } }, tell);
  const methods = methodsParagraph(await reportOn(openFile(bench), { scale }, {}, tell));
  const assumptions = analysis.sets[0]?.assumptions ?? [];
  return {
    pooled: pooledTables(analysis),
    answers: analysis.answers.map((family) => ({
      id: family.id,
      label: family.label,
      sentence: answerSentence(family, analysis.confidence),
    })),
    assumed: assumptions.length === 0 ? undefined : assumptionsTable(assumptions),
    methods: methods.sentences.join(" "),
    works: methods.sources.map(
      ({ citation, doi }) => `${citation}${doi === undefined ? "" : `. https://doi.org/${doi}`}`,
    ),
    cite: citationSentence(analysis.source),
  };
};

/** One answer with what it rests on: heterogeneity, figures, model, effects. */
export type AnswerInDepth = Readonly<{
  heterogeneity: readonly string[];
  assumptions: readonly string[];
  notes: readonly string[];
  figures: readonly Figure[];
  model: readonly Table[];
  effects: Table;
}>;

const inDepth = (family: FamilyAnswer, confidence: number): AnswerInDepth => {
  const { scale } = family.set;
  const result = shownResult(family.answer);
  const { answer } = family;
  return {
    heterogeneity: result === undefined ? [] : heterogeneitySentences(result, { scale }),
    assumptions: result?.story.assumptions ?? [],
    notes: result?.story.notes.map(({ message }) => message) ?? [],
    figures: answerFigures(family, confidence),
    model:
      answer.kind === "multilevel"
        ? [multilevelTable(answer.model, { scale }), varianceTable(answer.model)]
        : [],
    effects: effectsTable(family.set),
  };
};

/** One answer in depth; undefined where the table has no answer of that id. */
export const answerJob: Job<
  Readonly<{ scale: EffectScale; id: string }>,
  AnswerInDepth | undefined
> = (bench, { scale, id }, tell) => {
  const analysis = analysisOf(bench, { effects: { scale } }, tell);
  const family = analysis.answers.find((one) => one.id === id);
  return family === undefined ? undefined : inDepth(family, analysis.confidence);
};
