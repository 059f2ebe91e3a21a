/** What a question makes of a file, kept so that whoever asks again, or asks another question on top, does not wait. */
import type { z } from "zod";
import { keptLately } from "../projection/kept-lately.js";
import type { Evidence } from "./evidence.js";
import { resolvedOptions } from "./option.js";
import type { Options, Question, Tell } from "./question.js";

/** What stands in for a file where a question needs none. */
const noFile = {};

/** Fits of one file. */
const fitted = keptLately(24);

/**
 * What a question makes of a file; made once for the same file and options, whoever asks.
 *
 * @param options as `resolvedOptions` gives them
 */
export const preparedFor = <Shape extends z.ZodRawShape, Prepared>(
  asked: Pick<Question<Shape, Prepared>, "id" | "choices" | "prepare">,
  evidence: Evidence | undefined,
  options: Options<Shape>,
  tell: Tell = () => undefined,
): Prepared => {
  const lasting = Object.fromEntries(
    Object.entries(options).filter(([name]) => !asked.choices.includes(name)),
  );
  const key = JSON.stringify([asked.id, lasting]);
  return fitted(evidence ?? noFile, key, () =>
    asked.prepare(evidence as Evidence, options, tell),
  ) as Prepared;
};

/**
 * One question asked by another, with those of its options that it takes too; what it makes of the file is kept.
 *
 * @param given options of the one that asks
 */
export const askedOf = <Shape extends z.ZodRawShape, Prepared, Data extends object>(
  asked: Question<Shape, Prepared, Data>,
  evidence: Evidence,
  given: Readonly<Record<string, unknown>>,
  tell: Tell = () => undefined,
) => {
  const taken = Object.entries(given).filter(([name]) => Object.hasOwn(asked.options, name));
  const options = resolvedOptions(asked.options, Object.fromEntries(taken));
  const prepared = preparedFor(asked, evidence, options, tell);
  return {
    options,
    prepared,
    answer: (choices: object = {}) => asked.answer(prepared, { ...options, ...choices }, tell),
  };
};
