import { createRequire } from "node:module";

import Ajv from "ajv";
import { compile } from "vega-lite";
import { expect } from "vitest";

import type { Figure } from "../../src/figures/figure.js";

const schema = createRequire(import.meta.url)("vega-lite/vega-lite-schema.json") as object;
const valid = new Ajv({ logger: false, unknownFormats: "ignore" }).compile(schema);

/** Compiles a figure with a logger that collects; a sound figure leaves it empty. */
export const compileWarnings = (figure: Figure): readonly string[] => {
  const heard: string[] = [];
  const hear = (...words: readonly unknown[]) => {
    heard.push(words.map(String).join(" "));
    return logger;
  };
  const logger = { level: () => logger, error: hear, warn: hear, info: hear, debug: hear };
  compile(figure.specification, { logger });
  return heard;
};

/** What every figure must be: valid by the published schema, compiled without a warning, plain data, fully worded. */
export const expectSoundFigure = (figure: Figure): void => {
  const passed = valid(figure.specification);
  expect(passed, JSON.stringify(valid.errors?.slice(0, 3))).toBe(true);
  expect(compileWarnings(figure)).toEqual([]);
  const text = JSON.stringify(figure.specification);
  expect(JSON.parse(text)).toEqual(figure.specification);
  expect(text).not.toMatch(/NaN|Infinity|"(?:expr|signal|aggregate|calculate|url|href)":/);
  expect(figure.id).toMatch(/^[a-z][a-z0-9-]*$/);
  for (const words of [figure.title, figure.caption, figure.description]) {
    expect(words.length).toBeGreaterThan(0);
    expect(words).not.toMatch(/undefined|NaN|Infinity/);
  }
  for (const row of figure.data) {
    for (const value of Object.values(row)) {
      if (typeof value === "number") expect(Number.isFinite(value)).toBe(true);
    }
  }
};

type MarkRow = Readonly<{
  x: number;
  y: number;
  x2?: number;
  y2?: number;
  text?: string;
  full?: string;
}>;

/** The rows behind the layer of a given name, wherever in the specification it stands. */
export const rowsOf = (figure: Figure, name: string): readonly MarkRow[] => {
  const found: MarkRow[][] = [];
  const walk = (node: unknown): void => {
    if (Array.isArray(node)) node.forEach(walk);
    else if (typeof node === "object" && node !== null) {
      const layer = node as { name?: unknown; data?: { values?: MarkRow[] } };
      if (layer.name === name && layer.data?.values !== undefined) found.push(layer.data.values);
      for (const [key, value] of Object.entries(node)) if (key !== "data") walk(value);
    }
  };
  walk(figure.specification);
  expect(found, `layers named ${name}`).toHaveLength(1);
  return found[0] ?? [];
};

/** A session for tests, laid out end to end. */
export const session = (
  plan: Readonly<{
    sets: number;
    repetitions: number;
    hold: number;
    rest: number;
    setRest: number;
    effort?: number;
  }>,
) => {
  const out = [];
  let clock = 0;
  for (let set = 1; set <= plan.sets; set += 1) {
    for (let repetition = 1; repetition <= plan.repetitions; repetition += 1) {
      const last = repetition === plan.repetitions;
      out.push({
        kind: "hold" as const,
        startSeconds: clock,
        endSeconds: clock + plan.hold,
        intensityPercent: plan.effort,
        set,
      });
      clock += plan.hold;
      const rest = last ? (set < plan.sets ? plan.setRest : 0) : plan.rest;
      if (rest > 0) {
        out.push({
          kind: last ? ("rest between sets" as const) : ("rest between repetitions" as const),
          startSeconds: clock,
          endSeconds: clock + rest,
          intensityPercent: 0,
          set,
        });
        clock += rest;
      }
    }
  }
  return out;
};
