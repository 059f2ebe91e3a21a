/** Kinds of evidence: identities with the search asked on its own. */
import { expect, test } from "vitest";
import { exploreProtocols } from "../../src/projection/explore-protocols.js";
import {
  frontierSentences,
  frontierStepsTable,
  frontierTable,
} from "../../src/tables/frontier-table.js";
import { readySize } from "./sample-projection.js";

const ready = readySize();
const answer = exploreProtocols(ready, {
  minutesPerSession: 10,
  sessionsPerWeek: 3,
  effortCeilingPercent: 80,
  joint: "knee",
});
if (answer.kind === "refusal") throw new Error(answer.reason);
const table = frontierTable(answer, ready);

test("a row for each point, with its three ranges and its minutes", () => {
  expect(table.rows).toHaveLength(answer.points.length);
  expect(table.rows.map(({ number }) => number)).toEqual(
    answer.points.map((_, index) => String(index + 1)),
  );
  answer.points.forEach((point, index) => {
    const row = table.rows[index];
    expect(Number(row?.["exactWeek"])).toBe(point.minutesPerWeek);
    expect(row?.["whole"]).toBe(point.written);
    for (const key of ["average", "newGroup", "person"]) expect(row?.[key]).toMatch(/ to /);
  });
});

test("what all share stands in the title and not in every row", () => {
  expect(table.title).toContain("knee");
  expect(table.title).toMatch(/after \d+ weeks/);
  for (const { written } of table.rows) expect(written).not.toMatch(/knee|weeks/);
});

test("the best of many is said to be flattered", () => {
  expect(table.notes.join(" ")).toContain("flattered");
});

test("each step says what it adds, and the minutes add up to the last point's", () => {
  const { rows } = frontierStepsTable(answer);
  expect(rows).toHaveLength(answer.points.length - 1);
  const more = answer.points
    .slice(1)
    .map(
      ({ minutesPerWeek }, index) => minutesPerWeek - (answer.points[index]?.minutesPerWeek ?? 0),
    );
  rows.forEach(({ minutes }, index) =>
    expect(Number(minutes)).toBeCloseTo(more[index] ?? Number.NaN, 1),
  );
});

test("the sentences count every candidate once", () => {
  const { excluded, tried, candidates } = answer;
  expect(excluded.tooLong + excluded.cannotBeHeld + excluded.notSupported + candidates.length).toBe(
    tried,
  );
  const words = frontierSentences(answer).join(" ");
  expect(words).toContain(answer.points[0]?.written ?? "?");
  expect(words).toContain(answer.points.at(-1)?.written ?? "?");
  expect(frontierSentences({ ...answer, points: answer.points.slice(0, 1) }).join(" ")).toContain(
    "One stands alone",
  );
});
