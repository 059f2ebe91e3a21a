import { expect, test } from "vitest";
import { assumptionsTable } from "../../src/tables/assumptions-table.js";
import { tableToCsv } from "../../src/tables/table-to-csv.js";
import { sampleEffectSet } from "./sample-results.js";
import { told } from "./told.js";

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

test("every number in its place", () => {
  expect(
    told(
      assumptionsTable([
        { name: "pre–post correlation", value: 0.824, source: "borrowed", effects: 1203 },
        { name: "typical error", value: -3, source: "set by the user", effects: 7 },
      ]),
    ),
  ).toEqual([
    "Numbers assumed rather than read [assumptions]",
    "Assumption | >Value | Where it comes from | >Effects resting on it",
    "pre–post correlation | 0.82 | borrowed | 1,203",
    "typical error | −3.00 | set by the user | 7",
    "* Change these and run again: if the answer changes, it depends on that assumption.",
    "name,exact_value,source,effects",
    "pre–post correlation,0.824,borrowed,1203",
    "typical error,-3,set by the user,7",
  ]);
  expect(told(assumptionsTable([]))).toEqual([
    "Numbers assumed rather than read [assumptions]",
    "Assumption | >Value | Where it comes from | >Effects resting on it",
    "* Every number used stands in the file.",
    "name,exact_value,source,effects",
  ]);
});
