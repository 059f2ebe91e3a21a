/** What every notebook keeps to, read from the files without running them. */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { exercises } from "../../src/notebook/exercises/exercises.js";
import { exportedNames } from "../house/public-surface.js";
import { projectRoot } from "../house/source-tree.js";
import { readNotebook, sourceOf, type Cell, type Notebook } from "./runner/notebook-file.js";

const folder = join(projectRoot, "notebooks");
const names = readdirSync(folder)
  .filter((name) => name.endsWith(".ipynb"))
  .sort();
const offered = {
  holdbook: new Set(exportedNames(["src/index.ts"]).map(({ name }) => name)),
  "holdbook/notebook": new Set(exportedNames(["src/notebook/notebook.ts"]).map(({ name }) => name)),
};

/** Where the question of an exercise stands, and where its answer is checked, by the number of the cell. */
const placesOf = ({ cells }: Notebook, id: string) => ({
  asked: cells.findIndex((cell) => sourceOf(cell).includes(`**${id} Predict:** `)),
  checked: cells.findIndex((cell) =>
    sourceOf(cell).includes(`checkAnswer("${id}", { predicted: undefined, found: undefined });`),
  ),
});

/** Answers that stand above their question as something else: what they are there. */
const elsewhere: Readonly<Record<string, string>> = {
  "3.3": "the name of a trial among the others",
  "6.2": "the grade of another session",
  "7.2": "the middle of a single person's range, of another protocol",
  "7.3": "the chance of a gain, of another protocol",
  "8.1": "the line of a row",
  "9.2": "an average without one study",
  "10.2": "a number of trials",
};

/** What a cell shows to be read: the cells of its tables, and the words of its sentences and figures. */
const wordsShown = ({ outputs = [] }: Cell): readonly string[] =>
  outputs.flatMap((output) => {
    const lines = output["text"] ?? (output["data"] as Record<string, unknown>)["text/html"] ?? [];
    const text = (lines as readonly string[]).join("");
    const described = [...text.matchAll(/ alt="([^"]*)"/g)].map(([, alt = ""]) => alt);
    const cells = [...text.matchAll(/<t[dh][^>]*>([^<]*)</g)].map(([, cell = ""]) => cell);
    const words = [text.replace(/<[^>]*>/g, " "), ...described].join(" ").split(/\s+/);
    return [...cells, ...words.map((word) => word.replace(/^[("“]+|[%°,;.)"”]+$/g, ""))];
  });

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

  test("opens with what a learner will be able to do; every exercise asks to predict, to run and to explain", () => {
    const [first] = notebook.cells;
    expect(first?.cell_type).toBe("markdown");
    const opening = first === undefined ? "" : sourceOf(first);
    expect(opening).toMatch(new RegExp(`^# ${number} `));
    expect(opening).toContain("you will be able to");
    const own = exercises.map(({ id }) => id).filter((id) => id.startsWith(`${number}.`));
    expect(own.length).toBeGreaterThanOrEqual(2);
    for (const id of own) {
      const { asked, checked } = placesOf(notebook, id);
      expect(asked, id).toBeGreaterThan(0);
      expect(checked, id).toBeGreaterThan(asked);
      const after = notebook.cells[checked + 1];
      expect(after === undefined ? "" : sourceOf(after), id).toMatch(/^\*\*Explain:\*\* /);
    }
  });

  test("no answer is printed above its question", () => {
    for (const exercise of exercises.filter(({ id }) => id.startsWith(`${number}.`))) {
      const { asked } = placesOf(notebook, exercise.id);
      const above = notebook.cells.slice(0, asked).flatMap(wordsShown);
      const answer = exercise.answer();
      const written = typeof answer === "number" ? answer.toFixed(exercise.decimals ?? 0) : answer;
      expect(above.includes(written), `${exercise.id}: ${written}`).toBe(exercise.id in elsewhere);
    }
  });

  test("what it claims with a flaw is quoted rightly; lessons 3 to 8 have one such claim", () => {
    const texts = notebook.cells.filter(({ cell_type: type }) => type === "markdown").map(sourceOf);
    const claims = texts.flatMap((text) => [
      ...text.matchAll(/## Find the flaw\n\n\*"([^*]*)"\*/g),
    ]);
    const wanted = Number(number) >= 3 && Number(number) <= 8;
    if (wanted) expect(claims).toHaveLength(1);
    const shown = notebook.cells.flatMap(wordsShown).join(" ");
    for (const [, claim = ""] of claims)
      for (const [decimal] of claim.matchAll(/\d+\.\d+/g)) expect(shown, claim).toContain(decimal);
  });

  test("every code cell was run in order, from the first, and has left no error", () => {
    const cells = notebook.cells.filter(({ cell_type: type }) => type === "code");
    expect(cells.map(({ execution_count: count }) => count)).toEqual(cells.map((_, at) => at + 1));
    const kinds = cells.flatMap(({ outputs = [] }) => outputs.map((output) => output.output_type));
    expect(kinds).not.toContain("error");
    expect(cells.flatMap(({ outputs = [] }) => outputs.map(({ name }) => name))).not.toContain(
      "stderr",
    );
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
