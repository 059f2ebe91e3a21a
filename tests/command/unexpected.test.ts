/** What nobody made a command for: one sentence, no stack trace, nothing of the user's lost or left about. */
import { spawn } from "node:child_process";
import { existsSync, mkdirSync, openSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test, vi } from "vitest";
import { questionList } from "../../src/answers/question-list.js";
import { runWords } from "../../src/command/run-words.js";
import { unexpectedSentence } from "../../src/command/unexpected.js";
import { freshBuild } from "../house/fresh-build.js";
import { projectRoot } from "../house/source-tree.js";
import { tableText } from "../records/record-table.js";
import { runHere } from "./run-here.js";
import { fileOf, testFolder } from "./test-folder.js";

const good = fileOf(
  "good.csv",
  tableText([{ study: "Ash 2019" }, { study: "Birch 2020", preMean: "183" }]),
);

type Ended = Readonly<{ code: number | null; err: string }>;

/** Runs the built program; `meanwhile` may close its output or send it a signal. */
const built = (
  words: readonly string[],
  meanwhile: (child: ReturnType<typeof spawn>) => void,
  out: "pipe" | number = "pipe",
): Promise<Ended> =>
  new Promise((resolve) => {
    const child = spawn(process.execPath, [freshBuild(), ...words], {
      cwd: projectRoot,
      stdio: ["ignore", out, "pipe"],
    });
    let err = "";
    child.stderr?.on("data", (text: Buffer) => (err += text.toString()));
    child.on("close", (code) => resolve({ code, err }));
    meanwhile(child);
  });

test("a mistake of the program: one sentence, and a file without anything out of a data file", () => {
  const folder = join(testFolder, "problem");
  mkdirSync(folder);
  const error = new TypeError('cannot read "Müller 2012" of nothing');
  for (const name of ["holdbook-problem.txt", "holdbook-problem-2.txt"]) {
    const sentence = unexpectedSentence(error, ["pool", "my file.csv"], folder);
    expect(sentence).toContain(join(folder, name));
    expect(sentence.split("\n")).toHaveLength(1);
    const text = readFileSync(join(folder, name), "utf8");
    expect(text).toContain('command: holdbook "pool" "my file.csv"');
    expect(text).toMatch(/versions: Holdbook \d/);
    expect(text).toContain('what: TypeError: cannot read "…" of nothing');
    expect(text).toMatch(/\n\s+at .*command\/unexpected\.test/);
    expect(text).not.toContain("Müller");
    expect(text).not.toContain(projectRoot);
  }
});

test("a reader that stops early changes no exit code, and nothing is said of it", async () => {
  const broken = fileOf("broken.csv", "study,arm\nA,x\n");
  for (const [file, code] of [
    [good, 0],
    [broken, 1],
  ] as const) {
    const ended = await built(["check", file, "--json"], (child) => child.stdout?.destroy());
    expect(ended).toEqual({ code, err: "" });
  }
});

test.skipIf(!existsSync("/dev/full"))("a full disk is said in one sentence", async () => {
  const ended = await built(["check", good], () => undefined, openSync("/dev/full", "w"));
  expect(ended.code).toBe(2);
  expect(ended.err.trim().split("\n")).toEqual([expect.stringMatching(/a full disk; make room/)]);
});

test.each(["SIGINT", "SIGTERM"] as const)(
  "%s while it writes: no draft is left",
  async (signal) => {
    const folder = join(testFolder, signal);
    mkdirSync(folder);
    const ended = await built(["report", good, "-o", join(folder, "report")], (child) => {
      const wait = setInterval(() => {
        if (child.exitCode === null && readdirSync(folder).length === 0) return;
        clearInterval(wait);
        child.kill(signal);
      }, 5);
    });
    expect(ended).toEqual({ code: signal === "SIGINT" ? 130 : 143, err: "" });
    expect(readdirSync(folder)).toEqual([]);
  },
);

test("input and output are never the same file, with --replace or without", async () => {
  const before = readFileSync(good, "utf8");
  const map = fileOf(
    "same.json",
    JSON.stringify({
      title: "t",
      source: "s",
      licence: "l",
      columns: { study: { column: "study" } },
    }),
  );
  for (const words of [
    ["import", good, "--map", map, "-o", good],
    ["import", good, "--map", map, "-o", good, "--replace"],
    ["import", good, "--map", map, "-o", map, "--replace"],
    ["pool", good, "-o", testFolder, "--replace"],
  ]) {
    const { exitCode, err } = await runHere(...words);
    expect(exitCode).toBe(2);
    expect(err).toMatch(/requires another place than the one it reads from/);
  }
  expect(readFileSync(good, "utf8")).toBe(before);
});

test("the result of another question or file is replaced when told to, and not before", async () => {
  const place = join(testFolder, "place");
  const other = fileOf("other.csv", tableText([{ study: "Oak 2021" }]));
  expect((await runHere("effects", good, "-o", place)).exitCode).toBe(0);
  expect((await runHere("effects", good, "-o", place)).exitCode).toBe(0);
  for (const words of [
    ["pool", good],
    ["effects", other],
  ]) {
    const { exitCode, err, out } = await runHere(...words, "-o", place);
    expect([exitCode, out]).toEqual([2, ""]);
    expect(err).toMatch(/got one with the effects of good\.csv; name another .* --replace/);
    if (words[0] === "effects")
      expect((await runHere(...words, "-o", place, "--replace")).exitCode).toBe(0);
  }
  const filled = fileOf("filled.csv", "my own rows");
  expect((await runHere("template", "-o", filled)).err).toMatch(/got a file with something else/);
  expect(readFileSync(filled, "utf8")).toBe("my own rows");
});

