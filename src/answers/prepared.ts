/** What a question makes of a file, kept so that whoever asks again, or asks another question on top, does not wait. */
import type { z } from "zod";
import type { Evidence } from "./evidence.js";
import { resolvedOptions } from "./option.js";
import type { Options, Question, Tell } from "./question.js";

/** What stands in for a file where a question needs none. */
const noFile = {};

const fitted = new WeakMap<object, Map<string, unknown>>();

/** Fits kept for one file; beyond that the oldest are made again when they are asked for. */
const mostKept = 24;

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
  const kept = fitted.get(evidence ?? noFile) ?? new Map<string, unknown>();
  fitted.set(evidence ?? noFile, kept);
  const lasting = Object.fromEntries(
    Object.entries(options).filter(([name]) => !asked.choices.includes(name)),
  );
  const key = JSON.stringify([asked.id, lasting]);
  if (kept.has(key)) return kept.get(key) as Prepared;
  const prepared = asked.prepare(evidence as Evidence, options, tell);
  const [oldest] = kept.keys();
  if (kept.size >= mostKept && oldest !== undefined) kept.delete(oldest);
  kept.set(key, prepared);
  return prepared;
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
