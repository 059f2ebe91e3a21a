import type { Command } from "commander";

/** What was typed of further files. */
export type TypedOthers = Readonly<{ with?: readonly string[] }>;

/** Adds `--with` to a command that opens a file. */
export const withOthers = (command: Command): Command =>
  command.option(
    "--with <file>",
    "another file that is one with it, such as rows read once; may be given again",
    (path: string, before: readonly string[] | undefined) => [...(before ?? []), path],
  );
