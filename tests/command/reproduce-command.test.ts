/** Figures made again from their recipes. */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import type { FigureRecipe } from "../../src/answers/figure-recipe.js";
import { tableText } from "../records/record-table.js";
import { runHere } from "./run-here.js";
import { fileOf, testFolder } from "./test-folder.js";

const studies = ["Ashdown 2019", "Brook 2020", "Carse 2021", "Dunmore 2022"];
const rows = studies.map((study, index) => ({
  study,
  outcome: "peak isometric torque",
  outcomeFamily: "strength",
  preMean: String(180 + 3 * index),
  // So that there is more than one combination to draw what has been studied.
  intensityPercent: String(40 + 15 * index),
}));
const text = tableText(rows);
const file = fileOf("trials.csv", text);
const folder = join(testFolder, "report");
const written = await runHere("report", file, "-o", folder);
const figures = readdirSync(join(folder, "figures"));
const recipeNames = figures.filter((name) => name.endsWith(".recipe.json"));
const path = join(folder, "figures", "estimates-strength-change-within-arm.recipe.json");
const recipe = JSON.parse(readFileSync(path, "utf8")) as FigureRecipe;
const changed = (name: string, change: object): string =>
  fileOf(name, JSON.stringify({ ...recipe, ...change }));

test("every figure of an answer has its recipe beside it, complete in itself", () => {
  expect([written.exitCode, written.err]).toEqual([0, ""]);
  expect(recipeNames).toContain("evidence-map.recipe.json");
  for (const name of recipeNames) expect(figures).toContain(name.replace(".recipe.json", ".svg"));
  expect(recipe.question).toMatchObject({ id: "pool", options: { scale: "log-ratio-of-means" } });
  expect(JSON.stringify(recipe)).not.toContain(testFolder);
});

describe("the same", () => {
  const [header = "", ...lines] = text.trimEnd().split("\n");
  test.each([
    ["the same file", file],
    ["rows in another order", fileOf("turned.csv", [header, ...lines.reverse()].join("\n"))],
    ["other line ends", fileOf("ends.csv", text.replaceAll("\n", "\r\n"))],
  ])("%s: exit code 0, one paragraph", async (_name, again) => {
    const { exitCode, out, err } = await runHere("reproduce", path, again);
    expect([exitCode, err]).toEqual([0, ""]);
    expect(out.replace(/\s+/g, " ")).toMatch(
      /^The same: all \d+ values of figure estimates-strength-change-within-arm are those of the recipe\. Strength, before to after: /,
    );
    expect(out).not.toMatch(/SHA-256/);
  });
});

describe("different", () => {
  test("another number leads with the average, then the headline, and exit code 1", async () => {
    const mended = fileOf("mended.csv", text.replace("180", "150"));
    const { exitCode, out } = await runHere("reproduce", path, mended);
    expect(exitCode).toBe(1);
    const flat = out.replace(/\s+/g, " ");
    const [, was, is] = /^Different: average (\S+)% → (\S+)%\./.exec(flat) ?? [];
    expect(flat).toContain(`Strength, before to after: ${was}% → ${is}% (95% interval`);
    expect(Number(is)).toBeGreaterThan(Number(was));
    expect(recipe.headline).toContain(`: ${was}% (`);
    expect(flat).toMatch(/The file has changed: .*trials\.csv .*mended\.csv/);
    const again = await runHere("pool", mended, "--outcome", "strength", "--json");
    const { estimate } = JSON.parse(again.out) as { estimate: number };
    expect((100 * Math.expm1(estimate)).toFixed(1)).toBe(is);
  });

  test("people counted twice, told by a cohort: fewer studies, another average", async () => {
    const cohort = fileOf(
      "cohort.csv",
      tableText(rows.map((row, index) => (index < 2 ? { ...row, cohort: "one lab" } : row))),
    );
    const { exitCode, out } = await runHere("reproduce", path, cohort);
    expect(exitCode).toBe(1);
    expect(out.replace(/\s+/g, " ")).toContain("4 effects in 4 → 3 studies");
  });

  test("a number that is not the recipe's is shown old and new, and drawn as it is now", async () => {
    const [first, ...rest] = (recipe.figure.data as never as { effects: object[] }).effects;
    const effects = [{ ...first, low: 987.25 }, ...rest];
    const wrong = changed("wrong.json", {
      figure: { ...recipe.figure, data: { ...recipe.figure.data, effects } },
    });
    const now = join(testFolder, "now");
    const { exitCode, out } = await runHere("reproduce", wrong, file, "-o", now);
    expect(exitCode).toBe(1);
    expect(out).toMatch(/1 of \d+ values/);
    expect(out).toMatch(/Ashdown 2019.*low\s+987\.25\s+0\.\d+/s);
    const name = `${recipe.figure.data.id}.recipe.json`;
    expect(JSON.parse(readFileSync(join(now, "figures", name), "utf8"))).toEqual(recipe);
  });
});

test("a figure that rests on no file is reproduced without one", async () => {
  const session = join(testFolder, "session");
  expect((await runHere("hold", "4 x 30 s at 50%, rest 60 s", "-o", session)).exitCode).toBe(0);
  const [name = ""] = readdirSync(join(session, "figures")).filter((each) =>
    each.endsWith(".recipe.json"),
  );
  const recipeFile = join(session, "figures", name);
  expect((await runHere("reproduce", recipeFile)).out).toMatch(/^The same/);
  expect((await runHere("reproduce", recipeFile, file)).err).toMatch(/rests on none/);
});

test("what cannot be followed is refused in one sentence", async () => {
  const question = (options: object) => ({
    question: { ...recipe.question, options: { ...recipe.question.options, ...options } },
  });
  const refusals: readonly (readonly [readonly string[], RegExp])[] = [
    [[path], /the file trials\.csv after the recipe/],
    [[file, file], /text that is not JSON/],
    [[changed("else.json", { question: { id: "notebook", options: {} } }), file], /got "notebook"/],
    [[changed("out.json", question({ output: "here" })), file], /got "output"/],
    [[changed("where.json", question({ where: "weeks>900" })), file], /--where/],
    [[changed("gone.json", question({ outcome: "size" })), file], /requires .*got/],
  ];
  for (const [words, reason] of refusals) {
    const { exitCode, out, err } = await runHere("reproduce", ...words);
    expect([exitCode, out], String(reason)).toEqual([2, ""]);
    expect(err).toMatch(reason);
    expect(err.trim()).not.toContain("\n");
  }
});
