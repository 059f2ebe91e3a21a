import { expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { spreadKindTold } from "../../src/effects/spread-kind-told.js";
import { readRecords } from "../../src/records/read-records.js";
import { expectPrinted } from "./agreement.js";

const row = (columns: Readonly<Record<string, string | number>>) => {
  const all = { study: "Ash 2001", arm: "long", outcome: "torque", pre_mean: 100, ...columns };
  const { rows } = readRecords(
    readTable(`${Object.keys(all).join(",")}\n${Object.values(all).join(",")}\n`),
  );
  return rows[0]!;
};

/** Nine people whose mean rises by 6, with spreads of 10 before and after. */
const nine = { n_end: 9, post_mean: 106, pre_spread: 10, post_spread: 10 };

test("hand arithmetic: of nine people, +6 and spreads of 10, t decides the reading", () => {
  // t 1: s_c = 6·3/1 = 18; r = (200 − 324)/200 = −0.62 as deviations, (1800 − 324)/1800 = 0.82 as errors.
  const error = spreadKindTold(row({ ...nine, t_value: 1 }))!;
  expect(error.kind).toBe("standard error");
  expectPrinted(error.correlation.asDeviation, "-0.62");
  expectPrinted(error.correlation.asError, "0.82");
  // t 3: s_c = 6; r = 0.82 and 0.98.
  expect(spreadKindTold(row({ ...nine, t_value: 3 }))!.kind).toBe("cannot tell");
  // t 9: s_c = 2; r = 0.98 and 0.998, which no trial prints.
  expect(spreadKindTold(row({ ...nine, t_value: 9 }))!.kind).toBe("standard deviation");
  // F is the square of t; its direction changes nothing.
  expect(spreadKindTold(row({ ...nine, f_value: 1 }))!.kind).toBe("standard error");
});

test("published: p 0.05 of ten people is t 2.262 (Student's table, 9 degrees of freedom)", () => {
  // D = 2.262, so s_c² = 10; spreads of 5 give r = (50 − 10)/50 = 0.80.
  const ten = { n_end: 10, post_mean: 102.262, pre_spread: 5, post_spread: 5 };
  const told = spreadKindTold(row({ ...ten, p_value: 0.05 }))!;
  expectPrinted(told.correlation.asDeviation, "0.80");
  expect(told.isBound).toBe(false);
  // Of p < 0.05 it is the least: a small one excludes nothing.
  const small = { ...ten, pre_spread: 2, post_spread: 2 };
  expect(spreadKindTold(row({ ...small, p_value: 0.05 }))!.kind).toBe("standard error");
  expect(spreadKindTold(row({ ...small, p_value: "<0.05" }))!).toMatchObject({
    kind: "cannot tell",
    isBound: true,
  });
});

test("nothing is told without people, both spreads, a change, or a test of this arm", () => {
  for (const lacking of [
    { ...nine },
    { ...nine, t_value: 2, n_end: "" },
    { ...nine, t_value: 2, post_spread: "" },
    { ...nine, t_value: 2, post_mean: 100 },
    { ...nine, t_value: 2, statistic_of: "difference from comparator" },
  ])
    expect(spreadKindTold(row(lacking))).toBeUndefined();
});
