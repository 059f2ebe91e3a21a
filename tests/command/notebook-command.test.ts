/** The folder for a learner's own notebook. */
import { existsSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { tableText } from "../records/record-table.js";
import { projectRoot } from "../house/source-tree.js";
import { runHere } from "./run-here.js";
import { fileOf, testFolder } from "./test-folder.js";

const file = fileOf(
  "my trials.csv",
  tableText([{ study: "Ashdown 2019" }, { study: "Brook 2020" }]),
);
const folder = join(testFolder, "course");
const ran = await runHere("notebook", folder, file);
const inFolder = (name: string): string => readFileSync(join(folder, name), "utf8");

test("the folder has the user's own bytes, a notebook on them, and what Jupyter needs", () => {
  expect([ran.exitCode, ran.err]).toEqual([0, ""]);
  expect(inFolder("data/my trials.csv")).toBe(readFileSync(file, "utf8"));
  const notebook = JSON.parse(inFolder("notebook.ipynb")) as { cells: { source: string[] }[] };
  expect(notebook.cells.flatMap(({ source }) => source).join("")).toContain(
    'openFile("data/my trials.csv")',
  );
  const kernel = JSON.parse(inFolder(".jupyter/kernels/tslab/kernel.json")) as { argv: string[] };
  expect(kernel.argv).toContain("{connection_file}");
});

test("the two lines that install Jupyter and the kernel are said, and stand in the folder", () => {
  for (const text of [ran.out, inFolder("README.md")]) {
    expect(text).toMatch(/pip install jupyterlab\s+npm install/);
    expect(text).toContain("jupyter lab notebook.ipynb");
  }
});

test("the kernel is the one the project's notebooks run on, and the library is found from the folder", () => {
  const own = JSON.parse(inFolder("package.json")) as { dependencies: Record<string, string> };
  const project = JSON.parse(readFileSync(join(projectRoot, "package.json"), "utf8")) as {
    devDependencies: Record<string, string>;
  };
  expect(own.dependencies["tslab"]).toBe(project.devDependencies["tslab"]);
  const library = join(folder, (own.dependencies["holdbook"] ?? "").replace(/^file:/, ""));
  expect(readFileSync(join(library, "package.json"), "utf8")).toContain('"name": "holdbook"');
});

test("a folder in use is left as it is; without a file the starter file is taken", async () => {
  writeFileSync(join(folder, "notebook.ipynb"), "a day's work");
  const again = await runHere("notebook", folder, file);
  expect([again.exitCode, again.out]).toEqual([2, ""]);
  expect(again.err).toMatch(/a new folder, or an empty one/);
  expect(inFolder("notebook.ipynb")).toBe("a day's work");
  const other = join(testFolder, "other");
  expect((await runHere("notebook", other)).out).toContain("published-outcomes.csv");
  expect(existsSync(join(other, "data/published-outcomes.csv"))).toBe(true);
});

test("a file that is not there is said, and a file without usable rows is taken with a warning", async () => {
  const missing = await runHere("notebook", join(testFolder, "none"), "absent.csv");
  expect(missing.exitCode).toBe(2);
  expect(existsSync(join(testFolder, "none"))).toBe(false);
  const broken = await runHere(
    "notebook",
    join(testFolder, "broken"),
    fileOf("b.csv", "study,arm\nA,x\n"),
  );
  expect(broken.exitCode).toBe(0);
  expect(broken.err).toMatch(/holdbook check b\.csv/);
});

test("the lessons come with their data, the kernel, the frames of the project's own version, and a line for each shell", async () => {
  const lessons = join(testFolder, "lessons");
  const { out, exitCode } = await runHere("notebook", lessons, "--lessons");
  expect(exitCode).toBe(0);
  expect(out).toContain("11 lessons");
  for (const line of [
    "JUPYTER_PATH=.jupyter jupyter lab",
    '$env:JUPYTER_PATH=".jupyter"',
    "set JUPYTER_PATH=.jupyter&&",
  ])
    expect(out).toContain(line);
  const first = readFileSync(join(lessons, "notebooks/1-reading-and-checking.ipynb"), "utf8");
  expect(first).toContain("../data/demo-register.csv");
  expect(existsSync(join(lessons, "data/demo-register.csv"))).toBe(true);
  expect(readFileSync(join(lessons, "pages/1-reading-and-checking.html"), "utf8")).toContain(
    "<h1>1 Reading and checking a file</h1>",
  );
  expect(existsSync(join(lessons, ".jupyter/kernels/tslab/kernel.json"))).toBe(true);
  // Every picture and page that the recipes link to comes with them.
  const recipes = readFileSync(join(lessons, "shared/recipes.md"), "utf8");
  const linked = [...recipes.matchAll(/\]\(([^)]+)\)/g)].map(([, path = ""]) => path);
  expect(linked.length).toBeGreaterThan(20);
  expect(linked.filter((path) => !existsSync(join(lessons, "shared", path)))).toEqual([]);
  const own = JSON.parse(readFileSync(join(lessons, "package.json"), "utf8")) as {
    dependencies: Record<string, string>;
    overrides: Record<string, string>;
  };
  const project = JSON.parse(readFileSync(join(projectRoot, "package.json"), "utf8")) as {
    devDependencies: Record<string, string>;
    overrides: Record<string, string>;
  };
  expect(own.dependencies["danfojs"]).toBe(project.devDependencies["danfojs"]);
  expect(own.overrides).toEqual(project.overrides);
  expect(
    (await runHere("notebook", join(testFolder, "more"), "my.csv", "--lessons")).err,
  ).toContain("the lessons bring their own data");
});

test("the teacher's key is a file of its own, and never where learners read", async () => {
  const lessons = join(testFolder, "taught");
  const key = join(testFolder, "key.html");
  const inside = await runHere(
    "notebook",
    lessons,
    "--lessons",
    "--key",
    join(lessons, "key.html"),
  );
  expect([inside.exitCode, existsSync(lessons)]).toEqual([2, false]);
  expect(inside.err).toContain("outside their folder");
  expect((await runHere("notebook", lessons, "--key", key)).err).toContain("--lessons");
  const { out } = await runHere("notebook", lessons, "--lessons", "--key", key);
  expect(out).toContain("key.html has the key.");
  expect(readFileSync(key, "utf8")).toContain("Common wrong answer");
  const pages = readdirSync(join(lessons, "pages"));
  expect(pages).toHaveLength(11);
  for (const name of pages)
    expect(readFileSync(join(lessons, "pages", name), "utf8")).not.toContain("Common wrong answer");
});
