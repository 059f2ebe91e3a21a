// Over 200 lines: a directory and a file, written whole or not at all, and whom neither may replace, are one rule.
import { mkdtempSync, rmSync } from "node:fs";
import {
  lstat,
  mkdir,
  open,
  readdir,
  readFile,
  realpath,
  rename,
  rm,
  writeFile,
} from "node:fs/promises";
import { basename, dirname, join, resolve, sep } from "node:path";

import { CallError, type CallErrorCode } from "../errors.js";
import { fileProblem, systemCode } from "./file-problem.js";

/** A file to write: its name below the directory, parts joined by "/", and what it holds. */
export type WholeFile = Readonly<{ name: string; content: string | Uint8Array }>;

export type WriteOptions = Readonly<{
  /** What the directory holds, such as "report of my.csv"; only a directory that holds the same is replaced unasked. */
  holds?: string;
  /** Replace whatever is there. */
  replace?: boolean;
  /** Files that are read for what is written; they are never written over. */
  reads?: readonly string[];
}>;

/** A directory in the making. */
export type Draft = Readonly<{
  /** Where a file goes, for who writes it; its folder is made. */
  place: (name: string) => Promise<string>;
  put: (
    name: string,
    content: string | Uint8Array | Iterable<string> | AsyncIterable<string | Uint8Array>,
  ) => Promise<void>;
}>;

/** Lists what this package wrote into a directory; only such a directory is replaced unasked. */
export const ownerFileName = ".holdbook-files";

const holdsWord = "holds: ";

/** What a directory holds, without the part that only tells one place from another. */
const readable = (holds: string): string => `the ${holds.replace(/ \([0-9a-f]+\)$/, "")}`;

/** What a directory holds beside what is wanted there, which may be a file of the same name elsewhere. */
const heldBeside = (held: string | undefined, wanted: string): string => {
  if (held === undefined) return "something else that holdbook wrote";
  const named = readable(held);
  return named === readable(wanted) ? `${named} that lies in another folder` : named;
};

const writing = (path: string): string => `writing ${JSON.stringify(path)}`;

/** The path with links followed as far as it exists, so that a link to a directory stays a link. */
const followed = async (path: string): Promise<string> => {
  const full = resolve(path);
  return realpath(full).catch(() => full);
};

/** Refuses a place that is, or holds, a file that is read for what goes there. */
const refuseRead = async (
  target: string,
  where: string,
  { reads = [] }: WriteOptions,
): Promise<void> => {
  for (const path of reads) {
    const read = await followed(path);
    if (read !== target && !read.startsWith(target + sep)) continue;
    throw new CallError({
      code: "output-over-input",
      where,
      needs: "another place than the one it reads from",
      got: read === target ? "the same file" : `the directory of ${basename(read)}`,
      try: "name another place with -o",
    });
  }
};

/** Drafts in the making; an interrupted run sweeps them. */
const drafts = new Set<string>();

const sweep = (signal: NodeJS.Signals): void => {
  for (const draft of drafts) rmSync(draft, { recursive: true, force: true, maxRetries: 3 });
  process.exit(signal === "SIGINT" ? 130 : 143);
};

/** Runs some work in a new directory beside the target, which is gone afterwards whatever happens. */
const withDraft = async (target: string, work: (draft: string) => Promise<void>): Promise<void> => {
  // Heard only while there is a draft: otherwise a signal ends the run at once, however busy it is.
  if (drafts.size === 0) process.on("SIGINT", sweep).on("SIGTERM", sweep);
  let draft: string | undefined;
  try {
    // In one step with being remembered, so that no signal comes between.
    draft = mkdtempSync(join(dirname(target), `.${basename(target)}-`));
    drafts.add(draft);
    await work(draft);
  } finally {
    if (draft !== undefined) {
      await rm(draft, { recursive: true, force: true });
      drafts.delete(draft);
    }
    if (drafts.size === 0) process.off("SIGINT", sweep).off("SIGTERM", sweep);
  }
};

