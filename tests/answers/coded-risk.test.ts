import { expect, test } from "vitest";
import { withJudgements } from "../../src/answers/coded-risk.js";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { readRecords } from "../../src/records/read-records.js";
import { codebookText, outcomeRow } from "./evidence-under-test.js";

test("judgements go into every row of their study and into no other, and the file reads them", () => {
  const table = readTable(
    codebookText([
      outcomeRow("Ash", 112, { risk_measurement: "high" }),
      outcomeRow("Birch", 118),
      outcomeRow("Ash", 109, { arm: "other", risk_measurement: "high" }),
    ]),
  );
  const { header, rows, changed } = withJudgements(table, {
    Ash: {
      riskMeasurement: "low",
      riskRandomisation: "some concerns",
      riskReason: "by lot, read late",
    },
  });
  expect(header.slice(0, table.header.length)).toEqual(table.header);
  expect(header.slice(table.header.length)).toEqual([
    "risk_randomisation",
    "risk_deviations",
    "risk_missing_data",
    "risk_reported_result",
    "risk_reason",
  ]);
  expect(changed).toEqual([rows[0], rows[2]]);
  const read = readRecords(readTable(writeTable(header, rows))).rows;
  expect(
    read.map(({ study, riskMeasurement, riskRandomisation, riskReason, riskDeviations }) => [
      study,
      riskMeasurement,
      riskRandomisation,
      riskReason,
      riskDeviations,
    ]),
  ).toEqual([
    ["Ash", "low", "some concerns", "by lot, read late", undefined],
    ["Birch", undefined, undefined, undefined, undefined],
    ["Ash", "low", "some concerns", "by lot, read late", undefined],
  ]);
  expect(withJudgements(table, { Ash: { riskMeasurement: "high" } }).changed).toEqual([]);
  expect(withJudgements(table, { Ash: { riskMeasurement: "" } }).changed).toHaveLength(2);
});
