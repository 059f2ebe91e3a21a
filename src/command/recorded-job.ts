import { basename } from "node:path";
import type { Command } from "commander";
import { readBytes } from "../host/read-bytes.js";
import type { FigureJob, RecipeData, RecipeWord } from "../report/figure-recipe.js";

/** Options that say where an answer goes and not what it is. */
const notSettings = new Set(["output", "json", "quiet"]);

/** Raw words of options as they are read, by the option's long form. */
export type TypedOptions = ReadonlyMap<string, readonly string[]>;

/** Remembers the words that each option of a command is given. */
export const rememberOptions = (command: Command): TypedOptions => {
  const typed = new Map<string, string[]>();
  for (const option of command.options) {
    const long = option.long ?? option.flags;
    command.on(`option:${option.name()}`, (word: unknown) => {
      typed.set(long, [...(typed.get(long) ?? []), ...(typeof word === "string" ? [word] : [])]);
    });
  }
  return typed;
};

const textInput = async (path: string): Promise<RecipeWord> => ({
  input: "text",
  name: basename(path),
  text: new TextDecoder().decode(await readBytes(path)),
});

/** A default as words; one that is no plain word, such as an empty list, says that nothing was asked for. */
const defaultWords = (value: unknown): readonly string[] =>
  typeof value === "string" || typeof value === "number" ? [String(value)] : [];

/** The words of one option: as typed, or its default made explicit. */
const optionWords = async (
  command: Command,
  option: Command["options"][number],
  typed: TypedOptions,
): Promise<readonly RecipeWord[]> => {
  const key = option.attributeName();
  const long = option.long ?? option.flags;
  const value: unknown = command.getOptionValue(key);
  if (notSettings.has(key) || value === undefined || value === false) return [];
  if (value === true) return [long];
  const words =
    command.getOptionValueSource(key) === "default" ? defaultWords(value) : (typed.get(long) ?? []);
  const namesFile = /<file>/.test(option.flags);
  const parts = await Promise.all(
    words.map(async (word) => [long, namesFile ? await textInput(word) : word]),
  );
  return parts.flat();
};

/**
 * What a running command was asked for, for the recipes of its figures: its words with every default
 * made explicit, small files kept as text, and the fingerprint of its data file.
 *
 * @param command the command of the program that is running
 * @param typed   from `rememberOptions` of the same command
 */
export const recordedJob = async (command: Command, typed: TypedOptions): Promise<FigureJob> => {
  const [first] = command.registeredArguments;
  const takesData = first?.name() === "file";
  const words: RecipeWord[] = [command.name()];
  const operands = [...command.args];
  let data: RecipeData | null = null;
  if (takesData) {
    words.push({ input: "data" });
    const path = operands.shift();
    if (path !== undefined) {
      const { fingerprintOf } = await import("./read-input.js");
      data = { name: basename(path), fingerprint: fingerprintOf(await readBytes(path)) };
    }
  }
  words.push(...operands);
  for (const option of command.options) words.push(...(await optionWords(command, option, typed)));
  return { command: words, data };
};
