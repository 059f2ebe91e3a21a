/** Kind of evidence: hand-reckoned angles of single plans; where a session is held, and what pain makes of the next week. */
import { describe, expect, test } from "vitest";
import { rampPlan, type RampPlan } from "../../src/projection/ramp-plan.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

const read = parsePrescription;

describe("places on the way are said in degrees where they can be", () => {
  const anglesOf = (
    text: string,
    more: object = {},
  ): readonly (readonly number[] | undefined)[] => [
    ...new Map(
      (rampPlan(read(text), { from: "trained", weeks: 90, ...more }) as RampPlan).weeks.flatMap(
        ({ long }) =>
          long === undefined ? [] : [[long.place, long.prescription.trainingAngleDegrees] as const],
      ),
    ).values(),
  ];
  test("several angles go their own ways from the middle, the furthest sets the steps", () => {
    expect(anglesOf("4 x 10 s at 60%, rest 60 s, 3/week, long, knee 75° and 90°")).toEqual([
      [65, 70],
      [70, 80],
      [75, 90],
    ]);
  });
  test("the elbow begins near 90°, whichever end its angle is counted from", () => {
    const text = (angle: number) => `4 x 10 s at 60%, rest 60 s, 3/week, long, elbow ${angle}°`;
    expect(anglesOf(text(120))).toEqual([[100], [110], [120]]);
    expect(anglesOf(text(60))).toEqual([[80], [70], [60]]);
  });
  test("where the middle is not known the target's angle waits for the last step, and shares are said", () => {
    const plan = rampPlan(read("4 x 10 s at 60%, rest 60 s, 3/week, long, ankle 15°"), {
      from: "trained",
      weeks: 60,
    }) as RampPlan;
    const places = new Map(
      plan.weeks.flatMap(({ long }) => (long === undefined ? [] : [[long.place, long.written]])),
    );
    expect([...places.keys()]).toEqual([
      "a third of the way from the middle to the target's length",
      "two thirds of the way from the middle to the target's length",
      "at the target's length",
    ]);
    expect([...places.values()].map((written) => written.includes("15°"))).toEqual([
      false,
      false,
      true,
    ]);
  });
  test("no session is at an angle beyond the greatest now, the middle of the range included", () => {
    const plan = rampPlan(read("4 x 10 s at 60%, rest 60 s, 3/week, long, knee 90°"), {
      from: "deconditioned",
      weeks: 60,
      greatestAngleDegrees: 50,
    }) as RampPlan;
    const angles = plan.weeks.flatMap(({ prescription, long }) => [
      ...(prescription.trainingAngleDegrees ?? [NaN]),
      ...(long?.prescription.trainingAngleDegrees ?? []),
    ]);
    expect(new Set(angles)).toEqual(new Set([50]));
  });
});

test("the pain rule says the pain at which to hold back", () => {
  const ruleAt = (holdBackAt?: number): string | undefined =>
    rampPlan(read("4 x 10 s at 60%, rest 60 s, 3/week"), {
      from: "trained",
      weeks: 8,
      ...(holdBackAt === undefined ? {} : { holdBackAt }),
    }).notes.find(({ code }) => code === "repeat-a-week")?.message;
  expect(ruleAt()).toContain(": up to 3 go on, 4 or 5 repeat the week, above 5 or worse next");
  expect(ruleAt(1)).toContain(
    ": up to 1 go on, more than that and up to 5 repeat the week, above 5",
  );
  expect(ruleAt(5)).toContain(": up to 5 go on, above 5 or worse next morning go back a week");
});