test("import of nothing says so and writes nothing", async () => {
  const map = fileOf(
    "map.json",
    JSON.stringify({
      title: "t",
      source: "s",
      licence: "l",
      setAside: [{ when: { column: "a", filled: true }, reason: "x" }],
      columns: { study: { column: "a" } },
    }),
  );
  const target = join(testFolder, "nothing.csv");
  const { exitCode, out, err } = await runHere(
    ...["import", fileOf("foreign.csv", "a,b\n1,2\n"), "--map", map, "-o", target],
  );
  expect([exitCode, out]).toEqual([1, ""]);
  expect(err).toMatch(/foreign\.csv: nothing was imported/);
  expect(existsSync(target)).toBe(false);
});

test.each([
  ["deep brackets", "[".repeat(1e5), /nested more than 40 deep/],
  ["a NUL", '{"recipe":2\0}', /NUL/],
  ["a list", "[]", /"recipe" is absent/],
])("a recipe and a map that are %s: one sentence", async (name, text, said) => {
  const file = fileOf(`${name}.json`, text);
  const recipe = await runHere("reproduce", file, good);
  expect([recipe.exitCode, recipe.out]).toEqual([2, ""]);
  expect(recipe.err).toMatch(said);
  const map = await runHere("import", good, "--map", file);
  expect([map.exitCode, map.out]).toEqual([1, ""]);
  for (const { err } of [recipe, map]) expect(err.length).toBeLessThan(400);
});

test("nothing out of a file makes a terminal do anything but show it", async () => {
  const nasty = "\u001b[31mRed\u0007 \u202eeno\u009b2J";
  const file = fileOf("nasty.csv", tableText([{ study: nasty }, { study: "Birch", arm: nasty }]));
  const shown: string[] = [];
  const terminal = {
    out: (text: string) => shown.push(text),
    err: (text: string) => shown.push(text),
    progress: (text: string) => shown.push(text),
    width: 100,
  };
  for (const words of [["check"], ["effects"], ["pool"], ["references"], ["effects", "--json"]])
    await runWords([...words.slice(0, 1), file, ...words.slice(1)], terminal);
  await runWords(["check", `${file}${nasty}`], terminal);
  await runWords([nasty], terminal);
  expect(shown.length).toBeGreaterThan(8);
  for (const text of shown)
    expect(text).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/);
  const json = JSON.parse(shown.find((text) => text.startsWith("{"))!) as {
    effects: readonly { study: string }[];
  };
  expect(json.effects.map(({ study }) => study)).toContain(nasty);
});

test("an effect beyond all measure costs the others nothing, and every answer names its line", async () => {
  const file = fileOf(
    "beyond.csv",
    tableText([
      { study: "Ash 2019" },
      { study: "Birch 2020", preMean: "183" },
      { study: "Oak 2021", preSpread: "48000", postSpread: "48000" },
    ]),
  );
  const report = join(testFolder, "beyond");
  for (const words of [["check"], ["effects"], ["pool"], ["report", "-o", report]]) {
    const [command = "", ...more] = words;
    const { exitCode, out, err } = await runHere(command, file, ...more);
    expect([exitCode, err]).toEqual([0, ""]);
    const said = command === "report" ? readFileSync(join(report, "report.html"), "utf8") : out;
    if (command === "check") expect(said).toMatch(/kept, not averaged +1 .* 4\n/);
    else
      expect(said.replace(/\s+/g, " ")).toMatch(/[Ll]ine 4: set aside: its numbers give an effect/);
    expect(said.replace(/\s+/g, " ")).toMatch(/more than a thousandfold/);
    expect(said).not.toMatch(/Infinity|NaN|undefined|\[object/);
    if (command !== "check") expect(said).toMatch(/2 effects (?:in|of) 2 studies/);
  }
});

test("spreads of a hundred-millionth are not taken for precision: set aside, and the answers come out", async () => {
  const file = fileOf(
    "tiny.csv",
    tableText([
      { study: "Ash 2019", preSpread: "2e-8", postSpread: "2e-8" },
      { study: "Birch 2020", preMean: "183" },
      { study: "Oak 2021", preMean: "190" },
    ]),
  );
  for (const command of ["effects", "pool"]) {
    const { exitCode, out, err } = await runHere(command, file);
    expect([exitCode, err]).toEqual([0, ""]);
    expect(out.replace(/\s+/g, " ")).toMatch(/[Ll]ine 2: set aside: its spreads are so small/);
    expect(out).toMatch(/2 effects (?:in|of) 2 studies/);
  }
});

test("a mistake in one question: the report comes out without it, said at the door and in its place", async () => {
  const entry = questionList.effects as { load: () => Promise<object> };
  const whole = await entry.load();
  const broken = vi.spyOn(entry, "load").mockResolvedValue({
    ...whole,
    answer: () => {
      throw new TypeError("a sum of nothing");
    },
  });
  const folder = join(testFolder, "report-without");
  const said: string[] = [];
  const mistakes: string[] = [];
  const exitCode = await runWords(["report", good, "-o", folder], {
    out: () => undefined,
    err: (text) => said.push(text),
    progress: () => undefined,
    width: 80,
    unexpected: (error) => `It was written down as number ${mistakes.push(String(error))}.`,
  });
  broken.mockRestore();
  expect(exitCode).toBe(4);
  expect(mistakes).toEqual(["TypeError: a sum of nothing"]);
  expect(said).toEqual(["It was written down as number 1."]);
  const html = readFileSync(join(folder, "report.html"), "utf8");
  expect(html).toContain("Could not be answered. It was written down as number 1.");
  expect(html).toContain("Each answer closer");
});
