/**
 * Every question through the notebook's door: its data are what the command prints for the example of the room's list, and
 * each of its figures takes a title and a width.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { questionIds, questionList, type QuestionId } from "../../src/answers/question-list.js";
import type { NamedFigure } from "../../src/figures/figure-list.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { ask, openFile } from "../../src/notebook/ask.js";
import { wishedPages } from "../../src/notebook/show-figure.js";
import { runHere } from "../command/run-here.js";
import { overlapping, sheetOf, textBoxes } from "../figures/text-boxes.js";
import { shellWords } from "../house/markdown-fences.js";
import { projectRoot } from "../house/source-tree.js";

const inProject = (path: string): string => join(projectRoot, path);
const textOf = (path: string): string => readFileSync(inProject(path), "utf8");

/** What the example of each question says, as a notebook writes it. */
const asked: Readonly<Record<QuestionId, () => object | Promise<object>>> = {
  check: () => ({}),
  brief: () => ({}),
  studies: () => ({}),
  effects: () => ({}),
  pool: () => ({ outcome: "size" }),
  dose: () => ({ on: "holdSeconds", outcome: "strength" }),
  variables: () => ({ outcome: "strength" }),
  "single-trials": () => ({ outcome: "tendon" }),
  "isometric-or-dynamic": () => ({}),
  "equal-tension": () => ({ equal: "torque-time" }),
  "joint-angle": () => ({ degrees: [10, 20, 30] }),
  time: () => ({ weeks: [4, 8, 12] }),
  project: () => ({
    protocol: "4 x 10 s at 70%, rest 60 s, 3/week, 8 weeks",
    goal: "strength",
  }),
  compare: () => ({
    protocol: ["4 x 10 s at 70%, 3/week", "10 x 3 s at 90%, 3/week"],
    goal: "strength",
  }),
  explore: () => ({ goal: "size", minutes: 10, sessions: 3, intensityUpTo: 90 }),
  influence: () => ({ outcome: "size" }),
  "small-studies": () => ({}),
  statements: () => ({ statements: textOf("data/example-statements.csv") }),
  certainty: () => ({ contrast: "against-control" }),
  "risk-of-bias": () => ({ outcome: "tendon" }),
  sweep: () => ({ outcome: "blood-pressure" }),
  made: () => ({ outcome: "size" }),
  settle: () => ({ outcome: "strength", on: "hold-seconds", simulations: 40 }),
  changes: async () => ({ older: await openFile(inProject("data/published-outcomes.csv")) }),
  hold: () => ({ protocol: "4 x 20 s at 70%, rest 60 s", joint: "knee" }),
  ramp: () => ({
    protocol: "4 x 30 s at 60%, rest 90 s, 3/week",
    from: "deconditioned",
    weeks: 8,
    joint: "knee",
  }),
  follow: () => ({
    log: textOf("data/example-client-log.csv"),
    protocol: "4 x 10 s at 70%, rest 60 s, 3/week, 8 weeks, knee, 90°",
  }),
};

const title = "A title of my own";

/** A figure with a title of one's own, in a width of a column (12 cm) and of a page: what of it cannot be read. */
const wrongOf = async (figure: NamedFigure): Promise<readonly string[]> => {
  const wrong: string[] = [];
  for (const width of [453, 640]) {
    const [page] = wishedPages(figure, { title, width });
    const svg = await drawSvg(page!);
    const boxes = await textBoxes(svg);
    const { width: wide, scale } = sheetOf(svg);
    // Two margins of at most 14 beside it, and letters that are wider than was reckoned.
    const most = 1.05 * (width + 28) * (13 / 11);
    wrong.push(
      ...(boxes.some(({ text }) => text === title) ? [] : ["no title"]),
      ...(wide > most ? [`${wide} wide, at most ${most}`] : []),
      ...(Math.min(...boxes.map(({ size }) => size)) * scale > 9 ? [] : ["type below 9 points"]),
      ...overlapping(boxes).map((each) => `at ${width}: ${each}`),
    );
  }
  return wrong.map((each) => `${figure.name} ${figure.data.id}: ${each}`);
};

test.each(questionIds)(
  "%s: the notebook gives what the command prints, and its figures take a title and a width",
  async (id) => {
    const words = shellWords(questionList[id].example).map((word) =>
      word.startsWith("data/") ? inProject(word) : word,
    );
    const without = words.filter((word, at) => word !== "--card" && words[at - 1] !== "--card");
    const { out } = await runHere(id, ...without, "--json");
    const options = await asked[id]();
    if (questionList[id].needs === "file") {
      const [first, second] = without.filter((word) => /\.csv$/.test(word));
      const others = without[without.indexOf("--with") + 1];
      await (id === "changes" ? openFile(second!, [others!]) : openFile(first!));
    }
    const { data, figures } = await ask(id, options as never);
    expect(JSON.parse(JSON.stringify(data))).toEqual(JSON.parse(out));
    const wrong: string[] = [];
    for (const figure of figures) wrong.push(...(await wrongOf(figure)));
    expect(wrong).toEqual([]);
  },
  300_000,
);
