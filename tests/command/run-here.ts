import { openEvidence, type Evidence } from "../../src/answers/evidence.js";
import { readInput } from "../../src/command/read-input.js";
import { runWords } from "../../src/command/run-words.js";
import type { Figure } from "../../src/figures/figure.js";
import { drawFigure, type DrawnFigure } from "../../src/host/draw-figure.js";

export type Ran = Readonly<{ exitCode: number | null; out: string; err: string }>;

const opened = new Map<string, Evidence>();
const drawn = new Map<string, Promise<DrawnFigure>>();

/** The bytes of a file opened once in a worker, so that what one test had fitted to them is there for the next. */
const open = async (path: string): Promise<Evidence> => {
  const file = await readInput(path);
  const key = `${file.name} ${file.fingerprint}`;
  const evidence = opened.get(key) ?? openEvidence(file);
  opened.set(key, evidence);
  return evidence;
};

/** A figure drawn once in a worker: the same figure has the same bytes, as tests/host and the report's test hold. */
const draw = (figure: Figure): Promise<DrawnFigure> => {
  const key = JSON.stringify(figure);
  const picture = drawn.get(key) ?? drawFigure(figure);
  drawn.set(key, picture);
  return picture;
};

/** Runs a command line inside the test's own process: the same code without a process's start. */
export const runHere = async (...words: readonly string[]): Promise<Ran> => {
  const out: string[] = [];
  const err: string[] = [];
  const line = (text: string): string => (text.endsWith("\n") ? text : `${text}\n`);
  const exitCode = await runWords(words, {
    out: (text) => out.push(line(text)),
    err: (text) => err.push(line(text)),
    progress: () => undefined,
    width: 100,
    open,
    draw,
    // Bytes of a PDF hold the time they were made.
    printer: () => Promise.resolve(undefined),
  });
  return { exitCode, out: out.join(""), err: err.join("") };
};

/** The JSON object a command prints; refused unless it is all that it prints, on both streams. */
export const jsonOf = async <Shape>(...words: readonly string[]): Promise<Shape> => {
  const { exitCode, out, err } = await runHere(...words, "--json");
  if (exitCode !== 0 || err !== "") throw new Error(`exit ${exitCode}: ${err}`);
  return JSON.parse(out) as Shape;
};
