import { readFileSync, readdirSync } from "node:fs";
import { expect, test } from "vitest";
import { doubtNames } from "../../src/records/doubt-names.js";
import { codesOf, recordsOf } from "./record-table.js";

const slip = { postSpread: "330" };

test("a confirmed doubt is silent, and the row says who takes it back", () => {
  expect(codesOf(recordsOf(slip).issues)).toEqual(["spread-out-of-scale@2"]);
  const { issues, fates, notes } = recordsOf({ ...slip, confirmed: "spread-out-of-scale" });
  expect(issues).toEqual([]);
  expect(fates[0]).toEqual({
    line: 2,
    fate: "used",
    reason: "spread-out-of-scale confirmed by whoever entered it",
  });
  expect(notes.map(({ message }) => message)).toEqual([
    "confirmed by whoever entered it: spread-out-of-scale (line 2)",
  ]);
});

test("only the named doubt of that row is taken back", () => {
  const both = { ...slip, arm: "short holds", restBetweenSetsSeconds: "2" };
  const { issues, fates } = recordsOf({ ...both, confirmed: "spread-out-of-scale" }, slip);
  expect(codesOf(issues)).toEqual(["rest-out-of-scale@2", "spread-out-of-scale@3"]);
  expect(fates[0]?.fate).toBe("used with a warning");
  const names = "rest-out-of-scale / spread-out-of-scale";
  expect(recordsOf({ ...both, confirmed: names }).issues).toEqual([]);
});

test("a name that no check has is told with the nearest", () => {
  const { issues } = recordsOf({ confirmed: "spread-out-of-scales / thing" });
  expect(issues.map(({ column, message, mend }) => [column, message, mend])).toEqual([
    ["confirmed", 'no check is called "spread-out-of-scales"', "did you mean spread-out-of-scale?"],
    [
      "confirmed",
      'no check is called "thing"',
      "write the name of the doubt as holdbook check prints it",
    ],
  ]);
});

test("what refuses a row cannot be confirmed away", () => {
  const { rows } = recordsOf({
    preQuartileLow: "5",
    preMedian: "4",
    confirmed: "out-of-order",
  });
  expect(rows).toEqual([]);
});

test("every name that a check gives to a doubt can be confirmed", () => {
  const folder = new URL("../../src/records/checks/", import.meta.url);
  const given = readdirSync(folder).flatMap((file) => {
    const source = readFileSync(new URL(file, folder), "utf8").replace(/import .*?;\n/gs, "");
    const words = [...source.matchAll(/"([a-z]+(?:-[a-z]+)+)"/g)].map((match) => match[1] ?? "");
    // Notes of the file as a whole are no doubts about a row.
    return words.filter((word) => !["arm-ids-reused", "shared-cohort"].includes(word));
  });
  expect([...new Set(given)].sort()).toEqual([...doubtNames]);
});
