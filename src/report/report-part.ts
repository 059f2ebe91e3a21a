/** What a report is made of: answers under headings. */
import type { Answer } from "../answers/answer.js";
import type { BoundAsk } from "../answers/ask.js";
import type { EvidenceSource } from "../answers/evidence.js";
import type { AnswerTo } from "../answers/question.js";
import type { QuestionId, QuestionOf } from "../answers/question-list.js";
import { drawnFigures, type NamedFigure } from "../figures/figure-list.js";
import type { Figure } from "../figures/figure.js";

/** Asks a question of the report's file, with the report's own row filter, scale and assumptions. */
export type Ask = BoundAsk;

/** An answer with its place in the report. */
export type PlacedAnswer = Readonly<{
  /** Anchor, kebab-case, once in a report. */
  id: string;
  title: string;
  answer: Answer;
}>;

/** A chapter of the report. */
export type ReportPart = Readonly<{
  /** Anchor, kebab-case. */
  id: string;
  title: string;
  /** Sentences before the answers. */
  lead: readonly string[];
  answers: readonly PlacedAnswer[];
}>;

export type NamedProtocol = Readonly<{ name: string; protocol: string }>;

/** What a report is asked for beyond the file itself. */
export type ReportWishes = Readonly<{
  /** Protocols to project and compare, each as it is typed. */
  protocols?: readonly NamedProtocol[];
}>;

/** Makes a part by asking, or nothing where the file or the wishes give no occasion for one. */
export type PartMaker = (ask: Ask, wishes: ReportWishes) => Promise<ReportPart | undefined>;

/** A whole report before it is laid out. */
export type Report = Readonly<{ source: EvidenceSource; parts: readonly ReportPart[] }>;

/** Every answer of a report, in its order. */
export const placedAnswers = ({ parts }: Report): readonly PlacedAnswer[] =>
  parts.flatMap(({ answers }) => answers);

/** The answers of a report to one question. */
export const answersTo = <Id extends QuestionId>(
  report: Report,
  id: Id,
): readonly AnswerTo<QuestionOf<Id>>[] =>
  placedAnswers(report).flatMap(({ answer }) =>
    answer.data.question.id === id ? [answer as unknown as AnswerTo<QuestionOf<Id>>] : [],
  );

/** A figure as it is drawn, with the answer it belongs to. */
export type ReportFigure = Readonly<{
  figure: Figure;
  from: Readonly<{ answer: Answer; named: NamedFigure }>;
}>;

/** Every figure of a report, in its order. */
export const reportFigures = ({ parts }: Report): readonly ReportFigure[] =>
  parts.flatMap(({ answers }) =>
    answers.flatMap(({ answer }) =>
      answer.figures.flatMap((named) =>
        drawnFigures(named).map((figure) => ({ figure, from: { answer, named } })),
      ),
    ),
  );
