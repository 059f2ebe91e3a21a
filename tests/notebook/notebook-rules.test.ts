/** What every notebook keeps to, read from the files without running them. */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { exercises } from "../../src/notebook/exercises/exercises.js";
import { exportedNames } from "../house/public-surface.js";
import { projectRoot } from "../house/source-tree.js";
import { readNotebook, sourceOf } from "./runner/notebook-file.js";

const folder = join(projectRoot, "notebooks");
const names = readdirSync(folder)
  .filter((name) => name.endsWith(".ipynb"))
  .sort();
const offered = {
  holdbook: new Set(exportedNames(["src/index.ts"]).map(({ name }) => name)),
  "holdbook/notebook": new Set(exportedNames(["src/notebook/notebook.ts"]).map(({ name }) => name)),
};

/** Lines of a cell that fit a screen. */
const screen = 40;
const lineLength = 134;

test("there are eleven, numbered in reading order", () => {
  expect(names.map((name) => parseInt(name, 10)).sort((a, b) => a - b)).toEqual(
    Array.from({ length: 11 }, (_, place) => place + 1),
  );
});

describe.each(names)("%s", (name) => {
  const notebook = readNotebook(readFileSync(join(folder, name), "utf8"));
  const number = String(parseInt(name, 10));
  const code = notebook.cells.filter(({ cell_type: type }) => type === "code").map(sourceOf);
  const all = code.join("\n");

  test("opens with what a learner will be able to do, and ends with exercises that are checked", () => {
    const [first] = notebook.cells;
    expect(first?.cell_type).toBe("markdown");
    const opening = first === undefined ? "" : sourceOf(first);
    expect(opening).toMatch(new RegExp(`^# ${number} `));
    expect(opening).toContain("you will be able to");
    const own = exercises.map(({ id }) => id).filter((id) => id.startsWith(`${number}.`));
    expect(own.length).toBeGreaterThanOrEqual(2);
    const last = code.at(-1) ?? "";
    const text = notebook.cells.map(sourceOf).join("\n");
    for (const id of own) {
      expect(last).toContain(`checkAnswer("${id}", undefined)`);
      expect(text).toContain(`**${id}**`);
    }
  });

  test("every code cell was run in order, from the first, and has left no error", () => {
    const cells = notebook.cells.filter(({ cell_type: type }) => type === "code");
    expect(cells.map(({ execution_count: count }) => count)).toEqual(cells.map((_, at) => at + 1));
    const kinds = cells.flatMap(({ outputs = [] }) => outputs.map((output) => output.output_type));
    expect(kinds).not.toContain("error");
  });

  test("takes only public names, no clock, no chance and no place on a machine", () => {
    for (const [, list = "", from = ""] of all.matchAll(/import \{([^}]*)\} from "([^"]+)"/g)) {
      const public_ = from in offered ? offered[from as keyof typeof offered] : undefined;
      if (public_ === undefined) expect(["tslab", "fs", "crypto"]).toContain(from);
      else
        for (const each of list.split(",").map((word) => word.trim()))
          expect(public_, from).toContain(each);
    }
    expect(all).not.toMatch(/\bDate\b|Math\.random|performance\.|process\.|setTimeout/);
    expect(all).not.toMatch(/["'`](?:\/|[A-Z]:\\|~\/)/);
  });

  test("no cell is longer or wider than a screen", () => {
    for (const text of code) {
      const lines = text.split("\n");
      expect(lines.length, text).toBeLessThanOrEqual(screen);
      for (const line of lines) expect(line.length, line).toBeLessThanOrEqual(lineLength);
    }
  });
});

test("where protocols appear, their cautions are shown", () => {
  for (const name of names) {
    const text = readFileSync(join(folder, name), "utf8");
    if (/parsePrescription|projectProtocol|compareProtocols/.test(text))
      expect(text, name).toContain("showCautions(");
  }
});
