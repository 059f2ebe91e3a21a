import { fileURLToPath } from "node:url";
import { expect, expectTypeOf, test } from "vitest";
import { codebookPage, codebookTemplate } from "../../src/records/codebook-page.js";
import { codebookTableSchema } from "../../src/records/codebook-table-schema.js";
import { codebookFields, columnOf, fieldNames, fieldOf } from "../../src/records/codebook.js";
import { choicesOf, columnReader } from "../../src/records/column-reader.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";

const columns = fieldNames.map(columnOf);

// Schema, template and page are three prints of one definition; a field added to one is in all.
test("the shared Table Schema file is the one the codebook makes", async () => {
  // Written anew by: npx vitest run --config .vitest.config.ts tests/records/codebook.test.ts -u
  await expect(`${JSON.stringify(codebookTableSchema(), null, 2)}\n`).toMatchFileSnapshot(
    fileURLToPath(new URL("../../shared/codebook.schema.json", import.meta.url)),
  );
});

test("schema, template and page have the same columns in the same order", () => {
  expect(codebookTableSchema().fields.map(({ name }) => name)).toEqual(columns);
  expect(codebookTemplate().trim().split(",")).toEqual(columns);
  const onPage = [...codebookPage().matchAll(/^\| `([a-z_0-9]+)` \|/gm)].map((match) => match[1]);
  expect(onPage).toEqual(columns);
});

test("the schema's allowed values and bounds are those the reader keeps", () => {
  for (const { name, constraints, type } of codebookTableSchema().fields) {
    const field = fieldNames.find((candidate) => columnOf(candidate) === name);
    const read = columnReader(fieldOf(field ?? "study"), { point: true, comma: false });
    for (const choice of constraints?.enum ?? []) {
      expect(read(choice)).toEqual({ kind: "value", value: choice });
    }
    if (type === "number" || type === "integer") {
      if (constraints?.minimum !== undefined) {
        expect(read(String(constraints.minimum)).kind).toBe("value");
        expect(read(String(constraints.minimum - 1)).kind).toBe("problem");
      }
      if (constraints?.maximum !== undefined) {
        expect(read(String(constraints.maximum)).kind).toBe("value");
        expect(read(String(constraints.maximum + 1)).kind).toBe("problem");
      }
    }
  }
});

test("every example of the codebook is a value that its column takes", () => {
  for (const name of fieldNames) {
    const { example, schema } = fieldOf(name);
    const reading = columnReader(fieldOf(name), { point: true, comma: false })(example);
    expect([name, reading.kind]).toEqual([name, "value"]);
    if (reading.kind === "value") expect(schema.safeParse(reading.value).success).toBe(true);
  }
});

test("other spellings lead to allowed values, and range ends to columns of the codebook", () => {
  for (const name of fieldNames) {
    const field = fieldOf(name);
    for (const meant of Object.values(field.spellings ?? {})) {
      expect(choicesOf(field)).toContain(meant);
    }
    if (field.rangeHigh !== undefined) expect(columns).toContain(field.rangeHigh);
  }
});

test("every field has a title and a sentence, and only study, arm and outcome are required", () => {
  for (const name of fieldNames) {
    expect(fieldOf(name).title).not.toBe("");
    expect(fieldOf(name).description).toMatch(/\.$/);
  }
  expect(fieldNames.filter((name) => fieldOf(name).required)).toEqual(["study", "arm", "outcome"]);
});

test("the row type is the codebook's: required, optional and never undefined", () => {
  expectTypeOf<OutcomeRow["study"]>().toEqualTypeOf<string>();
  expectTypeOf<OutcomeRow["limb"]>().toEqualTypeOf<"one" | "both" | undefined>();
  expectTypeOf<OutcomeRow["trainingAngleDegrees"]>().toEqualTypeOf<readonly number[] | undefined>();
  // @ts-expect-error a blank field is absent
  const row: OutcomeRow = {
    line: 2,
    notReported: [],
    study: "A",
    arm: "a",
    outcome: "t",
    unit: undefined,
  };
  expect(Object.keys(codebookFields)).toContain("unit");
  expect(row.study).toBe("A");
});
