/** Every example of the help, typed as it stands there; what it writes goes into a folder of the test's own. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { commandNames, commands, helpOf } from "../../src/command/commands.js";
import { questionIds } from "../../src/answers/question-list.js";
import { holdbook } from "./run-holdbook.js";
import { runHere } from "./run-here.js";
import { testFolder } from "./test-folder.js";

/** Begins what an example writes, and what another one then reads. */
const written =
  /^(?:my\.csv|my-report|my-course|my-notebook|size\.svg|historic\.csv|holdbook\.html)/;

const wordsOf = (example: string): readonly string[] =>
  [...example.matchAll(/"([^"]*)"|(\S+)/g)]
    .map(([, quoted, plain]) => quoted ?? plain!)
    .slice(1)
    .map((word) => (written.test(word) ? join(testFolder, word) : word));

test("the help lists every command once, by its place, with its example", async () => {
  const { out, exitCode } = await runHere("--help");
  expect(exitCode).toBe(0);
  expect([...commandNames].sort()).toEqual([...questionIds, ...Object.keys(commands)].sort());
  const lines = out.split("\n");
  let group = "";
  const met = new Map<string, string>();
  for (const [at, line] of lines.entries()) {
    if (/^[A-Z][a-z]+:$/.test(line)) group = line;
    const name = /^  ([a-z-]+) \[options\]/.exec(line)?.[1];
    if (name === undefined) continue;
    expect(met.has(name), name).toBe(false);
    met.set(name, group);
    expect(lines[at + 1]!.trim()).toBe(helpOf(name).example);
  }
  expect([...met.keys()].sort()).toEqual([...commandNames].sort());
  for (const [name, place] of met) expect(place, name).toBe(helpOf(name).group);
  expect(new Set(met.values())).toEqual(
    new Set(["Evidence:", "Protocols:", "Data:", "Teach:", "Report:"]),
  );
  expect((await runHere("pool", "--help")).out).toContain(`Example:\n  ${helpOf("pool").example}`);
});

// It asks at a terminal, which no test has; add-command.test.ts says what it does without one.
const asking = ["add"];

test.each(commandNames.filter((name) => !asking.includes(name)))(
  "holdbook %s: its example runs",
  async (name) => {
    const words = wordsOf(helpOf(name).example);
    const place = name === "start" ? ["-o", join(testFolder, "report")] : [];
    // The page is put together from the build.
    const { exitCode, out, err } =
      name === "page" ? holdbook(...words) : await runHere(...words, ...place);
    // A reading list says beside itself what it wants.
    expect([exitCode, name === "references" || err]).toEqual([0, name === "references" || ""]);
    expect(out.length).toBeGreaterThan(40);
    for (const word of words)
      if (word.startsWith(testFolder)) expect(existsSync(word), word).toBe(true);
  },
);

test("examples name files that travel with the program", () => {
  const { files } = JSON.parse(
    readFileSync(new URL("../../package.json", import.meta.url), "utf8"),
  ) as { files: readonly string[] };
  const named = commandNames.flatMap((name) => helpOf(name).example.match(/data\/\S+/g) ?? []);
  expect(named.length).toBeGreaterThan(20);
  expect(named.every((path) => files.includes("data") && existsSync(path))).toBe(true);
});
