import type { Answer } from "../../answers/answer.js";
import { boundAsk, questionIdOf } from "../../answers/ask.js";
import type { Job } from "./bench.js";

type Options = Readonly<Record<string, unknown>>;

/** A question with its options as the page holds them, and those that every question of the page shares. */
export type QuestionAsked = Readonly<{ id: string; options: Options; shared?: Options }>;

/** The answer to a question about the open file, the same as every other door gives. */
export const askJob: Job<QuestionAsked, Answer> = async (bench, { id, options, shared }, tell) =>
  await boundAsk(bench.file, shared, tell)(questionIdOf(id), options as never);
