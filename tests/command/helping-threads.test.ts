import { spawn } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { helpingThreads } from "../../src/command/helping-threads.js";
import { evidenceOf, shippedText } from "../answers/evidence-under-test.js";
import { freshBuild } from "../house/fresh-build.js";
import { projectRoot } from "../house/source-tree.js";

const main = freshBuild();
const program = join(projectRoot, "dist/command/helping-thread.js");
const library = () => evidenceOf(shippedText("published-outcomes.csv"));

test.each([
  ["ways of an average", { outcome: "strength", most: 100 }],
  ["verdicts, in two rounds", { verdicts: true }],
])("threads that help change no digit: %s", async (_, options) => {
  const alone = await ask("sweep", options, library());
  const lines: string[] = [];
  const help = helpingThreads(2, program)!;
  const shared = await ask("sweep", options, library(), (line) => lines.push(line), help);
  expect(JSON.stringify(shared)).toBe(JSON.stringify(alone));
  expect(lines.at(-1)).toMatch(/^(?:verdicts|strength): (\d+) of \1 ways$/);
});

test("where there is one core, or no program of theirs, nobody helps", () => {
  expect(helpingThreads(0, program)).toBeUndefined();
  expect(helpingThreads(2, join(projectRoot, "dist/command/no-thread.js"))).toBeUndefined();
});

test("Ctrl-C ends a sweep at once, threads and all, and nothing is printed", async () => {
  const run = spawn(process.execPath, [main, "sweep", "data/demo-register.csv"], {
    cwd: projectRoot,
    stdio: ["ignore", "pipe", "pipe"],
  });
  const printed: string[] = [];
  for (const stream of [run.stdout, run.stderr])
    stream.on("data", (bytes: Buffer) => printed.push(bytes.toString("utf8")));
  // It works for several seconds; by now its file is read and the ways are shared.
  await new Promise((resume) => setTimeout(resume, 1500));
  expect(run.kill("SIGINT")).toBe(true);
  expect(await once(run, "close")).toEqual([null, "SIGINT"]);
  expect(printed).toEqual([]);
});
