import { runWords } from "../../src/command/run-words.js";

export type Ran = Readonly<{ exitCode: number | null; out: string; err: string }>;

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

/** The JSON object a command prints; refused unless it is all that it prints, on both streams. */
export const jsonOf = async <Shape>(...words: readonly string[]): Promise<Shape> => {
  const { exitCode, out, err } = await runHere(...words, "--json");
  if (exitCode !== 0 || err !== "") throw new Error(`exit ${exitCode}: ${err}`);
  return JSON.parse(out) as Shape;
};
