/** Kinds of evidence: the published schema, and identities between the drawing and the plan. */
import { describe, expect, test } from "vitest";
import { rampFigure } from "../../src/figures/ramp-figure.js";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import type { RampPlan } from "../../src/projection/ramp-plan.js";
import type { RampFrom } from "../../src/projection/ramp-start.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const cases: readonly (readonly [string, RampFrom, number])[] = [
  ["4 x 20 s at 70-75%, rest 120 s, 3/week, long, knee", "returning after injury", 14],
  [
    "4 x (5 x 3 s), maximal, rests 15 s and 2 min, 3/week, long, as fast as possible",
    "trained",
    10,
  ],
  ["20 x 6 s at effort 7, rest 30 s", "deconditioned", 60],
  ["1 x 10 s at 20%", "trained", 1],
];

describe.each(cases)("%s, %s, %i weeks", (text, from, weeks) => {
  const plan = rampPlan(parsePrescription(text), { from, weeks }) as RampPlan;
  const figure = rampFigure(plan);

  test("is sound, with a row of numbers a week", () => {
    expect(plan.kind).toBe("plan");
    expectSoundFigure(figure);
    expect(figure.data.map(({ week }) => week)).toEqual(plan.weeks.map(({ week }) => week));
  });

  test("marks one bar for each change, in the column of its week", () => {
    const marked = rowsOf(figure, "ramp: changes");
    const changed = plan.weeks.filter(({ change }) => change !== undefined);
    expect(marked).toHaveLength(changed.length);
    const bars = [...rowsOf(figure, "ramp: bars"), ...marked];
    const columns = [...new Set(bars.map(({ x }) => x))].toSorted((a, b) => a - b);
    expect(columns).toHaveLength(weeks);
    expect(marked.map(({ x }) => columns.indexOf(x) + 1).toSorted((a, b) => a - b)).toEqual(
      changed.map(({ week }) => week),
    );
  });

  test("marks the weeks hard", () => {
    expect(rowsOf(figure, "ramp: hard")).toHaveLength(
      plan.weeks.filter(({ grade }) => grade === "hard").length,
    );
  });
});
