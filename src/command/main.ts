#!/usr/bin/env node
import { fileProblem } from "../host/file-problem.js";
import { guarded, processTerminal } from "./terminal.js";

const words = process.argv.slice(2);
const terminal = processTerminal(words.includes("--quiet"));
let failed: number | undefined;

/** Says what went wrong and remembers it; with too few file handles even the program's own files cannot be read. */
const fail = async (error: unknown): Promise<void> => {
  try {
    const { exitCodeFor } = await import("./run-words.js");
    failed = await exitCodeFor(error, words, guarded(terminal));
  } catch (second) {
    const problem = fileProblem(second, "holdbook", "its own files");
    terminal.err(problem instanceof Error ? problem.message : String(problem));
    failed = 2;
  }
  process.exitCode = failed;
};

// A reader such as `head` may close the pipe early; that is not a failure of the command, and its exit code stands.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") void fail(error);
});
process.stderr.on("error", () => undefined);
process.on("uncaughtException", (error) => {
  void fail(error).finally(() => process.exit());
});
try {
  const { runWords } = await import("./run-words.js");
  const code = await runWords(words, terminal);
  process.exitCode = failed ?? code;
} catch (error) {
  await fail(error);
}
