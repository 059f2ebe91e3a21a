/** Single trials as they are finally drawn: what a slide leaves out is told on it, and a slide of one row is filled. */
import { expect, test } from "vitest";
import { figuresAt, type NamedFigure } from "../../src/figures/figure-list.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { figuresOfKind } from "./asked-figures.js";

const texts = (svg: string): readonly Readonly<{ text: string; y: number }>[] => {
  const shifts = [0];
  return [...svg.matchAll(/<(\/?g|text)([^>]*)>([^<]*)/g)].flatMap(([whole, tag, at, text]) => {
    const [, y = "0"] = /translate\([-\d.e]+,([-\d.e]+)\)/.exec(whole) ?? [];
    if (tag === "/g") shifts.pop();
    else if (tag === "g" && !at!.endsWith("/")) shifts.push(shifts.at(-1)! + Number(y));
    else if (tag === "text" && text !== "") return [{ text: text!, y: shifts.at(-1)! + Number(y) }];
    return [];
  });
};

const demonstration = async () => {
  const [named] = await figuresOfKind("single-trials", "demo-register.csv");
  return named as Extract<NamedFigure, Readonly<{ name: "single-trials" }>>;
};
const slideOf = async (named: NamedFigure) => {
  const [slide, ...others] = figuresAt("slide")(named);
  expect(others).toEqual([]);
  return { drawn: texts(await drawSvg(slide!)), rows: slide!.data.length };
};

test("a slide says how many comparisons it leaves off, and where they are", async () => {
  const named = await demonstration();
  const all = named.data.rows.length;
  expect(all).toBe(24);
  const { drawn, rows } = await slideOf(named);
  expect(rows).toBeGreaterThan(8);
  expect(rows).toBeLessThanOrEqual(12);
  expect(drawn.map(({ text }) => text)).toContain(
    `${all - rows} more comparisons, less sure: in the table of the answer.`,
  );
  // Five that all fit: nothing is left off, and nothing says so.
  const few = { ...named, data: { ...named.data, rows: named.data.rows.slice(8, 13) } };
  const five = await slideOf(few);
  expect(five.rows).toBe(5);
  expect(five.drawn.map(({ text }) => text).join(" ")).not.toContain("more comparison");
});

test("a slide of a single row is not half empty", async () => {
  const named = await demonstration();
  const { drawn } = await slideOf({
    ...named,
    data: { ...named.data, rows: named.data.rows.slice(8, 9) },
  });
  // The sheet is 330 units high: the last words stand at its foot, the row about its middle.
  expect(Math.max(...drawn.map(({ y }) => y))).toBeGreaterThan(280);
  const row = drawn.find(({ text }) => text.startsWith("Invented 03"))!;
  expect(row.y).toBeGreaterThan(110);
  expect(row.y).toBeLessThan(220);
});

test.each([
  ["column", 288, 372],
  ["page", 564, 705],
  ["page", 880, 1085],
] as const)("at %s size and %d units it is no wider than %d points", async (size, width, most) => {
  const named = await demonstration();
  for (const figure of figuresAt(size, { width })(named)) {
    const [, wide] = /<svg[^>]* width="([\d.]+)"/.exec(await drawSvg(figure)) ?? [];
    expect(Number(wide)).toBeGreaterThan(0.93 * most - 10);
    expect(Number(wide)).toBeLessThanOrEqual(most);
  }
});
