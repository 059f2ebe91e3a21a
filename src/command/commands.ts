import type { Command } from "commander";
import type { Terminal } from "./terminal.js";

/** Adds one command to the program; `finish` sets the exit code of a command that did its work. */
export type CommandRegistration = (
  program: Command,
  terminal: Terminal,
  finish: (exitCode: number) => void,
) => void;

/**
 * Every command by its name, in the order the help lists them; each is loaded when it is asked for, so that
 * a quick one starts quickly. A new command is one file and one line here.
 */
export const commands: Readonly<Record<string, () => Promise<CommandRegistration>>> = {
  start: async () => (await import("./report-command.js")).startCommand,
  template: async () => (await import("./template-command.js")).templateCommand,
  codebook: async () => (await import("./template-command.js")).codebookCommand,
  import: async () => (await import("./import-command.js")).importCommand,
  report: async () => (await import("./report-command.js")).reportCommand,
  reproduce: async () => (await import("./reproduce-command.js")).reproduceCommand,
  references: async () => (await import("./references-command.js")).referencesCommand,
  notebook: async () => (await import("./notebook-command.js")).notebookCommand,
  page: async () => (await import("./page-command.js")).pageCommand,
};
