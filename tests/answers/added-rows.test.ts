import { expect, test } from "vitest";
import { addedTold, withAdded } from "../../src/answers/added-rows.js";
import { ask } from "../../src/answers/ask.js";
import { openEvidence } from "../../src/answers/evidence.js";
import { readTable } from "../../src/csv/read-table.js";
import { readRecords } from "../../src/records/read-records.js";

const header =
  "study,arm,arm_kind,n_end,outcome,outcome_family,pre_mean,pre_spread,post_mean,post_spread,p_value";
const lines = [
  "Ash 2001,long,isometric,12,torque,strength,100,20,118,21,",
  "Birch 2002,long,isometric,15,torque,strength,90,17,104,18,",
  "Cedar 2003,long,isometric,9,torque,strength,131,25,149,26,",
];
const text = (rows: readonly string[]): string => `${[header, ...rows].join("\n")}\n`;
const file = (rows: readonly string[]) => ({
  name: "open.csv",
  fingerprint: "f",
  table: readTable(text(rows)),
});

test("rows beside a file answer as the same rows in the file, whatever the order of their columns", async () => {
  const [one, two, three] = lines;
  const { evidence, above } = withAdded(
    [file([one!, two!])],
    {
      header: header.split(",").reverse(),
      rows: [three!.split(",").reverse()],
    },
    "g",
  );
  expect(above).toBeGreaterThan(3);
  const whole = openEvidence(file([one!, two!, three!]));
  const [beside, inside] = [await ask("pool", {}, evidence), await ask("pool", {}, whole)];
  const { estimate } = inside.data.groups[0] as Readonly<{ estimate: number }>;
  expect(beside.data.groups[0]).toMatchObject({ studies: 3, estimate });
});

test("without an open file the rows stand alone", () => {
  const { evidence, above } = withAdded(
    [],
    { header: header.split(","), rows: [lines[0]!.split(",")] },
    "g",
  );
  expect([above, evidence.records.rows.length]).toEqual([0, 1]);
});

test("problems are the reader's own, each with the row it is of; the open file's stay with it", () => {
  const bad = "Elm 2005,long,isometric,abc,torque,strength,100,20,118,21,";
  const good = "Fir 2006,long,isometric,10,torque,strength,100,20,118,21,";
  const told = addedTold(
    withAdded(
      [file(["Dogwood 2004,long,isometric,xyz,torque,strength,1,2,3,4,"])],
      { header: header.split(","), rows: [good.split(","), bad.split(",")] },
      "g",
    ),
  );
  const [alone] = readRecords(readTable(text([good, bad]))).issues;
  expect(
    told.problems.map(({ row, column, message, mend }) => [row, column, message, mend]),
  ).toEqual([[1, "n_end", alone!.message, alone!.mend]]);
  expect(told.fates.map(({ fate }) => fate)).toEqual(["used", "refused"]);
});

test("deviation or error: the sentence says what each reading asks for, and what would tell it", () => {
  const rows = [
    "Ash 2001,long,isometric,9,torque,strength,100,10,106,10,0.347",
    "Ash 2001,short,isometric,9,torque,strength,100,10,106,10,",
    "Ash 2001,none,isometric,9,torque,strength,100,,106,,0.347",
  ];
  const { spreads } = addedTold(
    withAdded([], { header: header.split(","), rows: rows.map((row) => row.split(",")) }, "g"),
  );
  // t of p 0.347 on 8 degrees of freedom is 1.00: s_c = 18, r = −0.62 and 0.82 by hand.
  expect(spreads[0]).toEqual({
    test: true,
    kind: "standard error",
    sentence:
      "With n = 9 and p = 0.347 these can only be standard errors: before and after would correlate at −0.62 if they are deviations, at 0.82 if errors.",
  });
  expect(spreads[1]).toMatchObject({ test: false });
  expect(spreads[2]).toBeUndefined();
});
