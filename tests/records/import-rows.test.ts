import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { DataError } from "../../src/errors.js";
import { parseImportMap } from "../../src/records/import-map.js";
import type { ImportMap } from "../../src/records/import-map.js";
import { importRows } from "../../src/records/import-rows.js";
import { readRecords } from "../../src/records/read-records.js";

const about = { title: "Test", source: "made up", licence: "none" };
const column = (name: string, more: object = {}) => ({ column: name, ...more });
const parse = (map: object): ImportMap => parseImportMap({ ...about, ...map });

const paired = parse({
  setAside: [{ when: { column: "use", equals: "no" }, reason: "marked by the authors" }],
  columns: {
    study: { text: "{author} {year}" },
    outcome: column("measure", { values: { PT: "peak isometric torque" } }),
    arm: { constant: "training" },
    pre_mean: column("*_pre", { factor: 9.80665 }),
    post_mean: column("*_post", { factor: 9.80665 }),
    female_percent: column("men", { factor: -100, offset: 100 }),
  },
  arms: [
    { prefix: "ex", columns: { arm_kind: { constant: "isometric" } } },
    {
      prefix: "con",
      when: { column: "*_pre", filled: true },
      columns: { arm: { constant: "control" }, arm_kind: { constant: "no exercise" } },
    },
  ],
});

const source =
  "author,year,measure,men,ex_pre,ex_post,con_pre,con_post,use,extra\n" +
  "Ash,2019,PT,0.25,10,20,11,12,yes,\n" +
  "Ash,2020,CSA,,10,x,,,yes,\n" +
  "Ash,2021,PT,,10,20,11,12,no,\n" +
  "Ash,2022,PT\n" +
  ",,,,,,,,,\n";

describe("importRows", () => {
  const imported = importRows(readTable(source), paired);

  test("paired columns become arms, cells are renamed, translated and converted", () => {
    const rows = imported.csv.rows.map((cells) =>
      Object.fromEntries(imported.csv.header.map((name, i) => [name, cells[i]])),
    );
    expect(rows).toEqual([
      {
        study: "Ash 2019",
        arm: "training",
        arm_kind: "isometric",
        female_percent: "75",
        outcome: "peak isometric torque",
        pre_mean: "98.0665",
        post_mean: "196.133",
      },
      {
        study: "Ash 2019",
        arm: "control",
        arm_kind: "no exercise",
        female_percent: "75",
        outcome: "peak isometric torque",
        pre_mean: "107.87315",
        post_mean: "117.6798",
      },
      {
        study: "Ash 2020",
        arm: "training",
        arm_kind: "isometric",
        female_percent: "",
        outcome: "CSA",
        pre_mean: "98.0665",
        post_mean: "x",
      },
    ]);
    expect(imported.sourceLines).toEqual([2, 2, 3]);
  });

  test("every source row has a fate", () => {
    expect(imported.fates.map(({ line, fate }) => `${line} ${fate}`)).toEqual([
      "2 used",
      "3 used with a warning",
      "4 set aside",
      "5 refused",
      "6 set aside",
    ]);
    expect(imported.fates[2]?.reason).toBe("marked by the authors");
  });

  test("a cell that cannot be converted is carried over, told, and judged by the reader", () => {
    expect(
      imported.issues.map(({ line, column: name, value }) => `${line} ${name} ${value}`),
    ).toContain("3 ex_post x");
    const records = readRecords(readTable(writeTable(imported.csv.header, imported.csv.rows)));
    expect(records.fates.map(({ fate }) => fate).at(-1)).toBe("refused");
  });

  test("columns not carried over are named", () => {
    expect(imported.notes.map(({ message }) => message)).toContain(
      "columns not carried over: extra",
    );
  });

  test("a column the source lacks refuses every row and says which", () => {
    const short = importRows(readTable("author,year\nAsh,2019\n"), paired);
    expect(short.csv.rows).toEqual([]);
    expect(short.fates.map(({ fate }) => fate)).toEqual(["refused"]);
    expect(short.issues.map(({ code, column: name }) => `${code} ${name}`)).toContain(
      "missing-column ex_pre",
    );
  });
});

