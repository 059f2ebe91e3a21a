/** The parts of a report, in its order. A new part is one file and one line here. */
import { answerVersion, type Answer } from "../answers/answer.js";
import { boundAsk } from "../answers/ask.js";
import { usableRows, type Evidence } from "../answers/evidence.js";
import { projectionGoals } from "../answers/goal-fit.js";
import type { AnswerTo, Tell } from "../answers/question.js";
import type { Help } from "../answers/shared-work.js";
import { questionList, type QuestionOf } from "../answers/question-list.js";
import { CallError, DataError } from "../errors.js";
import { capital } from "../tables/number-format.js";
import {
  briefPart,
  changesPart,
  dataPart,
  doubtsPart,
  effectsPart,
  statementsPart,
  studiesPart,
  surePart,
  settlePart,
} from "./data-parts.js";
import { dosePart, specialQuestionsPart, variablesPart } from "./dose-parts.js";
import { answersPart, pooledPart } from "./pooled-parts.js";
import { protocolGoalPart, protocolsPart } from "./protocol-parts.js";
import type {
  Ask,
  PartMaker,
  PlacedAnswer,
  Report,
  ReportPart,
  ReportWishes,
} from "./report-part.js";

const partMakers: readonly PartMaker[] = [
  briefPart,
  changesPart,
  answersPart,
  variablesPart,
  dosePart,
  specialQuestionsPart,
  protocolsPart,
  ...projectionGoals.map(protocolGoalPart),
  surePart,
  statementsPart,
  doubtsPart,
  settlePart,
  studiesPart,
  pooledPart,
  dataPart,
  effectsPart,
];

/** What stands in the place of an answer that a mistake of the program took. */
const unanswered = ({ source }: Evidence, said: string): Answer => ({
  headline: `Could not be answered. ${said}`,
  sentences: [],
  tables: [],
  figures: [],
  notes: [],
  cautions: null,
  sheets: [],
  data: {
    version: answerVersion,
    question: { id: "unanswered", options: {} },
    file: source,
    scale: null,
    contrast: null,
    confidence: null,
    rowsUsed: [],
    doubts: [],
    refusal: null,
    cautions: null,
  },
});

/** Whether an answer was lost to a mistake of the program. */
export const isUnanswered = ({ answer }: PlacedAnswer): boolean =>
  answer.data.question.id === "unanswered";

const mistakeWords = (error: unknown): string =>
  `Holdbook met something it was not made for (${error instanceof Error ? error.name : "a mistake"}).`;

/** What cannot be used and what was wished wrongly are told to whoever asked; all else is a mistake of the program. */
const isTold = (error: unknown): boolean =>
  error instanceof DataError || (error instanceof CallError && error.where.startsWith("--"));

/**
 * A report on a file: every part asks its questions with the options given here.
 *
 * A question that ends in a mistake of the program costs its own answer and is said to; the rest of the report comes out.
 *
 * @param options row filter, scale, assumptions and confidence, for every question that takes them
 * @param wishes  protocols to project, where there are any
 * @param calls   `tell`: called with a line before each longer step; `mistake`: what to say of a mistake of the program,
 *   such as where it was written down; `help`: who shares long work
 * @throws {DataError} when no row of the file can be used
 * @source none: an order of parts
 */
export const reportOn = async (
  evidence: Evidence,
  options: Readonly<Record<string, unknown>> = {},
  wishes: ReportWishes = {},
  {
    tell,
    mistake = mistakeWords,
    help,
  }: Readonly<{ tell?: Tell; mistake?: (error: unknown) => string; help?: Help | undefined }> = {},
): Promise<Report> => {
  usableRows(evidence);
  const ask = boundAsk(evidence, options, tell, help);
  const lost = new Map<string, PlacedAnswer>();
  let isLame = false;
  const lose = (key: string, title: string, error: unknown): Answer => {
    if (isTold(error)) throw error;
    isLame = true;
    const known = lost.get(key)?.answer;
    if (known !== undefined) return known;
    const answer = unanswered(evidence, mistake(error));
    lost.set(key, { id: `unanswered-${lost.size + 1}`, title, answer });
    return answer;
  };
  const tried: Ask = async (id, asked) => {
    try {
      return await ask(id, asked);
    } catch (error) {
      const title = capital(questionList[id].asks);
      return lose(JSON.stringify([id, asked]), title, error) as unknown as AnswerTo<
        QuestionOf<typeof id>
      >;
    }
  };
  const parts: ReportPart[] = [];
  for (const [place, make] of partMakers.entries()) {
    isLame = false;
    try {
      const part = await make(tried, wishes);
      if (part !== undefined) parts.push(part);
    } catch (error) {
      // What a part makes of an answer that is lost may fail for that reason, which is said already.
      if (!isLame || isTold(error)) lose(`part ${place}`, "A part of this report", error);
    }
  }
  const placed = new Set(parts.flatMap(({ answers }) => answers.map(({ answer }) => answer.data)));
  const answers = [...lost.values()].filter(({ answer }) => !placed.has(answer.data));
  if (answers.length > 0)
    parts.push({ id: "unanswered", title: "Not answered", lead: [], answers });
  return { source: evidence.source, table: evidence.table, parts };
};
