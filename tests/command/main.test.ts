/** What holds for every command: exit codes, clean streams, and input that is no table. */
import { spawnSync } from "node:child_process";
import { describe, expect, test } from "vitest";
import { projectRoot } from "../house/source-tree.js";
import { holdbook } from "./run-holdbook.js";
import { fileOf, testFolder } from "./test-folder.js";

const demo = "data/demo-register.csv";
const reading = ["check", "effects", "pool", "report"] as const;

test("npx holdbook works from the project's root after a build", () => {
  const ran = spawnSync("npx", ["--no-install", "holdbook", "--help"], {
    cwd: projectRoot,
    encoding: "utf8",
    shell: process.platform === "win32",
  });
  expect(ran.status).toBe(0);
  for (const command of ["start", "template", "codebook", "import", ...reading])
    expect(ran.stdout).toContain(command);
});

describe("streams", () => {
  test("results go to standard output alone, with --quiet or without", () => {
    const plain = holdbook("check", demo, "--json");
    const quiet = holdbook("check", demo, "--json", "--quiet");
    expect([plain.exitCode, plain.err, quiet.err]).toEqual([0, "", ""]);
    expect(quiet.out).toBe(plain.out);
    expect(() => JSON.parse(plain.out) as unknown).not.toThrow();
  });

  test("a pipe gets no escape codes", () => {
    const { out, err } = holdbook("pool", demo);
    expect(err).toBe("");
    expect(out).not.toContain("\u001b");
  });
});

describe("refuses", () => {
  test.each(reading)("%s: a missing file, a directory, an empty file", (command) => {
    const missing = holdbook(command, `${testFolder}/nothing-here.csv`);
    expect([missing.exitCode, missing.out]).toEqual([2, ""]);
    expect(missing.err).toMatch(/nothing-here\.csv.* requires a file that can be read/);
    const directory = holdbook(command, testFolder);
    expect([directory.exitCode, directory.out]).toEqual([2, ""]);
    expect(directory.err).toMatch(/got a directory/);
    const empty = holdbook(command, fileOf("empty.csv", ""));
    expect(empty.exitCode).toBe(1);
    expect(empty.out + empty.err).toMatch(/the file holds no rows/);
  });

  test("a name that is nearly right: the file it may have meant", () => {
    const { exitCode, err } = holdbook("check", "data/demo-registr.csv");
    expect(exitCode).toBe(2);
    expect(err).toContain('did you mean "demo-register.csv"');
  });

  test("an unknown command, and a command without its file", () => {
    const misspelt = holdbook("pol", demo);
    expect([misspelt.exitCode, misspelt.out]).toEqual([2, ""]);
    expect(misspelt.err).toMatch(/Did you mean pool/);
    const bare = holdbook("pool");
    expect([bare.exitCode, bare.out]).toEqual([2, ""]);
    expect(bare.err).toMatch(/missing required argument 'file'/);
  });
});
