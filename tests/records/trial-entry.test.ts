import { expect, test } from "vitest";
import { columnOf, fieldNames } from "../../src/records/codebook.js";
import {
  blankEntry,
  entryFields,
  entryRows,
  isBlankEntry,
  type TrialEntry,
} from "../../src/records/trial-entry.js";

const entry: TrialEntry = {
  trial: { study: "Ash 2001", weeks: "8", sessionsPerWeek: "3", muscleGroup: "knee extensors" },
  arms: [
    { arm: "long", armKind: "isometric", nEnd: "12", weeks: "10" },
    { arm: "rest", armKind: "no exercise", nEnd: "11" },
  ],
  outcomes: [
    { outcome: "torque", unit: "N·m" },
    { outcome: "volume", unit: "ml" },
  ],
  numbers: [
    [{ preMean: "100", postMean: "120" }, { preMean: "700 " }],
    [{ preMean: "99", postMean: "101" }, {}],
  ],
};

test("one row for each arm and outcome with a number; what is shared is typed once and stands on all", () => {
  const { header, rows, of } = entryRows(entry);
  const told = rows.map((cells) =>
    Object.fromEntries(header.map((name, at) => [name, cells[at]] as const)),
  );
  expect(of).toEqual([
    { arm: 0, outcome: 0 },
    { arm: 0, outcome: 1 },
    { arm: 1, outcome: 0 },
  ]);
  expect(told.map(({ study, arm, outcome, unit }) => [study, arm, outcome, unit])).toEqual([
    ["Ash 2001", "long", "torque", "N·m"],
    ["Ash 2001", "long", "volume", "ml"],
    ["Ash 2001", "rest", "torque", "N·m"],
  ]);
  // An arm's own cell goes before the shared one; a group that did not train keeps the weeks alone.
  expect(told.map(({ weeks, sessions_per_week }) => [weeks, sessions_per_week])).toEqual([
    ["10", "3"],
    ["10", "3"],
    ["8", ""],
  ]);
  expect(told[2]!["muscle_group"]).toBe("knee extensors");
  expect(told[1]!["pre_mean"]).toBe("700");
});

test("columns stand in the codebook's order, and the three required ones always", () => {
  expect(entryRows(blankEntry)).toEqual({ header: ["study", "arm", "outcome"], rows: [], of: [] });
  const order = fieldNames.map(columnOf);
  const { header } = entryRows(entry);
  expect([...header]).toEqual(order.filter((name) => header.includes(name)));
  expect([isBlankEntry(blankEntry), isBlankEntry(entry)]).toEqual([true, false]);
});

test("every field of the codebook can be typed somewhere", () => {
  const all = Object.values(entryFields).flatMap(({ first, rest }) => [
    ...first,
    ...rest.flatMap(({ fields }) => fields),
  ]);
  expect(fieldNames.filter((name) => !all.includes(name))).toEqual([]);
});
