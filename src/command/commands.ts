import type { Command } from "commander";
import { checkCommand } from "./check-command.js";
import type { Terminal } from "./terminal.js";

/** Adds one command to the program; `finish` sets the exit code of a command that did its work. */
export type CommandRegistration = (
  program: Command,
  terminal: Terminal,
  finish: (exitCode: number) => void,
) => void;

/** Every command, in the order the help lists them. A new command is one file and one line here. */
export const commands: readonly CommandRegistration[] = [checkCommand];
