/** Kind of evidence: identities; what the commands print is what the library gives, and nothing is left out. */
import { mkdtemp, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Command } from "commander";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { compareCommand } from "../../src/command/compare-command.js";
import { exploreCommand } from "../../src/command/explore-command.js";
import { projectCommand } from "../../src/command/project-command.js";
import type { Terminal } from "../../src/command/terminal.js";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { compareProtocols } from "../../src/projection/compare-protocols.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { longHolds, projected, readySize, shortHolds } from "../tables/sample-projection.js";

const data = (name: string): string =>
  fileURLToPath(new URL(`../../data/${name}`, import.meta.url));
let folder = "";
let file = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "holdbook-"));
  file = join(folder, "five.csv");
  // The five trials of `sample-projection.ts`, so that the commands answer from the same rows in a moment.
  const [header = "", ...rows] = (await readFile(data("demo-register.csv"), "utf8")).split("\n");
  const wanted = /^Invented (?:03|12|16|23|26),/;
  await writeFile(file, [header, ...rows.filter((row) => wanted.test(row)), ""].join("\n"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Runs a command line; what it printed, how it ended, and how it said how far it was. */
const run = async (
  ...words: readonly string[]
): Promise<{ out: string; flat: string; exitCode: number; progress: readonly string[] }> => {
  const printed: string[] = [];
  const progress: string[] = [];
  const terminal: Terminal = {
    out: (text) => printed.push(text),
    err: (text) => printed.push(text),
    progress: (text) => progress.push(text),
    width: 100,
  };
  const program = new Command("holdbook").exitOverride();
  program.configureOutput({ writeOut: () => undefined, writeErr: () => undefined });
  let exitCode = 0;
  for (const command of [projectCommand, compareCommand, exploreCommand])
    command(
      program,
      terminal,
      (code) => {
        exitCode = code;
      },
      () => Promise.resolve(0),
    );
  for (const command of program.commands)
    command.exitOverride().configureOutput({ writeErr: () => undefined });
  await program.parseAsync([...words], { from: "user" });
  const out = printed.join("\n");
  return { out, flat: out.replace(/\s+/g, " "), exitCode, progress };
};

/** The caution on long muscle length may be missing where no protocol is held there. */
const expectEveryCaution = (flat: string, isLong = true): void => {
  for (const { text } of cautionsWording.cautions.filter(({ when }) => isLong || when === "always"))
    expect(flat).toContain(text.replace(/\s+/g, " "));
};
/** A result without line numbers, which the file of five trials counts anew. */
const withoutLines = (value: unknown): unknown =>
  JSON.parse(JSON.stringify(value, (key, entry: unknown) => (key === "lines" ? undefined : entry)));

const project = (...words: readonly string[]) => run("project", file, ...words, "--goal", "size");

describe("holdbook project", () => {
  const ready = readySize();

  test("prints strip, hold, three ranges, course, support, doses, priors and every caution in full", async () => {
    const { out, flat, exitCode, progress } = await project(longHolds);
    expect(exitCode).toBe(0);
    expect(out).toContain("█");
    for (const words of [
      "INVENTED DATA",
      "Can it be held?",
      "The average over such studies",
      "A new group",
      "A single person",
      "The course over weeks",
      "within two steps of this protocol",
      "comes from the data and the rest from the priors",
      "The nearest arms of the file",
      "What follows from the prescription",
      "Priors, as used",
      "What the projection moves with",
      "Soreness",
    ])
      expect(flat).toContain(words);
    expectEveryCaution(flat);
    expect(progress.join()).toContain("fitting size");
  });

  test("JSON carries the library's own numbers, the priors and the cautions", async () => {
    const { out } = await project(longHolds, "--json");
    const printed = JSON.parse(out) as {
      answer: unknown;
      basis: { priors: unknown; notes: unknown };
      cautions: { entries: readonly { form: string }[] };
      invented: boolean;
    };
    const expected = projected(ready, longHolds, { confidence: 0.95 });
    expect(withoutLines(printed.answer)).toEqual(withoutLines(expected));
    expect(printed.basis.priors).toEqual(ready.priors);
    expect(printed.invented).toBe(true);
    expect(printed.cautions.entries.every(({ form }) => form === "full")).toBe(true);
  });

  test("a prior can be changed, and the change is printed", async () => {
    const { flat } = await project(
      longHolds,
      "--prior",
      "study-scale=0.2",
      "--prior",
      "slope-deviation=0.2",
    );
    expect(flat).toContain("half-normal, scale 0.2");
    expect(flat).toMatch(/slope of a predictor normal, mean 0, deviation 0.2/);
  });

  test("-o writes the figures and the tables", async () => {
    const directory = join(folder, "project");
    await project(longHolds, "-o", directory);
    const figures = await readdir(join(directory, "figures"));
    for (const id of ["projection", "hold-strip"]) expect(figures).toContain(`${id}.png`);
    const csv = await readFile(join(directory, "tables", "projection.csv"), "utf8");
    expect(csv.trim().split("\n")).toHaveLength(4);
    expect(await readFile(join(directory, "cautions.md"), "utf8")).toContain("Stop");
  });

  test("a goal without effects refuses in words, with the cautions, and writes nothing", async () => {
    const directory = join(folder, "none");
    const { flat, exitCode } = await run(
      "project",
      file,
      longHolds,
      "--goal",
      "rapid force",
      "-o",
      directory,
    );
    expect(exitCode).toBe(2);
    expect(flat).toContain('no effect for the goal "rapid force"');
    expect(flat).toContain("Nothing was written");
    expectEveryCaution(flat);
    expect(await readdir(folder)).not.toContain("none");
  });

  test("far from everything the nearest supported protocol is named", async () => {
    const { flat, exitCode } = await project("1 x 1 s at 10 %, 7/week, 60 weeks, short, neck");
    expect(exitCode).toBe(2);
    expect(flat).toMatch(/Nothing is projected for size: .* the nearest is "/);
  });

  test("what the model needs and the protocol lacks is asked for; bad options are pointed at", async () => {
    await expect(project("4 x 30 s, rest 60 s, 3/week")).rejects.toThrow(/effort/);
    await expect(project("4 x 30 q at 70 %")).rejects.toThrow();
    await expect(project(longHolds, "--prior", "luck=1")).rejects.toThrow(/study-scale/);
    await expect(project(longHolds, "--prior", "study-scale=-1")).rejects.toThrow(/above 0/);
    await expect(project(longHolds, "--confidence", "95")).rejects.toThrow(/0\.95/);
    await expect(project(longHolds, "--worthwhile", "-2")).rejects.toThrow(/0 or more/);
    await expect(run("project", file, longHolds, "--goal", "luck")).rejects.toThrow(/one of/);
  });
});

describe("holdbook compare", () => {
  test("prints calls, differences, ranges, costs and every caution; JSON is the library's comparison", async () => {
    const { flat, exitCode } = await run(
      "compare",
      file,
      longHolds,
      shortHolds,
      "--goal",
      "size",
      "--worthwhile",
      "2",
    );
    expect(exitCode).toBe(0);
    for (const words of [
      "A against B:",
      "Differences in projected gain",
      "What each takes",
      "Side by side",
    ])
      expect(flat).toContain(words);
    expectEveryCaution(flat);
    const { out } = await run(
      "compare",
      file,
      longHolds,
      shortHolds,
      "--goal",
      "size",
      "--worthwhile",
      "2",
      "--json",
    );
    const printed = JSON.parse(out) as { answer: { differences: unknown } };
    const answer = compareProtocols(readySize(), [longHolds, shortHolds].map(parsePrescription), {
      smallestWorthwhilePercent: 2,
      confidence: 0.95,
      names: ["A", "B"],
    });
    if (answer.kind === "refusal") throw new Error(answer.reason);
    expect(withoutLines(printed.answer.differences)).toEqual(withoutLines(answer.differences));
  });

  test("takes the names of a list, here the example file, and writes figure and tables", async () => {
    const directory = join(folder, "compare");
    const { flat } = await run(
      "compare",
      file,
      "--protocols",
      data("example-protocols.txt"),
      "--goal",
      "size",
      "-o",
      directory,
    );
    expect(flat).toContain("long holds against short hard holds:");
    expect(await readdir(join(directory, "figures"))).toContain("comparison.svg");
    expect(await readdir(join(directory, "tables"))).toContain("comparison-differences.csv");
  });

  test("made equal, it says in what and by which field", async () => {
    const { flat } = await run(
      "compare",
      file,
      longHolds,
      shortHolds,
      "--goal",
      "size",
      "--equal",
      "torque-time",
      "--adjust",
      "hold-length",
    );
    expect(flat).toContain("Made equal in torque–time by changing the length of the hold");
  });

  test("one protocol, seven, and what cannot be made equal are refused before anything is fitted", async () => {
    const seven = Array.from({ length: 7 }, () => longHolds);
    await expect(run("compare", file, longHolds)).rejects.toThrow(/2 to 6 protocols.*got 1/s);
    await expect(run("compare", file, ...seven)).rejects.toThrow(/2 to 6 protocols.*got 7/s);
    await expect(
      run("compare", file, longHolds, "4 x 30 s at 70 %", "--equal", "session-length"),
    ).rejects.toThrow(/every rest/);
  });

  test("a goal without effects refuses in words", async () => {
    const { flat, exitCode } = await run(
      "compare",
      file,
      longHolds,
      shortHolds,
      "--goal",
      "rapid force",
    );
    expect(exitCode).toBe(2);
    expect(flat).toContain("Nothing is compared: the file has no effect");
    expectEveryCaution(flat);
  });
});

describe("holdbook explore", () => {
  const limits = ["--minutes", "8", "--sessions", "3", "--effort-up-to", "80", "--joint", "knee"];

  test("prints the frontier, what each step adds, and every caution; -o writes the figure", async () => {
    const directory = join(folder, "explore");
    const { flat, exitCode } = await run(
      "explore",
      file,
      ...limits,
      "--goal",
      "size",
      "-o",
      directory,
    );
    expect(exitCode).toBe(0);
    for (const words of [
      "The most for the time",
      "candidates within 8 min a session",
      "At the short end",
    ])
      expect(flat).toContain(words);
    expectEveryCaution(flat, flat.includes("2/week, long") || flat.includes("3/week, long"));
    expect(await readdir(join(directory, "figures"))).toContain("frontier.png");
  });

  test("limits that leave nothing, and goals without effects, are answered in words", async () => {
    const none = await run(
      "explore",
      file,
      "--minutes",
      "0.2",
      "--sessions",
      "3",
      "--effort-up-to",
      "80",
      "--goal",
      "size",
    );
    expect(none.exitCode).toBe(2);
    expect(none.flat).toContain("Nothing is found: none of");
    const rapid = await run("explore", file, ...limits, "--goal", "rapid force");
    expect(rapid.exitCode).toBe(2);
    expect(rapid.flat).toContain("no effect for the goal");
  });

  test("limits must be given and must be numbers; a length is one of three", async () => {
    await expect(run("explore", file, "--sessions", "3", "--effort-up-to", "80")).rejects.toThrow(
      /--minutes/,
    );
    await expect(run("explore", file, ...limits, "--length", "longest")).rejects.toThrow(
      /short, middle, long/,
    );
    await expect(
      run(
        "explore",
        file,
        "--minutes",
        "8",
        "--sessions",
        "0",
        "--effort-up-to",
        "80",
        "--goal",
        "size",
      ),
    ).rejects.toThrow(/one session/);
  });
});
