import {
  lstat,
  mkdir,
  mkdtemp,
  open,
  readdir,
  readFile,
  realpath,
  rename,
  rm,
  writeFile,
} from "node:fs/promises";
import { basename, dirname, join, resolve, sep } from "node:path";

import { CallError } from "../errors.js";
import { fileProblem, systemCode } from "./file-problem.js";

/** A file to write: its name below the directory, parts joined by "/", and what it holds. */
export type WholeFile = Readonly<{ name: string; content: string | Uint8Array }>;

/** Lists what this package wrote into a directory; only such a directory is ever replaced. */
export const ownerFileName = ".holdbook-files";

const namePart = /^[^\\/:*?"<>|\u0000-\u001f]+$/;

const refuseName = (where: string, name: string, needs: string): never => {
  throw new CallError({ code: "file-name", where, needs, got: JSON.stringify(name) });
};

const checkNames = (files: readonly WholeFile[], where: string): void => {
  const seen = new Set<string>();
  const folders = new Set<string>();
  for (const { name } of files) {
    const parts = name.split("/");
    const plain = parts.every(
      (part) => namePart.test(part) && part !== "." && part !== ".." && !/[. ]$/.test(part),
    );
    if (!plain || name === ownerFileName) {
      refuseName(where, name, "file names that stay inside the directory, such as figures/map.svg");
    }
    // Some disks do not tell capitals apart.
    const key = name.toLowerCase();
    if (seen.has(key)) refuseName(where, name, "every file name once");
    seen.add(key);
    for (let depth = 1; depth < parts.length; depth += 1) {
      folders.add(parts.slice(0, depth).join("/").toLowerCase());
    }
  }
  for (const folder of folders) {
    if (seen.has(folder)) refuseName(where, folder, "names that are not both file and folder");
  }
};

/** Files below a directory, as names with "/". */
const filesBelow = async (directory: string, above = ""): Promise<readonly string[]> => {
  const entries = await readdir(directory, { withFileTypes: true });
  const nested = await Promise.all(
    entries.map((entry) => {
      const name = above === "" ? entry.name : `${above}/${entry.name}`;
      return entry.isDirectory() ? filesBelow(join(directory, entry.name), name) : [name];
    }),
  );
  return nested.flat();
};

/** "absent", "empty" or "ours"; a directory with anything else in it is refused. */
const standing = async (path: string, where: string): Promise<"absent" | "empty" | "ours"> => {
  try {
    if (!(await lstat(path)).isDirectory()) {
      throw new CallError({
        code: "not-a-directory",
        where,
        needs: "a directory that is new, empty or written by holdbook before",
        got: "a file of that name",
        try: "choose another name",
      });
    }
  } catch (error) {
    if (systemCode(error) === "ENOENT") return "absent";
    throw error;
  }
  const names = await filesBelow(path);
  if (names.length === 0) return "empty";
  const listed = names.includes(ownerFileName)
    ? (await readFile(join(path, ownerFileName), "utf8")).split("\n")
    : [];
  const foreign = names.filter((name) => name !== ownerFileName && !listed.includes(name));
  if (foreign.length === 0) return "ours";
  const shown = foreign
    .slice(0, 3)
    .map((name) => JSON.stringify(name))
    .join(", ");
  throw new CallError({
    code: "directory-not-ours",
    where,
    needs: "a directory that is new, empty or written by holdbook before",
    got: `one that holds ${shown}${foreign.length > 3 ? ` and ${foreign.length - 3} more` : ""}`,
    try: "choose another directory, or move those files away",
  });
};

/** The path with links followed as far as it exists, so that a link to a directory stays a link. */
const followed = async (path: string): Promise<string> => {
  const full = resolve(path);
  return realpath(full).catch(() => full);
};

const refuseCurrent = async (target: string, where: string): Promise<void> => {
  const current = await realpath(process.cwd());
  if (current === target || current.startsWith(target + sep)) {
    throw new CallError({
      code: "current-directory",
      where,
      needs: "a directory other than the current one",
      got: "the one you are in",
      try: "name a new directory inside it",
    });
  }
};

/**
 * Writes a directory whole or not at all.
 *
 * Everything is written into a new directory beside the target first, which then takes the target's
 * place in one step; when anything fails, the target is as it was. A target that exists is replaced only
 * if it is empty or holds nothing but files that an earlier call wrote and listed in `.holdbook-files`,
 * so nothing of the user's is ever lost. Folders above the target are made.
 *
 * @param path  the directory
 * @param files  names below it and contents; text is written as UTF-8
 * @throws {CallError} "file-name", "directory-not-ours", "not-a-directory", "current-directory",
 *   "permission-denied" and other answers of the system, in words
 */
export const writeWhole = async (path: string, files: readonly WholeFile[]): Promise<void> => {
  const where = `writing ${JSON.stringify(path)}`;
  checkNames(files, where);
  let fresh: string | undefined;
  try {
    const target = await followed(path);
    await refuseCurrent(target, where);
    const before = await standing(target, where);
    await mkdir(dirname(target), { recursive: true });
    fresh = await mkdtemp(join(dirname(target), `.${basename(target)}-`));
    const whole = join(fresh, "new");
    await mkdir(whole);
    const list = [...files.map(({ name }) => name)].sort().join("\n");
    for (const { name, content } of [...files, { name: ownerFileName, content: `${list}\n` }]) {
      const file = join(whole, ...name.split("/"));
      await mkdir(dirname(file), { recursive: true });
      await writeFile(file, content);
    }
    const old = join(fresh, "old");
    if (before !== "absent") await rename(target, old);
    try {
      await rename(whole, target);
    } catch (error) {
      if (before !== "absent") await rename(old, target);
      throw error;
    }
  } catch (error) {
    throw fileProblem(error, where, "a place that can be written");
  } finally {
    if (fresh !== undefined) await rm(fresh, { recursive: true, force: true });
  }
};

/**
 * Writes one file whole or not at all, replacing what was there.
 *
 * Folders above it are made. What is not an ordinary file, such as a terminal or a pipe, is written
 * straight to.
 *
 * @throws {CallError} "is-a-directory", "permission-denied" and other answers of the system, in words
 */
export const writeFileWhole = async (path: string, content: string | Uint8Array): Promise<void> => {
  const where = `writing ${JSON.stringify(path)}`;
  let beside: string | undefined;
  try {
    const target = await followed(path);
    const status = await lstat(target).catch((error: unknown) => {
      if (systemCode(error) === "ENOENT") return undefined;
      throw error;
    });
    if (status?.isDirectory() === true) {
      throw new CallError({
        code: "is-a-directory",
        where,
        needs: "the name of a file",
        got: "a directory",
        try: "name a file in it",
      });
    }
    if (status !== undefined && !status.isFile()) {
      await writeFile(target, content);
      return;
    }
    await mkdir(dirname(target), { recursive: true });
    beside = await mkdtemp(join(dirname(target), `.${basename(target)}-`));
    const draft = join(beside, "draft");
    const handle = await open(draft, "w", status?.mode);
    try {
      await handle.writeFile(content);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(draft, target);
  } catch (error) {
    throw fileProblem(error, where, "a place that can be written");
  } finally {
    if (beside !== undefined) await rm(beside, { recursive: true, force: true });
  }
};
