import { runWords } from "../../src/command/run-words.js";
import type { Ran } from "./run-holdbook.js";

/** Runs a command line inside the test's own process: the same code without a process's start. */
export const runHere = async (...words: readonly string[]): Promise<Ran> => {
  const out: string[] = [];
  const err: string[] = [];
  const line = (text: string): string => (text.endsWith("\n") ? text : `${text}\n`);
  const exitCode = await runWords(words, {
    out: (text) => out.push(line(text)),
    err: (text) => err.push(line(text)),
    progress: () => undefined,
    width: 100,
  });
  return { exitCode, out: out.join(""), err: err.join("") };
};
