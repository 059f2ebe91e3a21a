import { expect, test } from "vitest";
import { assumptionsTable } from "../../src/tables/assumptions-table.js";
import { tableToCsv } from "../../src/tables/table-to-csv.js";
import { sampleEffectSet } from "./sample-results.js";

test("each assumption has its value, source and reach", () => {
  const table = assumptionsTable(sampleEffectSet.assumptions);
  expect(table.rows[0]).toMatchObject({
    name: "pre–post correlation",
    value: "0.80",
    source: "documented default",
    effects: "1",
  });
  expect(tableToCsv(table)).toBe(
    "name,exact_value,source,effects\npre–post correlation,0.8,documented default,1\n",
  );
});

test("no assumption is said in words", () => {
  expect(assumptionsTable([]).notes[0]).toBe("Every number used stands in the file.");
});
