import { mkdir, mkdtemp, readdir, readFile, rm, stat, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { afterEach, beforeEach, describe, expect, test } from "vitest";

import {
  checkFolder,
  ownerFileName,
  writeFileWhole,
  writeFolder,
  writeWhole,
  type Draft,
} from "../../src/host/write-whole.js";

let folder = "";
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "write-whole-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const files = [
  { name: "report.html", content: "<p>é</p>" },
  { name: "figures/map.png", content: Uint8Array.from([1, 2, 255]) },
];

const everything = async (path: string): Promise<readonly string[]> =>
  (await readdir(path, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(path.length + 1))
    .sort();

test("writes every file, text as UTF-8 and bytes as they are, and leaves nothing beside", async () => {
  const target = join(folder, "deep", "report");
  await writeWhole(target, files);
  expect(await readFile(join(target, "report.html"), "utf8")).toBe("<p>é</p>");
  expect([...(await readFile(join(target, "figures/map.png")))]).toEqual([1, 2, 255]);
  expect(await everything(target)).toEqual(
    [ownerFileName, "figures/map.png", "report.html"].sort(),
  );
  expect(await readdir(join(folder, "deep"))).toEqual(["report"]);
});

test("replaces what it wrote before, whole: files of the earlier report are gone", async () => {
  const target = join(folder, "report");
  await writeWhole(target, files);
  await writeWhole(target, [{ name: "other.txt", content: "x" }]);
  expect(await everything(target)).toEqual([ownerFileName, "other.txt"].sort());
  expect(await readdir(folder)).toEqual(["report"]);
});

test("replaces its own work on the same file only, or what it is told to", async () => {
  const target = join(folder, "report");
  const [mine, yours] = [{ holds: "report of my.csv (0a)" }, { holds: "report of my.csv (1b)" }];
  await writeWhole(target, files, mine);
  await writeWhole(target, files, mine);
  for (const [options, held] of [
    [yours, "the report of my.csv that lies in another folder"],
    [{ holds: "table of my.csv (0a)" }, "the report of my.csv"],
  ] as const) {
    await expect(writeWhole(target, files, options)).rejects.toThrow(
      `one with ${held}; name another place with -o, or add --replace`,
    );
    await expect(checkFolder(target, options)).rejects.toThrow(/--replace/);
  }
  await writeFile(join(target, "my notes.txt"), "mine");
  await writeWhole(target, files, { ...yours, replace: true });
  await expect(checkFolder(target, yours)).resolves.toBeUndefined();
  expect(await everything(target)).toHaveLength(3);
  expect(await readdir(folder)).toEqual(["report"]);
});

test("files that are written one by one are there together or not at all", async () => {
  const target = join(folder, "report");
  const half = async ({ put, place }: Draft): Promise<void> => {
    await put("a.txt", "a");
    await writeFile(await place("deep/b.txt"), "b");
    expect(await readdir(folder)).not.toContain("report");
    await put("a.txt", "again");
  };
  await expect(writeFolder(target, half)).rejects.toMatchObject({ code: "file-name" });
  expect(await readdir(folder)).toEqual([]);
  const pieces = async function* () {
    yield "c";
    yield Uint8Array.from(await Promise.resolve([0x64]));
  };
  await writeFolder(target, ({ put }) => put("c.txt", pieces()));
  expect(await readFile(join(target, "c.txt"), "utf8")).toBe("cd");
});

test("takes an empty directory", async () => {
  await mkdir(join(folder, "report"));
  await writeWhole(join(folder, "report"), files);
  expect(await everything(join(folder, "report"))).toHaveLength(3);
});

test("a link to a directory stays a link", async () => {
  await mkdir(join(folder, "real"));
  await symlink(join(folder, "real"), join(folder, "link"));
  await writeWhole(join(folder, "link"), files);
  expect(await everything(join(folder, "real"))).toHaveLength(3);
});

describe("refuses, and leaves everything as it was", () => {
  test("a directory with a file of the user's, even beside its own", async () => {
    const target = join(folder, "report");
    await writeWhole(target, files);
    await writeFile(join(target, "my notes.txt"), "mine");
    await expect(writeWhole(target, files)).rejects.toMatchObject({
      code: "directory-not-ours",
      message: expect.stringContaining('"my notes.txt"') as string,
    });
    expect(await readFile(join(target, "my notes.txt"), "utf8")).toBe("mine");
    expect(await readdir(folder)).toEqual(["report"]);
  });

  test("a file where the directory should go", async () => {
    await writeFile(join(folder, "report"), "mine");
    await expect(writeWhole(join(folder, "report"), files)).rejects.toMatchObject({
      code: "not-a-directory",
    });
    expect(await readFile(join(folder, "report"), "utf8")).toBe("mine");
  });

  test("a place below a file", async () => {
    await writeFile(join(folder, "file"), "mine");
    await expect(writeWhole(join(folder, "file", "report"), files)).rejects.toMatchObject({
      code: "not-a-directory",
    });
  });

  test("the current directory and those above it", async () => {
    await expect(writeWhole(process.cwd(), files)).rejects.toMatchObject({
      code: "current-directory",
    });
  });

  test.each([
    "../x",
    "/x",
    "a/../b",
    "",
    "a//b",
    "a\\b",
    "C:x",
    ".",
    "nul\u0000",
    "x ",
    ownerFileName,
  ])("the file name %j", async (name) => {
    await expect(writeWhole(join(folder, "report"), [{ name, content: "" }])).rejects.toMatchObject(
      {
        code: "file-name",
      },
    );
    expect(await readdir(folder)).toEqual([]);
  });

  test("names that differ in capitals only, or are both file and folder", async () => {
    const named = (...names: readonly string[]) =>
      writeWhole(
        join(folder, "report"),
        names.map((name) => ({ name, content: "" })),
      );
    await expect(named("a.svg", "A.svg")).rejects.toMatchObject({ code: "file-name" });
    await expect(named("a", "a/b")).rejects.toMatchObject({ code: "file-name" });
  });

  test("a write that fails half way", async () => {
    const target = join(folder, "report");
    await writeWhole(target, files);
    const before = await stat(join(target, "report.html"));
    const tooLong = { name: `${"x".repeat(300)}.txt`, content: "" };
    await expect(writeWhole(target, [...files, tooLong])).rejects.toMatchObject({
      code: "name-too-long",
    });
    expect((await stat(join(target, "report.html"))).ino).toBe(before.ino);
    expect(await readdir(folder)).toEqual(["report"]);
  });
});

describe("writeFileWhole", () => {
  test("writes, replaces where it is told to, and leaves nothing beside", async () => {
    const path = join(folder, "new", "out.json");
    await writeFileWhole(path, "one");
    await expect(writeFileWhole(path, "two")).rejects.toMatchObject({ code: "file-there" });
    expect(await readFile(path, "utf8")).toBe("one");
    await writeFileWhole(path, "one");
    await writeFileWhole(path, "two", { replace: true });
    expect(await readFile(path, "utf8")).toBe("two");
    await writeFileWhole(path, "three", { ours: (text) => text === "two" });
    expect(await readFile(path, "utf8")).toBe("three");
    expect(await readdir(join(folder, "new"))).toEqual(["out.json"]);
  });
  test("refuses a directory", async () => {
    await expect(writeFileWhole(folder, "x")).rejects.toMatchObject({ code: "is-a-directory" });
  });
  test("writes straight to what is no ordinary file", async () => {
    await expect(writeFileWhole("/dev/null", "x")).resolves.toBeUndefined();
  });
});
