import type { Command } from "commander";

/** What was typed of further files, and of sheets. */
export type TypedFiles = Readonly<{ with?: readonly string[]; sheet?: readonly string[] }>;

const again = (word: string, before: readonly string[] | undefined) => [...(before ?? []), word];

/** Adds `--sheet` to a command that reads a table. */
export const withSheet = (command: Command): Command =>
  command.option(
    "--sheet <name>",
    "sheet of a workbook (.xlsx), the first by default; may be given once for each workbook",
    again,
  );

/** Adds `--with` and `--sheet` to a command that opens a file. */
export const withFiles = (command: Command): Command =>
  withSheet(
    command.option(
      "--with <file>",
      "another file that is one with it, such as rows read once; may be given again",
      again,
    ),
  );
