import type { Answer } from "../../answers/answer.js";
import type { AddedRows } from "../../answers/added-rows.js";
import { boundAsk, questionIdOf } from "../../answers/ask.js";
import { evidenceWith } from "./added-job.js";
import type { OpenFile } from "../open-file.js";
import type { Job } from "./bench.js";
import { olderOnPage } from "./open-job.js";

type Options = Readonly<Record<string, unknown>>;

/** A question with its options as the page holds them, and those that every question of the page shares. */
export type QuestionAsked = Readonly<{
  id: string;
  options: Options;
  shared?: Options;
  /** Rows that are being typed, to ask of the file with them. */
  added?: AddedRows;
}>;

/** Options with further files opened, where the page hands any over. */
const openedIn = async (options: Options): Promise<Options> => {
  const entries = Object.entries(options).map(async ([name, value]) => [
    name,
    isFile(value) ? await olderOnPage(value) : value,
  ]);
  return Object.fromEntries(await Promise.all(entries)) as Options;
};

const isFile = (value: unknown): value is OpenFile =>
  typeof value === "object" && value !== null && "bytes" in value;

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
    bench.help,
  )(questionIdOf(id), (await openedIn(options)) as never);