describe("a number that can be read two ways", () => {
  const map = parse({
    columns: {
      study: column("s"),
      pre_mean: column("pre"),
      post_mean: column("post", { factor: 2 }),
      notes: column("pre"),
    },
  });
  const imported = (rows: string) => importRows(readTable(`s;pre;post\n${rows}`), map);

  test.each([
    ["as it stands", "Ash;1,234;5\n", "pre"],
    ["to be converted", "Ash;12;1,234\n", "post"],
  ])("%s refuses its row with both readings, the others are carried", (_, row, named) => {
    const { csv, fates, issues, sourceLines } = imported(`${row}Birch;12;13\n`);
    expect(csv.rows.map((cells) => cells.join("|"))).toEqual(["Birch|12|12|26"]);
    expect(sourceLines).toEqual([3]);
    expect(fates.map(({ fate }) => fate)).toEqual(["refused", "used"]);
    expect(fates[0]?.reason).toBe(
      "the number can be read two ways; write 1234 or 1.2340, whichever is meant",
    );
    expect(issues).toMatchObject([
      { code: "ambiguous-number", severity: "error", line: 2, column: named, value: "1,234" },
    ]);
  });

  test.each([
    ["a comma", "Ash;1,234;5\nBirch;0,5;1\n", "1.234"],
    ["a point", "Ash;1,234;5\nBirch;0.5;1\n", "1234"],
  ])("in a file that marks decimals with %s there is one, written plainly", (_, rows, written) => {
    const { csv, issues } = imported(rows);
    expect(csv.rows[0]).toEqual(["Ash", "1,234", written, "10"]);
    expect(issues).toEqual([]);
  });
});

describe("rules", () => {
  const value = (rule: object, cells: Readonly<Record<string, string>>): string | undefined => {
    const table = readTable(
      writeTable([...Object.keys(cells), "id"], [[...Object.values(cells), "1"]]),
    );
    return importRows(table, parse({ columns: { notes: rule } })).csv.rows[0]?.[0];
  };

  test("first: the first rule that holds and is not blank", () => {
    const rule = {
      first: [
        { when: { column: "a", oneOf: ["1", "2"] }, use: column("b") },
        { when: { not: { column: "a", equals: "3" } }, use: { constant: "not three" } },
        { use: { text: "a is {a}" } },
      ],
    };
    expect(value(rule, { a: "1", b: "x" })).toBe("x");
    expect(value(rule, { a: "1", b: "" })).toBe("not three");
    expect(value(rule, { a: "3", b: "x" })).toBe("a is 3");
  });

  test("conditions: all and any", () => {
    const rule = {
      first: [
        {
          when: {
            all: [
              { column: "a", filled: true },
              {
                any: [
                  { column: "b", equals: "x" },
                  { column: "b", filled: false },
                ],
              },
            ],
          },
          use: { constant: "yes" },
        },
        { use: { constant: "no" } },
      ],
    };
    expect(value(rule, { a: "1", b: "x" })).toBe("yes");
    expect(value(rule, { a: "1", b: "" })).toBe("yes");
    expect(value(rule, { a: "1", b: "z" })).toBe("no");
    expect(value(rule, { a: "", b: "x" })).toBe("no");
  });

  test("values: unlisted cells are kept, or left blank on demand", () => {
    const values = { y: "yes" };
    expect(value(column("a", { values }), { a: "y" })).toBe("yes");
    expect(value(column("a", { values }), { a: "n" })).toBe("n");
    expect(value(column("a", { values, otherwise: "blank" }), { a: "n" })).toBe("");
  });

  test("conversions leave blank and not reported alone and read decimal commas", () => {
    const rule = column("a", { factor: 2, offset: 1 });
    expect(value(rule, { a: "1,5" })).toBe("4");
    expect(value(rule, { a: "50%" })).toBe("101");
    expect(value(rule, { a: "NR" })).toBe("NR");
    expect(value(rule, { a: "" })).toBe("");
  });

  test("text with nothing to fill in is blank", () => {
    expect(value({ text: "see {a}" }, { a: "" })).toBe("");
  });

  test("text that looks like markup or a formula is carried over as text", () => {
    expect(value(column("a"), { a: "=1+1" })).toBe("=1+1");
    expect(value({ text: "{a}" }, { a: "$& {b}" })).toBe("$& {b}");
  });
});

describe("parseImportMap refuses", () => {
  const issuesOf = (map: unknown) => {
    try {
      parseImportMap(map);
    } catch (error) {
      if (error instanceof DataError)
        return error.issues.map(({ code, column: name }) => `${code} ${name}`);
    }
    return [];
  };

  test("what is not a map, unknown keys, and columns the codebook does not know", () => {
    expect(issuesOf(null)).toEqual(["map-form "]);
    expect(issuesOf({ ...about, columns: {}, colour: "red" })).toEqual(["map-form colour"]);
    expect(issuesOf({ ...about, columns: { notes: { constnt: "x" } } })).toEqual([
      "map-form columns › notes",
    ]);
    expect(issuesOf({ ...about, columns: { weekz: { constant: "8" } } })).toEqual([
      "unknown-column weekz",
    ]);
  });
});
