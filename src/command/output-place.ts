/** Where a command writes, and what it may replace there. */
import { createHash } from "node:crypto";
import { basename, relative } from "node:path";
import { Option, type Command } from "commander";
import { figureSizeDefault, figureSizes, type FigureSize } from "../figures/frame.js";
import type { WriteOptions } from "../host/write-whole.js";

/** What was typed about where to write. */
export type TypedPlace = Readonly<{ output?: string; replace?: boolean; size?: FigureSize }>;

/** Adds `--size` to a command that draws. */
export const withSize = (command: Command, what = "with -o: figures"): Command =>
  command.addOption(
    new Option(
      "--size <size>",
      `${what} for a column of text (360 px wide), a page, or a slide (1920 × 1080) (default: ${figureSizeDefault})`,
    ).choices(figureSizes),
  );

/** Adds `-o` and `--replace` to a command. */
export const withOutput = (
  command: Command,
  help: string,
  kind: "directory" | "file" = "directory",
): Command =>
  command
    .option(`-o, --output <${kind}>`, help)
    .option("--replace", `with -o: replace what is there, even what holdbook did not write`);

/**
 * What a directory is said to hold, so that a later run replaces its own work and nobody else's.
 *
 * The path of the file from there tells two files of one name apart; it is not readable, as it may name a person.
 */
export const placeOptions = (
  what: string,
  path: string | undefined,
  directory: string,
  { replace = false }: Pick<TypedPlace, "replace">,
): WriteOptions => {
  if (path === undefined) return { holds: what, replace };
  const way = createHash("sha256").update(relative(directory, path)).digest("hex").slice(0, 12);
  return { holds: `${what} of ${basename(path)} (${way})`, replace, reads: [path] };
};
