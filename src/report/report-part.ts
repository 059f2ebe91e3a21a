/** What a report is made of: answers under headings. */
import type { Answer } from "../answers/answer.js";
import type { BoundAsk } from "../answers/ask.js";
import type { Evidence, EvidenceSource } from "../answers/evidence.js";
import type { OlderFile } from "../answers/older-file.js";
import type { AnswerTo } from "../answers/question.js";
import type { QuestionId, QuestionOf } from "../answers/question-list.js";
import { drawnFigures, type FigureName, type NamedFigure } from "../figures/figure-list.js";
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
  /** Stands behind the evidence: what the answers rest on. */
  appendix?: true;
}>;

export type NamedProtocol = Readonly<{ name: string; protocol: string }>;

/** What a report is asked for beyond the file itself. */
export type ReportWishes = Readonly<{
  /** Protocols to project and compare, each as it is typed. */
  protocols?: readonly NamedProtocol[];
  /** A person's decisions of certainty, as their file has them. */
  decisions?: string;
  /** Statements to put to the test, as the text of their file. */
  statements?: string;
  /** Every figure of every answer, and not only those that are read. */
  allFigures?: boolean;
  /** A file or a report that this one follows: what is new since then is told. */
  since?: OlderFile;
  /** Long tables in the page, and each study left out in turn. */
  full?: boolean;
}>;

/** Makes a part by asking, or nothing where the file or the wishes give no occasion for one. */
export type PartMaker = (ask: Ask, wishes: ReportWishes) => Promise<ReportPart | undefined>;

/** A whole report before it is laid out. */
export type Report = Readonly<{
  source: EvidenceSource;
  /** The rows it was made of, for a later file to be set beside it. */
  table?: Pick<Evidence["table"], "header" | "rows">;
  parts: readonly ReportPart[];
}>;

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

/** An answer with those of its figures that the report shows, the first so many. */
export const showing = <Shown extends Pick<Answer, "figures">>(
  answer: Shown,
  names: readonly FigureName[],
  { allFigures }: ReportWishes,
  most = Infinity,
): Shown =>
  allFigures === true
    ? answer
    : {
        ...answer,
        figures: answer.figures.filter(({ name }) => names.includes(name)).slice(0, most),
      };

/** A figure as it is drawn, with the answer it belongs to. */
export type ReportFigure = Readonly<{
  figure: Figure;
  from: Readonly<{ answer: Answer; named: NamedFigure }>;
}>;

/** Every figure of a report, in its order; one that stands in two places is drawn once. */
export const eachReportFigure = function* (
  report: Report,
  draw: (named: NamedFigure) => readonly Figure[] = drawnFigures,
): Generator<ReportFigure> {
  const drawn = new Set<string>();
  for (const { answer } of placedAnswers(report))
    for (const named of answer.figures) {
      if (drawn.has(named.data.id)) continue;
      drawn.add(named.data.id);
      for (const figure of draw(named)) yield { figure, from: { answer, named } };
    }
};

/** The same as a list. */
export const reportFigures = (report: Report): readonly ReportFigure[] => [
  ...eachReportFigure(report),
];
