import { describe, expect, test } from "vitest";
import { DataError } from "../../src/errors.js";
import { parseImportMap } from "../../src/records/import-map.js";

const sound = {
  title: "Invented table",
  source: "an invented source",
  licence: "none",
  columns: { study: { column: "author" } },
};

const problemsOf = (map: unknown) => {
  try {
    parseImportMap(map);
  } catch (error) {
    if (error instanceof DataError) return error.issues;
    throw error;
  }
  return [];
};

describe("a map that is not as it should be says where and what to write", () => {
  test("a sound map has no problem", () => {
    expect(problemsOf(sound)).toEqual([]);
  });

  test.each([
    [
      "nothing but a number",
      7,
      { column: "", message: "this is not an object in braces", value: "7" },
    ],
    [
      "a missing title",
      { ...sound, title: undefined },
      { column: "title", message: "this is missing", mend: "write text in quotes" },
    ],
    [
      "a slip in a word at the top",
      { ...sound, setaside: [] },
      { column: "setaside", mend: "did you mean setAside?" },
    ],
    [
      "a rule that is plain text",
      { ...sound, columns: { study: "author" } },
      {
        column: "columns › study",
        value: '"author"',
        message: "this does not say where the value comes from",
        mend: expect.stringContaining('{ "column": "source column" }') as string,
      },
    ],
    [
      "a factor in quotes",
      { ...sound, columns: { weeks: { column: "months", factor: "4.3" } } },
      { column: "columns › weeks › factor", value: '"4.3"', mend: "write a number without quotes" },
    ],
    [
      "a word that is none of two",
      { ...sound, columns: { weeks: { column: "w", otherwise: "drop" } } },
      { column: "columns › weeks › otherwise", mend: 'write "keep" or "blank"' },
    ],
    [
      "a condition without a question",
      { ...sound, setAside: [{ when: { column: "author" }, reason: "no" }] },
      { column: "setAside › 0 › when", message: "this is not a condition" },
    ],
    [
      "a fault deep in a rule of several",
      { ...sound, columns: { weeks: { first: [{ use: { column: 3 } }] } } },
      { column: "columns › weeks › first › 0 › use › column", mend: "write text in quotes" },
    ],
    [
      "a list without an entry",
      { ...sound, arms: [] },
      { column: "arms", message: "this list is empty" },
    ],
  ])("%s", (_, map, expected) => {
    const problems = problemsOf(map);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject(expected);
  });

  test("every fault is told at once", () => {
    const problems = problemsOf({
      ...sound,
      title: 3,
      columns: { study: {}, arm: { colum: "a" } },
    });
    expect(problems.map(({ column }) => column)).toEqual([
      "title",
      "columns › study",
      "columns › arm",
    ]);
  });
});
