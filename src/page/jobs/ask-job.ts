import type { Answer } from "../../answers/answer.js";
import type { AddedRows } from "../../answers/added-rows.js";
import { boundAsk, questionIdOf } from "../../answers/ask.js";
import { evidenceWith } from "./added-job.js";
import type { Job } from "./bench.js";

type Options = Readonly<Record<string, unknown>>;

/** A question with its options as the page holds them, and those that every question of the page shares. */
export type QuestionAsked = Readonly<{
  id: string;
  options: Options;
  shared?: Options;
  /** Rows that are being typed, to ask of the file with them. */
  added?: AddedRows;
}>;

/** The answer to a question about the open file, the same as every other door gives. */
export const askJob: Job<QuestionAsked, Answer> = async (
  bench,
  { id, options, shared, added },
  tell,
) =>
  await boundAsk(
    added === undefined ? bench.file : evidenceWith(bench, added),
    shared,
    tell,
  )(questionIdOf(id), options as never);
