import type { CommandRegistration } from "./terminal.js";

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
  verify: async () => (await import("./reproduce-command.js")).verifyCommand,
  references: async () => (await import("./references-command.js")).referencesCommand,
  notebook: async () => (await import("./notebook-command.js")).notebookCommand,
  page: async () => (await import("./page-command.js")).pageCommand,
};
