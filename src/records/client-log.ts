/** A client's log of tests: dates, tests and values as rows, and what became of every line. */
import { type Issue, type IssueCode } from "../errors.js";
import type { CsvTable } from "../csv/csv-table.js";
import { wholeFile } from "../csv/read-table.js";
import { nearestWord } from "../protocol/nearest-word.js";
import { cleanCell } from "./clean-cell.js";
import { grouped } from "./grouped.js";
import { columnSpelling } from "./header-columns.js";
import { decimalMarksOf, numberText, readTwoWays } from "./number-text.js";

/** One trial of a test. */
export type ClientTrial = Readonly<{
  line: number;
  /** Year, month and day, 2026-03-14. */
  date: string;
  /** Days since 1970-01-01. */
  day: number;
  /** Its test by name, with joint and angle where the log has them. */
  test: string;
  value: number;
  unit: string;
  /** Angle tested at, degrees. */
  angleDegrees?: number | undefined;
}>;

/** A client's log. Columns it does not need are not read into it. */
export type ClientLog = Readonly<{
  trials: readonly ClientTrial[];
  /** Lines with a problem; those that cannot be used are not among the trials. */
  issues: readonly Issue[];
  /** Lines of the file under its header. */
  lines: readonly number[];
  /** Columns that were not read. */
  ignored: readonly string[];
  /** Its notes say that it was made up. */
  invented: boolean;
}>;

const needed = {
  date: "the day of the test, such as 2026-03-14",
  test: "which test it was, such as knee extension",
  value: "what was measured, such as 212",
  unit: "the unit of the value, such as N·m",
} as const;
const known = [...Object.keys(needed), "trial", "joint", "angle", "notes"] as const;

/**
 * Days since 1970-01-01 of a date that the calendar has, counted from March so that a leap day comes last.
 *
 * @source none: arithmetic of the Gregorian calendar
 */
const dayOf = (year: number, month: number, day: number): number | undefined => {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const long = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1];
  if (long === undefined || day < 1 || day > long) return undefined;
  const from = month > 2 ? year : year - 1;
  const leaps = Math.floor(from / 4) - Math.floor(from / 100) + Math.floor(from / 400);
  return 365 * from + leaps + Math.floor((153 * ((month + 9) % 12) + 2) / 5) + day - 1 - 719_468;
};
const two = (number: number): string => String(number).padStart(2, "0");

type Problem = Readonly<{ code: IssueCode; message: string; mend: string }>;

/**
 * The day a date stands for, or what is wrong with it: only the year first has one reading.
 *
 * @param text a clean cell or option, such as 2026-03-14
 */
export const readDate = (text: string): Readonly<{ date: string; day: number }> | Problem => {
  const [, year, month, day] = /^(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ][\d:.]+Z?)?$/.exec(text) ?? [];
  if (year !== undefined) {
    const found = dayOf(Number(year), Number(month), Number(day));
    if (found !== undefined)
      return { date: `${year}-${two(Number(month))}-${two(Number(day))}`, day: found };
    return {
      code: "not-a-date",
      message: "the calendar has no such day",
      mend: "write year, month and day, such as 2026-03-14",
    };
  }
  const [, first, second, last = ""] =
    /^(\d{1,2})[./-](\d{1,2})[./-](\d{4}|\d{2})$/.exec(text) ?? [];
  if (first === undefined)
    return {
      code: "not-a-date",
      message: "this is no date of year, month and day",
      mend: "write it as 2026-03-14",
    };
  const full = last.length === 2 ? 2000 + Number(last) : Number(last);
  const readings = [
    [Number(second), Number(first)],
    [Number(first), Number(second)],
  ]
    .filter(([one, other]) => dayOf(full, one!, other!) !== undefined)
    .map(([one, other]) => `${full}-${two(one!)}-${two(other!)}`);
  const apart = [...new Set(readings)];
  return apart.length === 2
    ? {
        code: "ambiguous-date",
        message: "the date can be read two ways",
        mend: `write ${apart[0]!} or ${apart[1]!}, whichever is meant`,
      }
    : {
        code: "not-a-date",
        message: "a date is read with the year first",
        mend: `write ${apart[0] ?? "it as 2026-03-14"}`,
      };
};

/** A value this many times the middle of its test, or this part of it, has lost or won a decimal point. */
const outOfScale = 4;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor((values.length - 1) / 2)]!;

/** Columns in the order in which a log without titles has them. */
const untitled = ["date", "test", "value", "unit", "notes"] as const;

/** A log whose first line is a test already, with its columns named. */
const withTitles = (table: CsvTable): CsvTable => {
  const first = readDate(cleanCell(table.header[0] ?? ""));
  if ("code" in first || table.header.length > untitled.length) return table;
  return {
    ...table,
    header: untitled.slice(0, table.header.length),
    rows: [{ line: table.headerLine ?? 1, cells: table.header }, ...table.rows],
  };
};

/**
 * A client's log out of a table with the columns `date`, `test`, `value` and `unit`, and where wanted `trial`, `joint`,
 * `angle` and `notes`; further columns are not read. Without titles the columns are date, test, value, unit and notes.
 *
 * A line with a problem is left out and told, with the place, the value and the mend: a date with two readings, a value
 * that is no number above 0, a unit that its test did not have before, a trial that stands twice, a value out of scale.
 *
 * @source none: a reader
 */
