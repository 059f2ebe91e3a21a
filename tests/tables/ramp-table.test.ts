/** Kind of evidence: identities; the table says what the plan says, no more and no less. */
import { expect, test } from "vitest";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import type { RampPlan } from "../../src/projection/ramp-plan.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { rampAnswer, rampTable } from "../../src/tables/ramp-table.js";

const target = parsePrescription("4 x 20 s at 70-75%, rest 120 s, 3/week, long, knee");
const plan = rampPlan(target, { from: "returning after injury", weeks: 40 }) as RampPlan;

test("a row for each week with its session, its change and its grade", () => {
  const { rows, notes } = rampTable(plan);
  expect(rows).toHaveLength(40);
  expect(rows.map(({ session }) => session)).toEqual(plan.weeks.map(({ written }) => written));
  expect(rows.map(({ grade }) => grade)).toEqual(plan.weeks.map(({ grade }) => grade));
  expect(rows[0]?.["change"]).toBe("the start");
  expect(rows.map(({ long }) => long)).toEqual(plan.weeks.map(({ long }) => long?.written ?? ""));
  expect(rows.at(-1)?.["change"]).toBe("muscle length middle → long");
  expect(rows.filter(({ change }) => change === "as the week before")).toHaveLength(
    plan.weeks.filter(({ change, week }) => change === undefined && week > 1).length,
  );
  expect(notes.join(" ")).toContain("common practice, no source");
});

test("the answer names the weeks hard", () => {
  const near = plan.weeks.filter(({ grade }) => grade === "hard");
  expect(near.length).toBeGreaterThan(0);
  // Once it is hard it stays so: a run of weeks.
  const [from, to] = [near[0]!.week, near.at(-1)!.week];
  expect(near.map(({ week }) => week)).toEqual(
    Array.from({ length: to - from + 1 }, (_, more) => from + more),
  );
  expect(rampAnswer(plan)).toMatch(new RegExp(`hard by the model in weeks ${from} to ${to}\\.$`));
});
