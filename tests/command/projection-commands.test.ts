/** Kind of evidence: identities; what the commands print is what the library gives, and nothing is left out. */
import { mkdtemp, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { cautionsWording } from "../../src/projection/cautions-wording.js";
import { compareProtocols } from "../../src/projection/compare-protocols.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { longHolds, projected, readySize, shortHolds } from "../tables/sample-projection.js";
import { runHere } from "./run-here.js";

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

/** Runs a command line; what it printed, with every run of spaces as one, and how it ended. */
const run = async (...words: readonly string[]) => {
  const ran = await runHere(...words);
  return { ...ran, flat: ran.out.replace(/\s+/g, " ") };
};

/** The caution on long muscle length may be missing where no protocol is held there. */
const expectEveryCaution = (flat: string, isLong = true): void => {
  for (const { text } of cautionsWording.cautions.filter(
    ({ when }) => when === "always" || (isLong && when === "long muscle length"),
  ))
    expect(flat).toContain(text.replace(/\s+/g, " "));
};
/** A result without line numbers, which the file of five trials counts anew. */
const withoutLines = (value: unknown): unknown =>
  JSON.parse(JSON.stringify(value, (key, entry: unknown) => (key === "lines" ? undefined : entry)));

const project = (...words: readonly string[]) => run("project", file, ...words, "--goal", "size");

describe("holdbook project", () => {
  const ready = readySize();

  test("says the answer first, then strip, tables, doubts and every caution in full", async () => {
    const { out, flat, exitCode } = await project(longHolds, "--all");
    expect(exitCode).toBe(0);
    expect(flat).toMatch(
      /^INVENTED DATA: [^.]*\. Size after 12 weeks of this protocol, before to after: such studies average /,
    );
    const places = [
      "Can it be held?",
      "█",
      "The average over such studies",
      "Soreness",
      "Doubts and notes",
      "Stop at once",
    ].map((words) => out.indexOf(words));
    expect(places).toEqual([...places].sort((first, second) => first - second));
    expect(out).toContain("█");
    for (const words of [
      "INVENTED DATA",
      "Can it be held?",
      "The average over such studies",
      "A new group",
      "A single person",
      "The course over weeks",
      "within two steps of this protocol",
      "Halving or doubling the starting assumptions",
      "The nearest arms of the file",
      "What follows from the prescription",
      "Priors, as used",
      "What the projection moves with",
      "Soreness",
    ])
      expect(flat).toContain(words);
    expectEveryCaution(flat);
    const folded = await project(longHolds);
    expect(folded.flat).not.toContain("Priors, as used");
    expect(folded.flat).toContain("--all shows 5 more tables");
  });

  test("JSON carries the library's own numbers, the priors and the cautions", async () => {
    const { out } = await project(longHolds, "--json");
    const printed = JSON.parse(out) as {
      answer: unknown;
      basis: { priors: unknown; notes: unknown };
      cautions: { entries: readonly { form: string }[] };
      file: { invented: boolean };
    };
    const expected = projected(ready, longHolds, { confidence: 0.95 });
    expect(withoutLines(printed.answer)).toEqual(withoutLines(expected));
    expect(printed.basis.priors).toEqual(ready.priors);
    expect(printed.file.invented).toBe(true);
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
    // Asked for, so the headline says it and the table is not folded away.
    expect(flat).toContain("with the priors asked for: study-scale 0.2, slope-deviation 0.2.");
    expect(flat).toContain("half-normal, scale 0.2");
    expect(flat).toMatch(/slope of a predictor normal, mean 0, deviation 0.2/);
  });

  test("-o writes the figures and the tables", async () => {
    const directory = join(folder, "project");
    await project(longHolds, "-o", directory);
    const figures = await readdir(join(directory, "figures"));
    for (const id of ["projection-size", "hold-strip"]) expect(figures).toContain(`${id}.png`);
    const csv = await readFile(join(directory, "tables", "projection-size.csv"), "utf8");
    expect(csv.trim().split("\n")).toHaveLength(4);
    expect(await readFile(join(directory, "cautions.md"), "utf8")).toContain("Stop");
  });

  // What is written is what is answered: of a refusal the session, its tables and the cautions, and no projection.
  test("a goal without effects refuses in words, with the cautions, and writes no projection", async () => {
    const directory = join(folder, "none");
    const { flat, exitCode } = await run(
      "project",
      file,
      longHolds,
      "--goal",
      "rapid force",
      "--cautions",
      "-o",
      directory,
    );
    expect(exitCode).toBe(2);
    expect(flat).toContain(
      'Nothing is projected for rapid force: the file has no effect for the goal "rapid force"',
    );
    expectEveryCaution(flat);
    expect((await readdir(join(directory, "figures"))).join()).not.toContain("projection");
    expect(await readdir(join(directory, "tables"))).toEqual(["soreness.csv"]);
  });

  test("far from everything the nearest supported protocol is named", async () => {
    const { flat, exitCode } = await project("1 x 1 s at 10%, 7/week, 60 weeks, short, neck");
    expect(exitCode).toBe(2);
    expect(flat).toMatch(/Nothing is projected for size: .* the nearest is "/);
  });

  test("what the model needs and the protocol lacks is asked for; bad options are pointed at", async () => {
    const bare = await project("4 x 30 s, rest 60 s, 3/week", "--cautions");
    expect(bare.exitCode).toBe(2);
    expect(bare.flat).toContain(
      '"4 × 30 s, rest 60 s, 3/week" does not say intensity; give the intensity',
    );
    expectEveryCaution(bare.flat);
    for (const [words, complaint] of [
      [["4 x 30 q at 70%"], /q/],
      [[longHolds, "--prior", "luck=1"], /study-scale/],
      [[longHolds, "--prior", "study-scale=-1"], /above 0/],
      [[longHolds, "--prior", "weeks-median=flat"], /above 0 on the log scale, got/],
      [[longHolds, "--confidence", "95"], /0\.95/],
      [[longHolds, "--worthwhile", "-2"], /0 or more/],
      [[longHolds, "--contrast", "between-arms"], /change-within-arm/],
    ] as const) {
      const { exitCode, out, err } = await project(...words);
      expect({ exitCode, out }).toEqual({ exitCode: 2, out: "" });
      expect(err).toMatch(complaint);
    }
    expect((await run("project", file, longHolds, "--goal", "luck")).err).toMatch(/one of/);
    const scaled = await project(longHolds, "--scale", "raw-mean-difference");
    expect(scaled.exitCode).toBe(2);
    expect(scaled.flat).toContain("on the scale log-ratio-of-means, and raw-mean-difference was");
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
      "--all",
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

  test("fits on one screen and says what it left out; --all prints it", async () => {
    const words = ["compare", file, longHolds, shortHolds, "--goal", "size"];
    const { out } = await run(...words);
    expect(out.trimEnd().split("\n").length).toBeLessThanOrEqual(50);
    expect(out).toMatch(
      /Differences in projected gain.*A – B.*--all shows \d+ more tables, .* and/s,
    );
    const { out: all } = await run(...words, "--all");
    expect(all.split("\n").length).toBeGreaterThan(100);
    const effects = (await run("effects", file)).out.trimEnd().split("\n");
    expect(effects.length).toBeLessThanOrEqual(50);
    expect(effects.at(-1)).toMatch(/^--all shows/);
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
    expect(await readdir(join(directory, "figures"))).toContain("comparison-size.svg");
    expect(await readdir(join(directory, "tables"))).toContain("comparison-size-differences.csv");
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

  test("one protocol, seven, and what cannot be made equal are refused", async () => {
    const seven = Array.from({ length: 7 }, () => longHolds);
    expect((await run("compare", file, longHolds)).err).toMatch(/2 to 6 protocols.*got 1/s);
    expect((await run("compare", file, ...seven)).err).toMatch(/2 to 6 protocols.*got 7/s);
    const unequal = await run(
      "compare",
      file,
      longHolds,
      "4 x 20 s at 70%",
      "--equal",
      "session-length",
    );
    expect(unequal.exitCode).toBe(2);
    expect(unequal.err).toMatch(/every rest/);
  });

  test("a goal without effects refuses in words", async () => {
    const { flat, exitCode } = await run(
      "compare",
      file,
      longHolds,
      shortHolds,
      "--goal",
      "rapid force",
      "--cautions",
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
      "--cautions",
      "-o",
      directory,
    );
    expect(exitCode).toBe(0);
    for (const words of [
      "The most for the time",
      "candidates within 8 min a session",
      "Size: at the short end, ",
    ])
      expect(flat).toContain(words);
    expectEveryCaution(flat, flat.includes("2/week, long") || flat.includes("3/week, long"));
    expect(await readdir(join(directory, "figures"))).toContain("frontier-size.png");
  });

  test("limits that leave nothing, and goals without effects, are answered in words", async () => {
    const none = await run(
      "explore",
      file,
      "--minutes",
      "0.2",
      "--sessions",
      "3",
      "--intensity-up-to",
      "80",
      "--goal",
      "size",
    );
    expect(none.exitCode).toBe(2);
    expect(none.flat).toContain("Nothing is found for size: none of");
    const rapid = await run("explore", file, ...limits, "--goal", "rapid force");
    expect(rapid.exitCode).toBe(2);
    expect(rapid.flat).toContain("no effect for the goal");
  });

  test("limits must be given and must be numbers; a length is one of three", async () => {
    for (const [words, complaint] of [
      [["--sessions", "3", "--intensity-up-to", "80"], /--minutes/],
      [[...limits, "--length", "longest"], /short, middle, long/],
      [["--minutes", "8", "--sessions", "0", "--intensity-up-to", "80"], /one session/],
      [["--minutes", "8", "--sessions", "3", "--intensity-up-to", "10"], /20 to 100/],
    ] as const) {
      const { exitCode, out, err } = await run("explore", file, ...words, "--goal", "size");
      expect({ exitCode, out }).toEqual({ exitCode: 2, out: "" });
      expect(err).toMatch(complaint);
    }
  });
});
