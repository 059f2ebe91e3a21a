/** What becomes of a mistake of the program: one sentence, and a file that can be sent. */
import { writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { holdbookVersion } from "../answers/version.js";

/** A message without what it quotes, which may be out of someone's file. */
const withoutQuotes = (message: string): string =>
  (message.split("\n")[0] ?? "").replace(/"[^"]*"|“[^”]*”|`[^`]*`/g, '"…"').slice(0, 300);

/** Where in the program it happened, each file with its folder alone, as the path above may name a person. */
const placesOf = (error: Error): readonly string[] =>
  (error.stack ?? "")
    .split("\n")
    .filter((line) => /^\s+at /.test(line))
    .map((line) => line.replace(/[^\s()]*[\\/](?=[^\s()\\/]+[\\/][^\s()\\/]+:\d)/g, ""));

const fileText = (error: unknown, words: readonly string[]): string => {
  const known = error instanceof Error ? error : new Error(String(error));
  return [
    "Holdbook met something it was not made for.",
    "This file holds the words of the command, the versions and the place in the program; nothing out of a data file.",
    "",
    `command: holdbook ${words.map((word) => JSON.stringify(word)).join(" ")}`,
    `versions: Holdbook ${holdbookVersion}, Node ${process.versions.node}, ${process.platform} ${process.arch}`,
    `what: ${known.name}: ${withoutQuotes(known.message)}`,
    ...placesOf(known),
    "",
  ].join("\n");
};

/** A free name, so that no earlier one is lost. */
const written = (folder: string, text: string): string | undefined => {
  for (let number = 1; number <= 99; number += 1) {
    const path = join(folder, `holdbook-problem${number === 1 ? "" : `-${number}`}.txt`);
    try {
      writeFileSync(path, text, { flag: "wx" });
      return path;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "EEXIST") return undefined;
    }
  }
  return undefined;
};

/** The sentence about a mistake of the program; the file it names is written where the person stands, if that can be. */
export const unexpectedSentence = (
  error: unknown,
  words: readonly string[],
  folder = ".",
): string => {
  const text = fileText(error, words);
  const path = written(folder, text) ?? written(tmpdir(), text);
  return path === undefined
    ? `Holdbook met something it was not made for and could not write it down: ${text.split("\n")[5] ?? ""}`
    : `Holdbook met something it was not made for; please send ${path}, which holds the words of this command, versions and the place in the program, and nothing out of your file.`;
};
