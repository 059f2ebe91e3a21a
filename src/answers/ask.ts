/** Asks a question: options read, what the file gives fitted once, the answer made plain. */
import type { z } from "zod";
import { CallError } from "../errors.js";
import { nearestWord } from "../protocol/nearest-word.js";
import { plainJson, answerVersion, type Answer } from "./answer.js";
import type { Evidence, EvidenceSource } from "./evidence.js";
import type { FrameWords } from "../figures/frame.js";
import { holdbookVersion } from "./version.js";
import { answerNamed } from "./named-lines.js";
import { plainWord, resolvedOptions, wordsOf } from "./option.js";
import { agesOf, cautionsWith, withoutProfile } from "./profile.js";
import { preparedFor } from "./prepared.js";
import { toReadFirst } from "./reading-list.js";
import { doubtedRows } from "./row-doubts.js";
import type { AnswerTo, OptionsFor, Question, Tell } from "./question.js";
import { shareWork, type Help } from "./shared-work.js";
import { questionIds, questionList, type QuestionId, type QuestionOf } from "./question-list.js";

const quiet: Tell = () => undefined;

/** What the frame of a figure says of the file; the beginning of the fingerprint tells files of one name apart. */
const framedBy = ({ name, fingerprint, invented }: EvidenceSource): FrameWords => ({
  source: `${name}, fingerprint ${fingerprint.slice(0, 8)}. Holdbook ${holdbookVersion}.`,
  ...(invented ? { invented } : {}),
});

/** Options as they are kept: of a further file its name and fingerprint. */
const namedFiles = (
  shape: z.ZodRawShape,
  options: Readonly<Record<string, unknown>>,
): Readonly<Record<string, unknown>> =>
  Object.fromEntries(
    Object.entries(options).map(([name, value]) => {
      if (wordsOf(shape[name] as z.ZodType).opensFile !== true) return [name, value];
      const { source } = value as Pick<Evidence, "source">;
      return [name, { name: source.name, fingerprint: source.fingerprint }];
    }),
  );

/**
 * The answer to a question whose options are known.
 *
 * @param evidence the open file; undefined for questions that need none
 */
export const answered = <Shape extends z.ZodRawShape, Prepared, Data extends object>(
  asked: Question<Shape, Prepared, Data>,
  evidence: Evidence | undefined,
  given: Readonly<Record<string, unknown>>,
  tell: Tell = quiet,
): Answer<Data> => {
  const options = resolvedOptions(asked.options, given);
  const draft = asked.answer(preparedFor(asked, evidence, options, tell), options, tell);
  const {
    headline,
    sentences = [],
    tables = [],
    figures = [],
    notes = [],
    prescriptions,
    sheets = [],
    untold = [],
  } = draft;
  const [lasting, profile] = withoutProfile(asked.options, options);
  const cautions =
    prescriptions === undefined
      ? null
      : cautionsWith(prescriptions, profile, evidence === undefined ? undefined : agesOf(evidence));
  // The list of problems is itself about doubts; every other answer says beside its number what it rests on.
  const inDoubt =
    evidence === undefined || asked.id === "check"
      ? undefined
      : doubtedRows(evidence.records, draft.data.rowsUsed ?? []);
  const told = answerNamed(
    {
      headline,
      sentences: [
        ...(inDoubt === undefined ? [] : [inDoubt]),
        ...sentences,
        // Real trials decide nothing about invented ones.
        ...(evidence === undefined || evidence.source.invented ? [] : toReadFirst(untold)),
      ],
      tables,
      notes,
    },
    evidence?.files,
  );
  return plainJson({
    ...told,
    figures:
      evidence === undefined
        ? figures
        : figures.map((figure) => ({
            ...figure,
            data: { ...figure.data, ...framedBy(evidence.source) },
          })),
    cautions,
    sheets,
    data: {
      version: answerVersion,
      question: { id: asked.id, options: namedFiles(asked.options, lasting) },
      file: evidence?.source ?? null,
      scale: null,
      contrast: null,
      confidence: null,
      rowsUsed: [],
      doubts: notes,
      refusal: draft.refusal ?? null,
      cautions,
      ...draft.data,
    },
  }) as unknown as Answer<Data>;
};

/**
 * The same, after those who help have done what can be shared; the same answer, whoever helps.
 *
 * @param help who shares long work; none where left out
 */
export const answeredWith = async <Shape extends z.ZodRawShape, Prepared, Data extends object>(
  asked: Question<Shape, Prepared, Data>,
  evidence: Evidence | undefined,
  given: Readonly<Record<string, unknown>>,
  tell: Tell = quiet,
  help?: Help,
): Promise<Answer<Data>> => {
  await shareWork(asked, evidence, given, tell, help);
  return answered(asked, evidence, given, tell);
};

/** The id of a question, in any spelling. */
export const questionIdOf = (text: string): QuestionId => {
  const found = questionIds.find((id) => id === plainWord(text));
  if (found !== undefined) return found;
  const near = nearestWord(plainWord(text), questionIds);
  throw new CallError({
    code: "unknown-question",
    where: "a question",
    needs: `one of ${questionIds.join(", ")}`,
    got: `"${text}"`,
    ...(near === undefined ? {} : { try: `did you mean ${near}?` }),
  });
};

/**
 * The answer to a question about a file, or about a protocol alone.
 *
 * @param id       question, e.g. "pool"
 * @param options  those left out have their defaults; values as typed or as numbers and lists
 * @param evidence from `openEvidence`; undefined for questions that need no file
 * @param tell     called with a line before each longer step
 * @param help     who shares long work; none where left out
 * @throws {CallError} naming the option that cannot be read, or the file that is missing
 */
export const ask = async <Id extends QuestionId>(
  id: Id,
  options: OptionsFor<QuestionOf<Id>> | Readonly<Record<string, unknown>> = {},
  evidence?: Evidence,
  tell: Tell = quiet,
  help?: Help,
): Promise<AnswerTo<QuestionOf<Id>>> => {
  const entry = questionList[questionIdOf(id)];
  if (entry.needs === "file" && evidence === undefined)
    throw new CallError({
      code: "no-file",
      where: `the question ${id}`,
      needs: "a file",
      got: "none",
    });
  const asked = await entry.load();
  return (await answeredWith(
    asked as unknown as Question,
    entry.needs === "file" ? evidence : undefined,
    options,
    tell,
    help,
  )) as unknown as AnswerTo<QuestionOf<Id>>;
};

/** Asks questions of one file; the options that all of them share are given once. */
export type BoundAsk = <Id extends QuestionId>(
  id: Id,
  options?: OptionsFor<QuestionOf<Id>>,
) => Promise<AnswerTo<QuestionOf<Id>>>;

/**
 * Asks questions of one file, each with the shared options that it takes.
 *
 * @param shared options given to every question that has them, such as the row filter; a question's own come first
 * @param help   who shares long work; none where left out
 */
export const boundAsk =
  (
    evidence: Evidence | undefined,
    shared: Readonly<Record<string, unknown>> = {},
    tell: Tell = quiet,
    help?: Help,
  ): BoundAsk =>
  async (id, options) => {
    const { options: taken } = await questionList[id].load();
    const given = Object.entries(shared).filter(([name]) => Object.hasOwn(taken, name));
    return ask(id, { ...Object.fromEntries(given), ...options }, evidence, tell, help);
  };
