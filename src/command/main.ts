#!/usr/bin/env node
import { Command, CommanderError } from "commander";
import { CallError, ConvergenceError, DataError, issueText } from "../errors.js";
import { commands } from "./commands.js";
import { processTerminal, type Terminal } from "./terminal.js";

/** Exit codes: 0 done, 1 the data cannot be used, 2 the command cannot be answered, 3 no convergence. */
const exitCodeFor = (error: unknown, terminal: Terminal): number => {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  if (error instanceof DataError) {
    for (const issue of error.issues) terminal.err(issueText(issue));
    return 1;
  }
  if (error instanceof CallError) {
    terminal.err(error.message);
    return 2;
  }
  if (error instanceof ConvergenceError) {
    terminal.err(error.message);
    return 3;
  }
  throw error;
};

/** Runs one command line and returns its exit code. */
const run = async (argumentList: readonly string[]): Promise<number> => {
  const terminal = processTerminal(argumentList.includes("--quiet"));
  const program = new Command("holdbook")
    .description(
      "Puts published isometric-training outcomes on one scale, pools them and says how sure it is.",
    )
    .configureOutput({ writeOut: terminal.out, writeErr: terminal.err })
    .exitOverride()
    .showHelpAfterError("(add --help for what this command takes)");
  let exitCode = 0;
  for (const command of commands)
    command(program, terminal, (code) => {
      exitCode = code;
    });
  for (const subcommand of program.commands) {
    subcommand.option("--quiet", "no progress lines");
    subcommand.exitOverride();
  }
  try {
    await program.parseAsync([...argumentList], { from: "user" });
    return exitCode;
  } catch (error) {
    return exitCodeFor(error, terminal);
  }
};

// A reader such as `head` may close the pipe early; that is not a failure of the command.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(0);
  throw error;
});
process.exitCode = await run(process.argv.slice(2));
