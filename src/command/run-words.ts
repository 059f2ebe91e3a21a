import { Command, CommanderError } from "commander";
import { holdbookVersion } from "../answers/version.js";
import type { Question } from "../answers/question.js";
import { questionIds, questionList, wordsOfToday } from "../answers/question-list.js";
import { CallError, ConvergenceError, DataError, issueText } from "../errors.js";
import { fileProblem } from "../host/file-problem.js";
import { commandNames, commands, helpOf } from "./commands.js";
import { guarded, type Terminal } from "./terminal.js";

/**
 * Exit codes: 0 done, 1 the data cannot be used, 2 the command cannot be answered, 3 no convergence, 4 a mistake of
 * the program.
 */
export const exitCodeFor = async (
  thrown: unknown,
  words: readonly string[],
  terminal: Terminal,
): Promise<number> => {
  const error = fileProblem(thrown, "holdbook", "files that can be read and written");
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
  const { unexpectedSentence } = await import("./unexpected.js");
  terminal.err((terminal.unexpected ?? ((one) => unexpectedSentence(one, words)))(error));
  return 4;
};

/** Runs one command line on a terminal and returns its exit code. */
export const runWords = async (given: readonly string[], open: Terminal): Promise<number> => {
  const terminal = guarded(open);
  const words = wordsOfToday(given);
  const program = new Command("holdbook")
    .description(
      "Puts published isometric-training outcomes on one scale, pools them and says how sure it is.",
    )
    .version(holdbookVersion)
    .configureOutput({ writeOut: terminal.out, writeErr: terminal.err })
    .exitOverride()
    .addHelpCommand(
      new Command("help")
        .argument("[command]")
        .description("the same as --help")
        .helpGroup("Help:"),
    )
    .showHelpAfterError("(add --help for what this command takes)");
  let exitCode = 0;
  const finish = (code: number): void => {
    exitCode = code;
  };
  const word = words.find((each) => !each.startsWith("-")) ?? "";
  try {
    const id = questionIds.find((each) => each === word);
    // Only what is asked for is loaded, with the rooms it needs; help, and a name that is none, need every name.
    if (id !== undefined) {
      const { questionCommand } = await import("./question-command.js");
      const asked = (await questionList[id].load()) as unknown as Question;
      questionCommand(program, id, asked, terminal, finish);
    } else if (Object.hasOwn(commands, word))
      (await commands[word]!.load())(program, terminal, finish);
    else
      for (const name of commandNames) {
        const question = questionIds.find((each) => each === name);
        if (question === undefined) (await commands[name]!.load())(program, terminal, finish);
        else program.command(name).description(questionList[question].asks);
      }
    for (const subcommand of program.commands) {
      subcommand.option("--quiet", "no progress lines");
      subcommand.exitOverride();
      const { group, example } = helpOf(subcommand.name());
      subcommand
        .helpGroup(group)
        .summary(`${subcommand.description()}\n  ${example}`)
        .addHelpText("after", `\nExample:\n  ${example}`);
    }
    await program.parseAsync([...words], { from: "user" });
    return exitCode;
  } catch (error) {
    return exitCodeFor(error, given, terminal);
  }
};
