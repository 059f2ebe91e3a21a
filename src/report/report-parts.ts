/** The parts of a report, in its order. A new part is one file and one line here. */
import { boundAsk } from "../answers/ask.js";
import { usableRows, type Evidence } from "../answers/evidence.js";
import type { Tell } from "../answers/question.js";
import { projectionGoals } from "../answers/goal-fit.js";
import { dataPart, effectsPart } from "./data-parts.js";
import { dosePart, specialQuestionsPart, variablesPart } from "./dose-parts.js";
import { answersPart, pooledPart } from "./pooled-parts.js";
import { protocolGoalPart, protocolsPart } from "./protocol-parts.js";
import type { PartMaker, Report, ReportPart, ReportWishes } from "./report-part.js";

const partMakers: readonly PartMaker[] = [
  answersPart,
  dataPart,
  pooledPart,
  effectsPart,
  variablesPart,
  dosePart,
  specialQuestionsPart,
  protocolsPart,
  ...projectionGoals.map(protocolGoalPart),
];

/**
 * A report on a file: every part asks its questions with the options given here.
 *
 * @param options row filter, scale, assumptions and confidence, for every question that takes them
 * @param wishes  protocols to project, where there are any
 * @param tell    called with a line before each longer step
 * @throws {DataError} when no row of the file can be used
 * @source none: an order of parts
 */
export const reportOn = async (
  evidence: Evidence,
  options: Readonly<Record<string, unknown>> = {},
  wishes: ReportWishes = {},
  tell: Tell = () => undefined,
): Promise<Report> => {
  usableRows(evidence);
  const ask = boundAsk(evidence, options, tell);
  const parts: ReportPart[] = [];
  for (const make of partMakers) {
    const part = await make(ask, wishes);
    if (part !== undefined) parts.push(part);
  }
  return { source: evidence.source, parts };
};
