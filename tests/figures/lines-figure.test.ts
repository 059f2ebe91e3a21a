/** Sentences as a picture: which rows a slide holds, and that those it leaves out are counted. */
import { expect, test } from "vitest";
import { linesFigure } from "../../src/figures/lines-figure.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const rowsNamed = (count: number) =>
  Array.from({ length: count }, (_, at) => ({
    name: `Name ${at + 1}`,
    text: `what is said of ${at + 1}`,
  }));
const made = (count: number, size?: "slide" | "column") =>
  linesFigure(
    { id: "lines", title: "Sentences", rows: rowsNamed(count), caption: "From a test." },
    size === undefined ? undefined : { size, width: size === "slide" ? 880 : 340, rows: 40 },
  );
const textsOf = (figure: ReturnType<typeof made>, layer: string): readonly string[] =>
  rowsOf(figure, `lines: ${layer}`).map(({ text }) => String(text));

test("a slide draws the rows that fit and counts the others", () => {
  const figure = made(40, "slide");
  expectSoundFigure(figure);
  const names = textsOf(figure, "text-strong");
  expect(names).toEqual(rowsNamed(names.length).map(({ name }) => name));
  expect(names.length).toBeGreaterThan(5);
  expect(textsOf(figure, "text-quiet")).toEqual([`and ${40 - names.length} more`]);
  // What a heading of two lines and a source leave.
  expect(figure.height).toBeLessThanOrEqual(218);
  expect(rowsOf(figure, "lines: rules")).toHaveLength(names.length - 1);
});

test("few rows are set large, on a slide alone, and nothing is left out", () => {
  const [few, page] = [made(2, "slide"), made(40)];
  expect(JSON.stringify(few.specification)).toContain('"fontSize":16');
  expect(JSON.stringify(few.specification)).not.toContain("more");
  expect(textsOf(page, "text-strong")).toHaveLength(40);
  expect(JSON.stringify(page.specification)).not.toContain('"fontSize":16');
  // Two rows of one line each: 1.32 of the type for the line and 0.7 of room.
  expect(few.height).toBe(Math.ceil(2 * 16 * (1.32 + 0.7)));
});

test("in a column the text stands under its name, elsewhere beside it", () => {
  const placeOf = (figure: ReturnType<typeof made>, layer: string) =>
    rowsOf(figure, `lines: ${layer}`)[0]!;
  const [column, page] = [made(3, "column"), made(3)];
  expect(placeOf(column, "text-body").x).toBe(placeOf(column, "text-strong").x);
  expect(placeOf(column, "text-body").y).not.toBe(placeOf(column, "text-strong").y);
  expect(placeOf(page, "text-body").x).toBe(220);
  expect(placeOf(page, "text-body").y).toBe(placeOf(page, "text-strong").y);
});
