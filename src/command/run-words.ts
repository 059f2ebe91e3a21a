import { Command, CommanderError } from "commander";
import type { Question } from "../answers/question.js";
import { questionIds, questionList } from "../answers/question-list.js";
import { CallError, ConvergenceError, DataError, issueText } from "../errors.js";
import { commands, type RunWords } from "./commands.js";
import { questionCommand } from "./question-command.js";
import { recordedJob, rememberOptions } from "./recorded-job.js";
import type { Terminal } from "./terminal.js";

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

/** Runs one command line on a terminal and returns its exit code. */
export const runWords: RunWords = async (words, terminal) => {
  const program = new Command("holdbook")
    .description(
      "Puts published isometric-training outcomes on one scale, pools them and says how sure it is.",
    )
    .configureOutput({ writeOut: terminal.out, writeErr: terminal.err })
    .exitOverride()
    .showHelpAfterError("(add --help for what this command takes)");
  let exitCode = 0;
  const wanted = questionIds.find((id) => id === words.find((word) => !word.startsWith("-")));
  // Only the question that is asked is loaded, with the rooms it needs.
  const asked = wanted === undefined ? undefined : await questionList[wanted].load();
  let running: Terminal["job"];
  const withJob: Terminal = {
    ...terminal,
    job: () => (running === undefined ? Promise.reject(new Error("no command runs")) : running()),
  };
  const finish = (code: number): void => {
    exitCode = code;
  };
  for (const id of questionIds)
    questionCommand(
      program,
      id,
      id === wanted ? (asked as unknown as Question) : undefined,
      withJob,
      finish,
    );
  for (const command of commands) command(program, withJob, finish, runWords);
  for (const subcommand of program.commands) {
    subcommand.option("--quiet", "no progress lines");
    subcommand.exitOverride();
    const typed = rememberOptions(subcommand);
    subcommand.hook("preAction", () => {
      running = () => recordedJob(subcommand, typed);
    });
  }
  try {
    await program.parseAsync([...words], { from: "user" });
    return exitCode;
  } catch (error) {
    return exitCodeFor(error, terminal);
  }
};
