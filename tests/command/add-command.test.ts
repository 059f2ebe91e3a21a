import { expect, test } from "vitest";
import { askTrial, type Asker } from "../../src/command/add-command.js";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { readRecords } from "../../src/records/read-records.js";
import { entryRows } from "../../src/records/trial-entry.js";
import { runHere } from "./run-here.js";

/** Answers by a part of the question; a list gives one after the other. What is not named is left blank. */
const scripted = (answers: Readonly<Record<string, string | string[]>>) => {
  const told: string[] = [];
  const asked: string[] = [];
  const answerTo = (question: string): string => {
    const key = Object.keys(answers).find((part) => question.includes(part));
    const answer = key === undefined ? "" : answers[key]!;
    return typeof answer === "string" ? answer : (answer.shift() ?? "");
  };
  const ask: Asker = {
    text: async (question, hint, problemOf) => {
      asked.push(`${question} | ${hint}`);
      for (;;) {
        const answer = answerTo(question);
        const problem = problemOf(answer);
        if (problem === undefined) return answer;
        told.push(`${question}: ${problem}`);
      }
    },
    choose: async (question) => answerTo(question),
    agree: async (question) => answerTo(question) === "yes",
  };
  return { ask, told, asked };
};

test("a trial asked for field by field makes the rows it would make in the page", async () => {
  const { ask, told, asked } = scripted({
    ...{ Study: "Ash 2001", Women: "men", "Sessions a week": "3x/wk", Weeks: "8" },
    ...{ "Arm 1: Arm": "long", "Arm 2: Arm": "rest" },
    ...{ "Arm 1: Kind": "isometric", "Arm 2: Kind": "no exercise" },
    "Arm 1: People": ["about 12", "12"],
    ...{ "Arm 2: People": "11", "Arm 1: Intensity": "maximal", "One more arm?": ["yes", "no"] },
    ...{ "Outcome family": "strength", "long: Mean before": "13.4 ± 9.7" },
    ...{ "long: Mean after": "18 ± 10", "long: p value": "p < .05" },
    ...{ "rest: Mean before": "13 ± 9", "rest: Mean after": "14 ± 9", Outcome: "torque" },
  });
  const { header, rows } = entryRows(await askTrial(ask));
  // What the reader cannot take is asked again, with its mend.
  expect(told.length).toBe(1);
  expect(told[0]).toMatch(/Arm 1: People measured.*type the exact number/);
  // A unit that the title says is not said twice, and nothing may be left blank that no row can do without.
  expect(asked.slice(0, 5).map((line) => line.replace(/such as .*?(;|$)/, "…$1"))).toEqual([
    "Study | …",
    "Muscle group | …; Enter leaves it blank",
    "Women, % | …; Enter leaves it blank",
    "Sessions a week | …; Enter leaves it blank",
    "Weeks of training | …; Enter leaves it blank",
  ]);
  const records = readRecords(readTable(writeTable(header, rows)));
  expect(records.issues.filter(({ severity }) => severity === "error")).toEqual([]);
  expect(records.rows).toMatchObject([
    {
      ...{ study: "Ash 2001", arm: "long", nEnd: 12, femalePercent: 0, intensityPercent: 100 },
      ...{ sessionsPerWeek: 3, weeks: 8, preMean: 13.4, preSpread: 9.7, postSpread: 10 },
      pBound: { side: "below", p: 0.05 },
    },
    { arm: "rest", armKind: "no exercise", nEnd: 11, preMean: 13, postMean: 14 },
  ]);
});

test("without a terminal it is refused with the way to do it instead, and nothing is written", async () => {
  const { exitCode, err } = await runHere("add", "never-written.csv");
  expect(exitCode).not.toBe(0);
  expect(err).toMatch(/terminal/);
  expect(err).toMatch(/Add a trial/);
  expect(err).toMatch(/template --example/);
});
