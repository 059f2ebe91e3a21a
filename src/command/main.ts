#!/usr/bin/env node
import { runWords } from "./run-words.js";
import { processTerminal } from "./terminal.js";

// A reader such as `head` may close the pipe early; that is not a failure of the command.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(0);
  throw error;
});
const words = process.argv.slice(2);
process.exitCode = await runWords(words, processTerminal(words.includes("--quiet")));
