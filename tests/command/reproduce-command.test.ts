/** Figures made again from their recipes. */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { readRecipe, type FigureRecipe } from "../../src/report/figure-recipe.js";
import { projectRoot } from "../house/source-tree.js";
import { tableText } from "../records/record-table.js";
import { runHere } from "./run-here.js";
import { fileOf, testFolder } from "./test-folder.js";

const studies = ["Ashdown 2019", "Brook 2020", "Carse 2021", "Dunmore 2022"];
const text = tableText(
  studies.map((study, index) => ({
    study,
    outcome: "peak isometric torque",
    outcomeFamily: "strength",
    preMean: String(180 + 3 * index),
  })),
);
const file = fileOf("trials.csv", text);
const folder = join(testFolder, "report");
const list = fileOf("list.txt", "short: 4 x 5 s at 70 %, rest 60 s, 3/week, 8 weeks\n");
const written = await runHere("report", file, "-o", folder, "--protocols", list);
const recipePaths = readdirSync(join(folder, "figures"))
  .filter((name) => name.endsWith(".recipe.json"))
  .map((name) => join(folder, "figures", name));
const path = recipePaths.find((name) => name.includes("estimates-")) ?? "";
const recipe = readRecipe(readFileSync(path, "utf8"));
const changed = (name: string, change: Partial<FigureRecipe>): string =>
  fileOf(name, JSON.stringify({ ...recipe, ...change }));

test("every figure of a report has its recipe beside it, complete in itself", async () => {
  expect([written.exitCode, written.err]).toEqual([0, ""]);
  const pictures = readdirSync(join(folder, "figures")).filter((name) => name.endsWith(".svg"));
  expect(recipePaths).toHaveLength(pictures.length);
  expect(recipe.command).toContain("--scale");
  // the list of protocols is inside, so it need not be kept
  expect(JSON.stringify(recipe.command)).toContain("4 x 5 s at 70 %");
  expect(JSON.stringify(recipe)).not.toContain(testFolder);
});

test("the same file gives the identical figure, and exit code 0", async () => {
  const { exitCode, out } = await runHere("reproduce", path, file);
  expect(out).toMatch(/^Identical: all \d+ plotted values/);
  expect(exitCode).toBe(0);
});

test("a number that is not the recipe's is shown old and new, and the exit code is 1", async () => {
  const [first = {}, ...rest] = recipe.numbers;
  const name = Object.keys(first).find((key) => typeof first[key] === "number") ?? "";
  const wrong = changed("wrong.json", { numbers: [{ ...first, [name]: 987.25 }, ...rest] });
  const folderNow = join(testFolder, "now");
  const { exitCode, out } = await runHere("reproduce", wrong, file, "-o", folderNow);
  expect(exitCode).toBe(1);
  expect(out).toMatch(/^Different: 1 of \d+ plotted values/);
  expect(out).toMatch(new RegExp(`1\\s+${name}\\s+987\\.25\\s+${String(first[name])}`));
  // what is drawn now is described by a recipe of its own, which is the old one with today's number
  const now = readFileSync(join(folderNow, "figures", `${recipe.figure.id}.recipe.json`), "utf8");
  expect(readRecipe(now)).toEqual(recipe);
});

test("another file is named as such, whether its numbers agree or not", async () => {
  const noted = await runHere("reproduce", path, fileOf("same.csv", `${text}\n`));
  expect(noted.exitCode).toBe(1);
  expect(noted.out).toMatch(/^Another file: the recipe was made from trials\.csv.*same\.csv/s);
  expect(noted.out).toMatch(/Identical/);
});

test("a figure that rests on no file is reproduced without one", async () => {
  const session = join(testFolder, "session");
  expect((await runHere("hold", "4 x 30 s at 50 %, rest 60 s", "-o", session)).exitCode).toBe(0);
  const [name = ""] = readdirSync(join(session, "figures")).filter((each) =>
    each.endsWith(".recipe.json"),
  );
  const recipeFile = join(session, "figures", name);
  expect((await runHere("reproduce", recipeFile)).out).toMatch(/^Identical/);
  expect((await runHere("reproduce", recipeFile, file)).err).toMatch(/rests on none/);
});

// Each of these makes figures of its own; a session's own figure is tried above.
const register = join(projectRoot, "data/demo-register.csv");
const session = "4 x 30 s at 70 %, rest 60 s, 3/week, 12 weeks, long";
test.each([
  ["dose", "--on", "intensity_percent", "--outcome", "tendon"],
  ["variables", "--question", "time"],
  ["project", session, "--goal", "tendon", "--joint", "ankle"],
  [
    "compare",
    session,
    "8 x 5 s at 90 %, rest 20 s, 3/week",
    "--goal",
    "tendon",
    "--joint",
    "ankle",
  ],
])("holdbook %s: its figures are made again from their recipes", async (name, ...words) => {
  const target = join(testFolder, `of-${name}`);
  expect((await runHere(name, register, ...words, "-o", target)).exitCode).toBe(0);
  const [made = ""] = readdirSync(join(target, "figures"))
    .filter((each) => each.endsWith(".recipe.json"))
    .reverse();
  const again = await runHere("reproduce", join(target, "figures", made), register);
  expect([again.exitCode, again.err]).toEqual([0, ""]);
  expect(again.out).toMatch(/^Identical/);
});

test("what cannot be followed is refused in words", async () => {
  const refusals: readonly (readonly [readonly string[], RegExp])[] = [
    [[path], /requires the file trials\.csv after the recipe/],
    [[file, file], /text that is not JSON/],
    [[changed("else.json", { command: ["notebook", "here"] }), file], /command that draws figures/],
    [[changed("out.json", { command: [...recipe.command, "-ohere"] }), file], /where to write/],
    [
      [changed("where.json", { command: [...recipe.command, "--where", "weeks>900"] }), file],
      /--where/,
    ],
  ];
  for (const [words, reason] of refusals) {
    const { exitCode, out, err } = await runHere("reproduce", ...words);
    expect([exitCode, out], String(reason)).toEqual([2, ""]);
    expect(err).toMatch(reason);
  }
});
