import { readdir, readFile } from "node:fs/promises";
import { basename, dirname } from "node:path";

import { CallError } from "../errors.js";
import { fileProblem, systemCode } from "./file-problem.js";

/** Edits that turn one word into another: letters put in, taken out or exchanged. */
const editsBetween = (a: string, b: string): number => {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const exchange = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(exchange, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
};

/** The file in the same folder whose name is nearest, if any is near. */
const nearName = async (path: string): Promise<string | undefined> => {
  const wanted = basename(path).toLowerCase();
  const names = await readdir(dirname(path)).catch(() => [] as string[]);
  const near = names
    .map((name) => ({ name, edits: editsBetween(wanted, name.toLowerCase()) }))
    .filter(({ edits }) => edits <= Math.max(1, Math.floor(wanted.length / 4)))
    .sort((a, b) => a.edits - b.edits || (a.name < b.name ? -1 : 1));
  return near[0]?.name;
};

/**
 * The bytes of a file, undecoded.
 *
 * @param path  absolute, or from the current folder
 * @throws {CallError} "file-missing" with the nearest name in the folder, "is-a-directory",
 *   "permission-denied" and other answers of the system, in words
 */
export const readBytes = async (path: string): Promise<Uint8Array> => {
  const where = `reading ${JSON.stringify(path)}`;
  const needs = "a file that can be read";
  try {
    return new Uint8Array(await readFile(path));
  } catch (error) {
    const near = systemCode(error) === "ENOENT" ? await nearName(path) : undefined;
    if (near !== undefined) {
      throw new CallError({
        code: "file-missing",
        where,
        needs,
        got: "nothing there",
        try: `did you mean ${JSON.stringify(near)}`,
      });
    }
    throw fileProblem(error, where, needs);
  }
};
