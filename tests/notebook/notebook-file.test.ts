/** When two runs of a notebook count as the same, and when they do not. */
import { expect, test } from "vitest";
import {
  changedCells,
  linesOf,
  notebookText,
  readNotebook,
  type Notebook,
} from "./runner/notebook-file.js";

const image = (svg: string): string =>
  `<img src="data:image/svg+xml;base64,${Buffer.from(svg).toString("base64")}">`;

const showing = (data: Readonly<Record<string, unknown>>): Notebook => ({
  cells: [
    { cell_type: "markdown", id: "a", metadata: {}, source: "text" },
    {
      cell_type: "code",
      id: "b",
      metadata: {},
      source: ["1;\n", "2"],
      execution_count: 1,
      outputs: [{ output_type: "display_data", data, metadata: {} }],
    },
  ],
  metadata: {},
  nbformat: 4,
  nbformat_minor: 5,
});

test.each([
  ["the same text", { a: "1.25%" }, { a: "1.25%" }, []],
  ["another digit", { a: "1.25%" }, { a: "1.26%" }, [1]],
  ["another word", { a: "longer" }, { a: "shorter" }, [1]],
  ["the last digit of a double", { a: 0.1 + 0.2 }, { a: 0.3 }, []],
  ["the sixth digit of a double", { a: 0.300001 }, { a: 0.3 }, [1]],
  [
    "a drawing's last digits",
    { a: image("<a x='0.30000000000000004'/>") },
    { a: image("<a x='0.3'/>") },
    [],
  ],
  ["a drawing's word", { a: image("<a>x</a>") }, { a: image("<a>y</a>") }, [1]],
  ["another kind of output", { a: "x" }, { b: "x" }, [1]],
])("%s", (_, before, after, changed) => {
  expect(changedCells(showing(before), showing(after))).toEqual(changed);
});

test("a file written and read again is the same, and its text stands a line an entry", () => {
  const notebook = showing({ a: "x" });
  expect(readNotebook(notebookText(notebook))).toEqual(notebook);
  expect(linesOf("one\ntwo\n")).toEqual(["one\n", "two\n"]);
});
