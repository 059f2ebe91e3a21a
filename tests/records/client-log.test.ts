/** Kind of evidence: hand-made logs; days counted by the calendar (2000-03-01 is day 11,017, RFC 3339 clocks agree). */
import { expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { issueText } from "../../src/errors.js";
import { clientLog, readDate } from "../../src/records/client-log.js";

const read = (...rows: readonly string[]) => clientLog(readTable(`${rows.join("\n")}\n`));

test("days are those of the calendar", () => {
  for (const date of ["1970-01-01", "2000-02-29", "2000-03-01", "2026-12-31", "1999-06-15"])
    expect(readDate(date)).toEqual({ date, day: Date.parse(`${date}T00:00:00Z`) / 86_400_000 });
  expect(readDate("2026-02-29")).toMatchObject({ code: "not-a-date" });
  expect(readDate("3.4.2026")).toMatchObject({
    code: "ambiguous-date",
    mend: "write 2026-04-03 or 2026-03-04, whichever is meant",
  });
  expect(readDate("13/04/26")).toMatchObject({ code: "not-a-date", mend: "write 2026-04-13" });
});

test("every line that cannot be used is told with place, value and mend; the others are read, by date", () => {
  const log = read(
    "Date;Test;Value;Unit;Trial;Client",
    "2026-02-02;Knee extension;211,5;N·m;1;A. Person",
    "2026-01-05;knee extension;180,0;N·m;1;A. Person",
    "2026-01-05;knee extension;183;N·m;1;A. Person",
    "2026-02-02;knee extension;0;N·m;2;A. Person",
    "2026-02-03;knee extension;47;kg;1;A. Person",
    "2026-02-04;knee extension;2115;N·m;1;A. Person",
    "04.02.2026;knee extension;200;N·m;1;A. Person",
    ";knee extension;200;N·m;1;A. Person",
  );
  expect(log.trials.map(({ line, test, value }) => [line, test, value])).toEqual([
    [3, "Knee extension", 180],
    [2, "Knee extension", 211.5],
  ]);
  expect(log.issues.map(issueText)).toEqual([
    'line 4, column trial: line 3 has the same trial of the test on this day (got "1"); number the trials of a day apart, or delete one of the lines',
    'line 5, column value: the value is not a number above 0 (got "0"); write digits above 0, such as 212, with the unit in its own column',
    'line 6, column unit: the same test stands in N·m on line 2 (got "kg"); convert the value, or name it as another test',
    'line 8, column date: the date can be read two ways (got "04.02.2026"); write 2026-02-04 or 2026-04-02, whichever is meant',
    "line 9, column date: the cell is empty; write the day of the test, such as 2026-03-14, or delete the line",
    'line 7, column value: the value is more than 4 times off the middle of its test, 211.5 N·m (got "2115"); look for a lost decimal point or another unit',
  ]);
  expect(log.ignored).toEqual(["Client"]);
  expect(JSON.stringify(log)).not.toContain("A. Person");
});

test("a log without its columns says which", () => {
  expect(read("day,test,value,unit", "2026-01-05,x,1,N").issues.map(issueText)).toEqual([
    "file: the log has no column date; add it: the day of the test, such as 2026-03-14",
  ]);
});

test("a log without titles has its columns in the usual order, and loses no line", () => {
  const log = read("2026-02-02,knee extension,211,N·m", "2026-01-05,knee extension,180,N·m");
  expect(log.issues).toEqual([]);
  expect(log.trials.map(({ line, test, value, unit }) => [line, test, value, unit])).toEqual([
    [2, "knee extension", 180, "N·m"],
    [1, "knee extension", 211, "N·m"],
  ]);
});
