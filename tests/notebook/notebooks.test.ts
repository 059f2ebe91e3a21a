/**
 * Every notebook is run from its top on a kernel of its own, and again as a plain module of Node; what it shows both times
 * is what is stored in it, and what its page shows.
 */
import { copyFileSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { specificationType } from "../../src/notebook/show-figure.js";
import { starterNotebook } from "../../src/notebook/starter-notebook.js";
import { freshBuild } from "../house/fresh-build.js";
import { projectRoot } from "../house/source-tree.js";
import { lessonPage, readLesson } from "../../src/notebook/lesson-page.js";
import { unescaped } from "./recipes.js";
import { changedCells, readNotebook, type Output } from "./runner/notebook-file.js";
import { runNotebook } from "./runner/run-notebook.js";
import { runPlainly } from "./runner/run-plainly.js";

const folder = join(projectRoot, "notebooks");
const names = readdirSync(folder)
  .filter((name) => name.endsWith(".ipynb"))
  .sort();

// Below the project, so that the library is found as it is from a learner's folder.
const starterFolder = join(projectRoot, "build/starter-notebook");
afterAll(() => rmSync(starterFolder, { recursive: true, force: true }));

const starter = (): string => {
  const file = "published-outcomes.csv";
  mkdirSync(join(starterFolder, "data"), { recursive: true });
  copyFileSync(join(projectRoot, "data", file), join(starterFolder, "data", file));
  const path = join(starterFolder, "notebook.ipynb");
  writeFileSync(path, starterNotebook({ name: file, invented: false }));
  return path;
};

/** Outputs of the starter notebook, by the number of the code cell. */
let started: readonly (readonly Output[])[] | string = "not run";

type Outcome = readonly number[] | string;

/** What became of each notebook: the numbers of the cells that changed, or the error. */
const outcomes = new Map<string, Outcome>();
/** The same without a kernel. */
const plainly = new Map<string, Outcome>();

const keep = async (
  into: Map<string, Outcome>,
  name: string,
  run: () => Promise<readonly number[]>,
): Promise<void> => {
  into.set(
    name,
    await run().catch((error: unknown) => (error instanceof Error ? error.message : String(error))),
  );
};

beforeAll(async () => {
  freshBuild();
  const waiting = [...names];
  // Two at a time: each kernel holds a compiler.
  const worker = async (): Promise<void> => {
    for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) {
      const path = join(folder, name);
      await keep(outcomes, name, async () => {
        const { stored, fresh } = await runNotebook(path);
        return changedCells(stored, fresh);
      });
      await keep(plainly, name, async () =>
        changedCells(readNotebook(readFileSync(path, "utf8")), await runPlainly(path)),
      );
    }
  };
  const first = async (): Promise<void> => {
    try {
      const { fresh } = await runNotebook(starter());
      started = fresh.cells.flatMap(({ outputs }) => (outputs === undefined ? [] : [outputs]));
    } catch (error) {
      started = error instanceof Error ? error.message : String(error);
    }
    await worker();
  };
  await Promise.all([first(), worker()]);
}, 600_000);

test.each(names)("%s runs without an error and shows what is stored in it", (name) => {
  expect(outcomes.get(name), "npm run notebooks writes the outputs of today").toEqual([]);
});

test.each(names)("%s shows the same as a plain module, without a kernel", (name) => {
  expect(plainly.get(name)).toEqual([]);
});

test.each(names)(
  "%s shows the same on its page to read, in its order, and nothing else",
  (name) => {
    const lesson = readLesson(readFileSync(join(folder, name), "utf8"));
    const parts =
      /<pre class="(code|printed)">([^]*?)<\/pre>|<figure class="shown">([^]*?)<\/figure>/g;
    const page = [...lessonPage(lesson).matchAll(parts)].map(([, kind, text, html]) =>
      kind === undefined ? ["shown", html] : [kind, unescaped(text ?? "")],
    );
    const own = lesson.cells.flatMap(({ cell_type: type, source, outputs = [] }) => [
      ...(type === "code" ? [["code", source.join("")]] : []),
      ...outputs.flatMap(({ text, data }) => {
        const html = data?.["text/html"] as readonly string[] | undefined;
        if (text !== undefined) return [["printed", text.join("")]];
        if (html !== undefined) return [["shown", html.join("")]];
        // A specification always stands behind its drawing, under the type of its version.
        expect(Object.keys(data ?? {})).toEqual([specificationType]);
        return [];
      }),
    ]);
    expect(page).toEqual(own);
  },
);

test("the notebook that holdbook notebook writes runs, and shows tables and figures", () => {
  expect(typeof started === "string" ? started : "").toBe("");
  const shown = JSON.stringify(started);
  expect(shown).toContain("What became of the 173 rows");
  expect(shown).toContain("data:image/svg+xml");
  expect(shown).toContain("vnd.vegalite");
});