const namePart = /^[^\\/:*?"<>|\u0000-\u001f]+$/;

const refuseName = (where: string, name: string, needs: string): never => {
  throw new CallError({ code: "file-name", where, needs, got: JSON.stringify(name) });
};

/** Refuses a name that leaves the directory, stands twice or is both file and folder. */
const nameKeeper = (where: string): ((name: string) => void) => {
  const seen = new Set<string>();
  const folders = new Set<string>();
  return (name) => {
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
    if ([...folders].some((folder) => seen.has(folder)))
      refuseName(where, name, "names that are not both file and folder");
  };
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

const newPlace = "name another place with -o, or add --replace";

/** Whether a directory stands there; one with something in it that this may not replace is refused. */
const standing = async (
  path: string,
  where: string,
  { holds, replace = false }: WriteOptions,
): Promise<"absent" | "there"> => {
  const refuse = (code: CallErrorCode, needs: string, got: string, hint = newPlace): never => {
    throw new CallError({ code, where, needs, got, try: hint });
  };
  try {
    if (!(await lstat(path)).isDirectory())
      refuse("not-a-directory", "a directory", "a file of that name", "choose another name");
  } catch (error) {
    if (systemCode(error) === "ENOENT") return "absent";
    throw error;
  }
  const names = await filesBelow(path);
  if (names.length === 0 || replace) return "there";
  const [first = "", ...lines] = names.includes(ownerFileName)
    ? (await readFile(join(path, ownerFileName), "utf8")).split("\n")
    : [];
  const held = first.startsWith(holdsWord) ? first.slice(holdsWord.length) : undefined;
  const listed = new Set([ownerFileName, first, ...lines]);
  const foreign = names.filter((name) => !listed.has(name));
  if (foreign.length > 0)
    refuse(
      "directory-not-ours",
      "a directory that is new, empty or written by holdbook before",
      `one that holds ${foreign
        .slice(0, 3)
        .map((name) => JSON.stringify(name))
        .join(", ")}${foreign.length > 3 ? ` and ${foreign.length - 3} more` : ""}`,
    );
  if (holds !== undefined && held !== holds)
    refuse(
      "directory-of-another",
      `a directory that is new, empty or holds ${readable(holds)}`,
      `one with ${heldBeside(held, holds)}`,
    );
  return "there";
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
 * Nothing; refuses a directory that `writeFolder` would refuse, so that nobody waits for what cannot be written.
 *
 * @throws {CallError} as `writeFolder`
 */
export const checkFolder = async (path: string, options: WriteOptions = {}): Promise<void> => {
  const where = writing(path);
  try {
    const target = await followed(path);
    await refuseCurrent(target, where);
    await refuseRead(target, where, options);
    await standing(target, where, options);
  } catch (error) {
    throw fileProblem(error, where, "a place that can be written");
  }
};

/**
 * Writes a directory whole or not at all, file by file, so that only one of them need be in memory.
 *
 * Everything is written into a new directory beside the target first, which then takes the target's
 * place in one step; when anything fails, or the run is interrupted, the target is as it was and the draft is swept.
 * A target that exists is replaced only if it is empty, holds nothing but files that an earlier call wrote and
 * listed in `.holdbook-files` under the same `holds`, or `replace` is set. Folders above the target are made.
 *
 * @param path  the directory
 * @param fill  puts the files
 * @throws {CallError} "file-name", "directory-not-ours", "directory-of-another", "not-a-directory",
 *   "current-directory", "permission-denied" and other answers of the system, in words
 */
export const writeFolder = async (
  path: string,
  fill: (draft: Draft) => Promise<void>,
  options: WriteOptions = {},
): Promise<void> => {
  const where = writing(path);
  try {
    const target = await followed(path);
    await refuseCurrent(target, where);
    await refuseRead(target, where, options);
    const before = await standing(target, where, options);
    await mkdir(dirname(target), { recursive: true });
    await withDraft(target, async (fresh) => {
      const whole = join(fresh, "new");
      await mkdir(whole);
      const keep = nameKeeper(where);
      const names: string[] = [];
      const place = async (name: string): Promise<string> => {
        keep(name);
        names.push(name);
        const file = join(whole, ...name.split("/"));
        await mkdir(dirname(file), { recursive: true });
        return file;
      };
      await fill({ place, put: async (name, content) => writeFile(await place(name), content) });
      const list = [
        ...(options.holds === undefined ? [] : [`${holdsWord}${options.holds}`]),
        ...names.sort(),
      ];
      await writeFile(join(whole, ownerFileName), `${list.join("\n")}\n`);
      const old = join(fresh, "old");
      if (before === "there") await rename(target, old);
      try {
        await rename(whole, target);
      } catch (error) {
        if (before === "there") await rename(old, target);
        throw error;
      }
    });
  } catch (error) {
    throw fileProblem(error, where, "a place that can be written");
  }
};

/** Writes a directory whole or not at all, of files that are all at hand; otherwise as `writeFolder`. */
export const writeWhole = (
  path: string,
  files: readonly WholeFile[],
  options: WriteOptions = {},
): Promise<void> =>
  writeFolder(
    path,
    async ({ put }) => {
      for (const { name, content } of files) await put(name, content);
    },
    options,
  );

/**
 * Writes one file whole or not at all.
 *
 * Folders above it are made. A file that is there is replaced only with `replace`, where it holds the same already, or
 * where `ours` knows it by its content. What is not an ordinary file, such as a terminal or a pipe, is written straight to.
 *
 * @throws {CallError} "file-there", "is-a-directory", "permission-denied" and other answers of the system, in words
 */
export const writeFileWhole = async (
  path: string,
  content: string | Uint8Array,
  options: WriteOptions & Readonly<{ ours?: (text: string) => boolean }> = {},
): Promise<void> => {
  const { replace = false, ours = () => false } = options;
  const where = writing(path);
  try {
    const target = await followed(path);
    await refuseRead(target, where, options);
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
    if (status !== undefined && !replace) {
      const there = await readFile(target);
      if (there.equals(Buffer.from(content))) return;
      if (!ours(there.toString("utf8")))
        throw new CallError({
          code: "file-there",
          where,
          needs: "a name that is free",
          got: "a file with something else in it",
          try: newPlace,
        });
    }
    await mkdir(dirname(target), { recursive: true });
    await withDraft(target, async (beside) => {
      const draft = join(beside, "draft");
      const handle = await open(draft, "w", status?.mode);
      try {
        await handle.writeFile(content);
        await handle.sync();
      } finally {
        await handle.close();
      }
      await rename(draft, target);
    });
  } catch (error) {
    throw fileProblem(error, where, "a place that can be written");
  }
};