export const clientLog = (given: CsvTable): ClientLog => {
  const table = withTitles(given);
  const header = table.header.map((title) => columnSpelling(title));
  const place = (name: string): number => header.indexOf(name);
  const missing = Object.keys(needed).filter((name) => place(name) === -1);
  const ignored = table.header.filter(
    (title, i) => title !== "" && !(known as readonly string[]).includes(header[i]!),
  );
  const lines = table.rows.map(({ line }) => line);
  const broken = new Set(
    table.issues.map(({ line, severity }) => (severity === "error" ? line : -1)),
  );
  const issues: Issue[] = [...table.issues];
  if (missing.length > 0) {
    for (const name of table.header.length === 0 ? [] : missing) {
      const near = nearestWord(name, ignored.map(columnSpelling));
      issues.push(
        wholeFile(
          "missing-column",
          `the log has no column ${name}`,
          near === undefined
            ? `add it: ${needed[name as keyof typeof needed]}`
            : `did you mean it by ${near}? rename it if so`,
        ),
      );
    }
    return { trials: [], issues, lines, ignored, invented: false };
  }
  const marks = decimalMarksOf(table.rows, [place("value")]);
  const unitOf = new Map<string, Readonly<{ unit: string; line: number }>>();
  const trialOf = new Map<string, number>();
  let invented = false;
  const read = table.rows.flatMap(({ line, cells }): readonly ClientTrial[] => {
    const cell = (name: string): string => cleanCell(cells[place(name)] ?? "");
    if (/\binvented\b/i.test(cell("notes"))) invented = true;
    if (broken.has(line) || cells.every((one) => cleanCell(one) === "")) return [];
    const refuse = (column: string, problem: Problem): readonly ClientTrial[] => {
      issues.push({ severity: "error", line, column, value: cell(column), ...problem });
      return [];
    };
    const blank = Object.keys(needed).find((name) => name !== "unit" && cell(name) === "");
    if (blank !== undefined)
      return refuse(blank, {
        code: "missing",
        message: "the cell is empty",
        mend: `write ${needed[blank as keyof typeof needed]}, or delete the line`,
      });
    const date = readDate(cell("date"));
    if ("code" in date) return refuse("date", date);
    const number = numberText(cell("value"), marks);
    if (number.kind === "ambiguous") return refuse("value", readTwoWays(number));
    if (number.kind !== "number" || !(number.value > 0))
      return refuse("value", {
        code: number.kind === "number" ? "not-positive" : "not-a-number",
        message: `the value is not a number${number.kind === "number" ? " above 0" : ""}`,
        mend: "write digits above 0, such as 212, with the unit in its own column",
      });
    const angle = numberText(cell("angle").replace(/°$/, ""), { point: true, comma: false });
    if (cell("angle") !== "" && angle.kind !== "number")
      return refuse("angle", {
        code: "not-a-number",
        message: "the angle is not a number of degrees",
        mend: "write degrees, such as 90, or leave it empty",
      });
    const test = [
      cell("test"),
      ...(cell("joint") === "" ? [] : [cell("joint").toLowerCase()]),
      ...(angle.kind === "number" ? [`${angle.value}°`] : []),
    ].join(", ");
    const key = test.toLowerCase();
    const before = unitOf.get(key) ?? { unit: cell("unit"), line };
    const unit = cell("unit") === "" ? before.unit : cell("unit");
    if (unit.toLowerCase() !== before.unit.toLowerCase())
      return refuse("unit", {
        code: "unexpected-unit",
        message: `the same test stands in ${before.unit === "" ? "no unit" : before.unit} on line ${before.line}`,
        mend: "convert the value, or name it as another test",
      });
    unitOf.set(key, before);
    const trial = cell("trial") === "" ? undefined : `${date.date} ${key} ${cell("trial")}`;
    const twice = trial === undefined ? undefined : trialOf.get(trial);
    if (twice !== undefined)
      return refuse("trial", {
        code: "said-twice",
        message: `line ${twice} has the same trial of the test on this day`,
        mend: "number the trials of a day apart, or delete one of the lines",
      });
    if (trial !== undefined) trialOf.set(trial, line);
    return [
      {
        line,
        ...date,
        test,
        value: number.value,
        unit: before.unit,
        ...(angle.kind === "number" ? { angleDegrees: angle.value } : {}),
      },
    ];
  });
  const trials = [...grouped(read, ({ test }) => test.toLowerCase()).values()].flatMap((one) => {
    const middle = median(one.map(({ value }) => value));
    return one.flatMap((trial) => {
      // Named alike but for capitals, it is one test.
      if (Math.abs(Math.log(trial.value / middle)) <= Math.log(outOfScale))
        return [{ ...trial, test: one[0]!.test }];
      issues.push({
        code: "value-out-of-scale",
        severity: "error",
        line: trial.line,
        column: "value",
        value: String(trial.value),
        message: `the value is more than ${outOfScale} times off the middle of its test, ${middle} ${trial.unit}`,
        mend: "look for a lost decimal point or another unit",
      });
      return [];
    });
  });
  return {
    trials: trials.sort((a, b) => a.day - b.day || a.line - b.line),
    issues,
    lines,
    ignored,
    invented,
  };
};
