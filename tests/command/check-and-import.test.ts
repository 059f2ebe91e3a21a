/** check, template, codebook and import as a person at a terminal meets them. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { codebookTableSchema } from "../../src/records/codebook-table-schema.js";
import { tableText } from "../records/record-table.js";
import { projectRoot } from "../house/source-tree.js";
import { jsonOf, runHere } from "./run-here.js";
import { fileOf, testFolder } from "./test-folder.js";

type Fate = Readonly<{ line: number; fate: string; reason: string }>;
type Checked = Readonly<{
  usable: boolean;
  rowsInFile: number;
  fates: readonly Fate[];
  issues: readonly Readonly<{ line: number; column: string; value: string; mend: string }>[];
  completeness: readonly Readonly<{
    column: string;
    coded: number;
    notReported: number;
    blank: number;
  }>[];
}>;

const demo = "data/demo-register.csv";
const historic = [
  "data/historic_isometric_trials.csv",
  "--map",
  "data/historic-isometric-map.json",
];

describe("check", () => {
  test("a sound file: exit 0, one fate a row, a page and the same as JSON", async () => {
    const checked = await jsonOf<Checked>("check", demo);
    const rows = readTable(readFileSync(join(projectRoot, demo))).rows.length;
    expect([checked.usable, checked.rowsInFile, checked.fates.length]).toEqual([true, rows, rows]);
    const page = await runHere("check", demo);
    expect(page.exitCode).toBe(0);
    expect(page.out).toContain(`What became of the ${rows} rows`);
    for (const { column } of checked.completeness) expect(page.out).toContain(column);
  });

  test("a damaged file: exit 1, every problem at once with line, column, value and mend", async () => {
    const file = fileOf("damaged.csv", tableText([{}, { preMean: "03-Oct" }, { weeks: "many" }]));
    const ran = await runHere("check", file, "--json");
    expect([ran.exitCode, ran.err]).toEqual([1, ""]);
    const { issues, usable } = JSON.parse(ran.out) as Checked;
    expect(usable).toBe(false);
    const places = issues.map(({ line, column, value }) => [line, column, value]);
    expect(places).toContainEqual([3, "pre_mean", "03-Oct"]);
    expect(places).toContainEqual([4, "weeks", "many"]);
    expect(issues.every(({ mend }) => mend !== "")).toBe(true);
  });

  test("an empty file: the problem, and no tables about no rows", async () => {
    const { exitCode, out } = await runHere("check", fileOf("none.csv", ""));
    expect(exitCode).toBe(1);
    expect(out).toMatch(/the file holds no rows/);
    expect(out).not.toMatch(/How completely|What became/);
  });
});

describe("template and codebook", () => {
  test("the template's header is the codebook, and a file may be named", async () => {
    const names = codebookTableSchema().fields.map(({ name }) => name);
    const printed = await runHere("template");
    expect(printed.exitCode).toBe(0);
    expect(readTable(printed.out).header).toEqual(names);
    const path = join(testFolder, "blank.csv");
    expect((await runHere("template", "-o", path)).out).toContain(path);
    expect(readTable(readFileSync(path)).header).toEqual(names);
  });

  test("codebook --schema prints the schema, codebook alone names every column", async () => {
    const schema = JSON.parse((await runHere("codebook", "--schema")).out) as unknown;
    expect(schema).toEqual(JSON.parse(JSON.stringify(codebookTableSchema())));
    const page = (await runHere("codebook")).out;
    for (const { name } of codebookTableSchema().fields) expect(page).toContain(name);
  });
});

describe("import", () => {
  test("the historic file: all 468 rows have a fate, and the result can be checked", async () => {
    const imported = await jsonOf<{
      sourceRows: number;
      codebookRows: number;
      fates: readonly Fate[];
    }>("import", ...historic);
    expect([imported.sourceRows, imported.fates.length]).toEqual([468, 468]);
    const used = imported.fates.filter(({ fate }) => fate.startsWith("used"));
    expect(used).toHaveLength(imported.codebookRows);
    for (const { fate, reason } of imported.fates)
      if (!fate.startsWith("used")) expect(reason).not.toBe("");
    const path = join(testFolder, "historic.csv");
    expect((await runHere("import", ...historic, "-o", path)).exitCode).toBe(0);
    const { rowsInFile, fates } = JSON.parse(
      (await runHere("check", path, "--json")).out,
    ) as Checked;
    expect([rowsInFile, fates.length]).toEqual([imported.codebookRows, imported.codebookRows]);
  });

  test("without -o the table alone goes to standard output, the account beside it", async () => {
    const { out, err } = await runHere("import", ...historic);
    expect(readTable(out).header).toContain("study");
    expect(err).toContain("468 source rows");
  });

  test("a map that is not JSON, and no map", async () => {
    const bad = await runHere("import", historic[0]!, "--map", "data/README.md");
    expect([bad.exitCode, bad.out]).toEqual([1, ""]);
    expect(bad.err).toMatch(/is not JSON/);
    expect(await runHere("import", historic[0]!)).toMatchObject({ exitCode: 2, out: "" });
  });
});
