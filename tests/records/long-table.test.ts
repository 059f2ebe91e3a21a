import { expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { readRecords } from "../../src/records/read-records.js";
import { soundRow, tableText } from "./record-table.js";

const rowsWanted = 100_000;

/** Studies of 50 rows in 5 arms; every hundredth row has a cell that must be refused. */
const longText = (): string => {
  const [header = "", sample = ""] = tableText([{}]).split("\n");
  const lines = [header];
  for (let i = 0; i < rowsWanted; i++) {
    const before = (150 + ((i * 7919) % 100_003) / 1000).toFixed(3);
    lines.push(
      sample
        .replace(soundRow.study, `Study ${Math.floor(i / 50)}`)
        .replace(soundRow.arm, `arm ${Math.floor(i / 10) % 5}`)
        .replace("182.4", i % 100 === 99 ? "03-Oct" : before)
        .replace("201.7", (Number(before) * 1.1).toFixed(2)),
    );
  }
  return `${lines.join("\n")}\n`;
};

test("a hundred thousand rows: each has its fate, each refused one its located issue", () => {
  const records = readRecords(readTable(new TextEncoder().encode(longText())));
  expect(records.rowsInFile).toBe(rowsWanted);
  const refused = records.fates.filter(({ fate }) => fate === "refused");
  expect(refused).toHaveLength(rowsWanted / 100);
  expect(records.rows).toHaveLength(rowsWanted - rowsWanted / 100);
  const errors = records.issues.filter(({ severity }) => severity === "error");
  expect(errors.map(({ line }) => line)).toEqual(refused.map(({ line }) => line));
  expect(errors[0]?.line).toBe(101);
  expect(records.rows.at(-1)?.study).toBe("Study 1999");
});
