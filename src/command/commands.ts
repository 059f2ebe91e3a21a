import type { Command } from "commander";
import { checkCommand } from "./check-command.js";
import { compareCommand } from "./compare-command.js";
import { doseCommand } from "./dose-command.js";
import { effectsCommand } from "./effects-command.js";
import { exploreCommand } from "./explore-command.js";
import { holdCommand } from "./hold-command.js";
import { importCommand } from "./import-command.js";
import { notebookCommand } from "./notebook-command.js";
import { pageCommand } from "./page-command.js";
import { projectCommand } from "./project-command.js";
import { rampCommand } from "./ramp-command.js";
import { reproduceCommand } from "./reproduce-command.js";
import { referencesCommand } from "./references-command.js";
import { reportCommand, startCommand } from "./report-command.js";
import { codebookCommand, templateCommand } from "./template-command.js";
import type { Terminal } from "./terminal.js";
import { variablesCommand } from "./variables-command.js";

/** Runs a command line from its beginning on a terminal of the caller's; the exit code. */
export type RunWords = (words: readonly string[], terminal: Terminal) => Promise<number>;

/**
 * Adds one command to the program; `finish` sets the exit code of a command that did its work, `runWords`
 * lets a command run another.
 */
export type CommandRegistration = (
  program: Command,
  terminal: Terminal,
  finish: (exitCode: number) => void,
  runWords: RunWords,
) => void;

/** Every command, in the order the help lists them. A new command is one file and one line here. */
export const commands: readonly CommandRegistration[] = [
  startCommand,
  templateCommand,
  codebookCommand,
  checkCommand,
  importCommand,
  effectsCommand,
  doseCommand,
  variablesCommand,
  reportCommand,
  holdCommand,
  projectCommand,
  compareCommand,
  exploreCommand,
  rampCommand,
  reproduceCommand,
  referencesCommand,
  notebookCommand,
  pageCommand,
];
