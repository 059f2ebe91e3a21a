/**
 * Kinds of evidence: identities that must hold of every plan, over generated targets; hand arithmetic for
 * one plan; and the endurance model asked again for what a refusal says would fit.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { holdGrade, mostFinish } from "../../src/endurance/can-be-held.js";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import type { RampPlan } from "../../src/projection/ramp-plan.js";
import type { RampWeek } from "../../src/projection/ramp-week.js";
import { rampFroms } from "../../src/projection/ramp-start.js";
import {
  effectiveHoldSeconds,
  effectiveIntensityPercent,
} from "../../src/protocol/derived-quantities.js";
import {
  canonicalPrescription,
  muscleLengths,
  prescriptionIssues,
} from "../../src/protocol/prescription.js";
import type { Prescription } from "../../src/protocol/prescription.js";
import { parsePrescription } from "../../src/protocol/written-form.js";

const read = parsePrescription;

const effort: fc.Arbitrary<Partial<Prescription>> = fc.oneof(
  fc.integer({ min: 5, max: 100 }).map((intensityPercent) => ({ intensityPercent })),
  fc.integer({ min: 10, max: 95 }).map((low) => ({
    intensityPercent: low,
    intensityPercentHigh: low + 5,
  })),
  fc
    .integer({ min: 2, max: 20 })
    .map((half) => ({ effortRating: half / 2, intensityBasis: "effort rating 0–10" as const })),
  fc.constant({ intensityBasis: "maximal effort" as const }),
);

const target: fc.Arbitrary<Prescription> = fc
  .record({
    sets: fc.integer({ min: 1, max: 5 }),
    repetitions: fc.integer({ min: 1, max: 20 }),
    holdSeconds: fc.integer({ min: 1, max: 60 }),
    restBetweenRepetitionsSeconds: fc.integer({ min: 10, max: 240 }),
    restBetweenSetsSeconds: fc.integer({ min: 30, max: 300 }),
    effort,
    range: fc.boolean(),
    sessionsPerWeek: fc.option(fc.integer({ min: 1, max: 7 }), { nil: undefined }),
    muscleLength: fc.option(fc.constantFrom(...muscleLengths), { nil: undefined }),
    effortIntent: fc.constantFrom(undefined, "as fast as possible", "to failure"),
    weeks: fc.constantFrom(undefined, 12),
  })
  .map(({ effort: chosen, range, ...fields }) => {
    const known = Object.entries({
      ...fields,
      ...chosen,
      holdSecondsHigh: range ? fields.holdSeconds + 4 : undefined,
    }).filter(([, value]) => value !== undefined);
    return Object.fromEntries(known) as Prescription;
  });

const froms = fc.oneof(
  fc.constantFrom(...rampFroms),
  fc
    .constantFrom(
      "2 x 10 s at 30%, middle",
      "1 x 5 s at 15%, 1/week",
      "3 x (4 x 3 s) at 50%, rest 5 s, 60 s between sets, 2/week, knee 70°",
      "6 x 30 s at 60%, rest 60 s, 3/week, long",
    )
    .map((text) => read(text)),
);
const options = fc.record({ from: froms, weeks: fc.integer({ min: 1, max: 60 }) });

/** Plans for generated targets, made once, since every test looks at all of them. */
const made = fc
  .sample(fc.tuple(target, options), { numRuns: 160, seed: 20 })
  .flatMap(([goal, chosen]) => {
    const answer = rampPlan(goal, chosen);
    return answer.kind === "plan" ? [{ answer, goal: canonicalPrescription(goal) }] : [];
  });

const plans = (check: (plan: RampPlan, goal: Prescription) => void): void => {
  expect(made.length).toBeGreaterThan(100);
  for (const { answer, goal } of made) check(answer, goal);
};

const pairs = (plan: RampPlan): readonly (readonly [RampWeek, RampWeek])[] =>
  plan.weeks.slice(1).map((week, index) => [plan.weeks[index]!, week]);

const effortOf = (p: Prescription): number => effectiveIntensityPercent(p) ?? NaN;
const holdsOf = (p: Prescription): number => p.sets * p.repetitions;
const workOf = (p: Prescription): number => holdsOf(p) * effectiveHoldSeconds(p) * effortOf(p);
/** A week's torque–time read off its prescriptions; two sessions where their number is not said. */
const weekOf = ({ prescription, long }: RampWeek): number => {
  const unsaid = long === undefined ? 2 : 1;
  return (
    (prescription.sessionsPerWeek ?? unsaid) * workOf(prescription) +
    (long === undefined ? 0 : (long.prescription.sessionsPerWeek ?? 1) * workOf(long.prescription))
  );
};

describe("of every plan", () => {
  test("a week's torque–time rises by at most 15%, but for the target's own range or rating", () => {
    plans((plan) => {
      for (const [before, after] of pairs(plan)) {
        expect(after.torqueTimePerWeek).toBeLessThanOrEqual(1.15 * before.torqueTimePerWeek + 1e-6);
        expect(Math.abs(weekOf(after) / after.torqueTimePerWeek - 1)).toBeLessThan(1e-6);
      }
    });
  });

  test("at most one kind of session changes in a week, and angle and intensity never rise together", () => {
    const key = (p: Prescription | undefined): string => {
      const { sessionsPerWeek: _sessions, ...work } = p ?? {};
      return JSON.stringify(work);
    };
    plans((plan) => {
      for (const [before, after] of pairs(plan)) {
        const changed = [
          key(before.prescription) !== key(after.prescription),
          key(before.long?.prescription) !== key(after.long?.prescription),
        ];
        if (after.change === undefined) expect(changed).toEqual([false, false]);
        // On arrival the sessions in turns become all sessions.
        else if (after.change.variable !== "muscle length")
          expect(changed.filter(Boolean).length).toBeLessThanOrEqual(1);
        const [was, is] = [before.long, after.long];
        if (was === undefined || is === undefined) continue;
        const further = is.steps[0] > was.steps[0];
        const harder = effortOf(is.prescription) > effortOf(was.prescription) + 1e-9;
        expect(further && harder).toBe(false);
        expect(further && effortOf(after.prescription) > effortOf(before.prescription) + 1e-9).toBe(
          false,
        );
      }
    });
  });

  test("no session near the middle of the range is ever lighter than the first week's", () => {
    plans((plan) => {
      const least = Math.floor(effortOf(plan.weeks[0]!.prescription));
      for (const { prescription } of plan.weeks)
        expect(effortOf(prescription)).toBeGreaterThanOrEqual(least);
    });
  });

  test("a start of one's own keeps its time under tension where the target has shorter holds", () => {
    const own = parsePrescription("2 x 10 s at 20%, rest 60 s, 2/week, middle, knee");
    const plan = rampPlan(parsePrescription("5 x 5 s at 95%, rest 60 s, 3/week, long, knee 100°"), {
      from: own,
      weeks: 34,
    }) as RampPlan;
    // 2 × 10 s are 20 s: 4 × 5 s.
    expect(plan.weeks[0]!.prescription).toMatchObject({
      repetitions: 4,
      holdSeconds: 5,
      intensityPercent: 20,
    });
  });

  test("long length begins by the second stage, with at most half the intensity and half the holds", () => {
    let begun = 0;
    plans((plan, goal) => {
      const index = plan.weeks.findIndex(({ long }) => long !== undefined);
      if (index === -1) {
        if (goal.muscleLength !== "long") return;
        // No turns only where the plan is over before they begin, or the start is at long length already.
        const [first] = plan.weeks;
        if (first!.prescription.muscleLength !== "long")
          expect(
            plan.weeks.every(
              ({ change }) => change === undefined || change.variable === "sessions a week",
            ),
          ).toBe(true);
        return;
      }
      begun += 1;
      expect(goal.muscleLength).toBe("long");
      const week = plan.weeks[index]!;
      const main = plan.weeks[index - 1]!.prescription;
      const { prescription: first } = week.long!;
      expect(effortOf(first)).toBeLessThanOrEqual(Math.max(1, effortOf(main) / 2));
      if (holdsOf(main) > 1) expect(holdsOf(first)).toBeLessThanOrEqual(holdsOf(main) / 2);
      else expect(effectiveHoldSeconds(first)).toBeLessThanOrEqual(effectiveHoldSeconds(main) / 2);
      const earlier = plan.weeks.slice(0, index).flatMap(({ change }) => change?.variable ?? []);
      expect(earlier.filter((variable) => variable !== "sessions a week")).toEqual([]);
    });
    expect(begun).toBeGreaterThan(20);
  });

  test("near-maximal work at long length comes two weeks after the middle of the range had it, five points a week", () => {
    let seen = 0;
    for (const text of [
      "5 x 5 s at 94%, rest 120 s, 3/week, long, knee 100°",
      "3 x (4 x 3 s) at 100%, rest 20 s, 120 s between sets, 2/week, long, elbow",
      "6 x 4 s, maximal, rest 60 s, long, ankle",
    ]) {
      const plan = rampPlan(read(text), { from: "trained", weeks: 104 }) as RampPlan;
      expect(plan.arrives).toBe(true);
      plan.weeks.forEach(({ long }, index) => {
        if (long === undefined || effortOf(long.prescription) <= 90) return;
        seen += 1;
        expect(effortOf(plan.weeks[index - 2]!.prescription)).toBeGreaterThanOrEqual(
          effortOf(long.prescription) - 1e-9,
        );
        const was = plan.weeks[index - 1]!.long!;
        expect(effortOf(long.prescription) - effortOf(was.prescription)).toBeLessThanOrEqual(
          5 + 1e-9,
        );
      });
    }
    expect(seen).toBeGreaterThan(3);
  });

  test("every week is one most people finish, sound, and reads back", () => {
    plans((plan) => {
      for (const { prescription, long, written, grade, notes } of plan.weeks) {
        for (const p of [prescription, ...(long === undefined ? [] : [long.prescription])]) {
          expect(prescriptionIssues(p)).toEqual([]);
          expect(mostFinish(holdGrade(p))).toBe(true);
          expect(workOf(p)).toBeLessThanOrEqual(workOf(plan.target) + 1e-6);
        }
        expect(read(written)).toEqual(canonicalPrescription(prescription));
        expect(notes.some(({ code }) => code === "near-the-limit")).toBe(grade === "hard");
      }
    });
  });

  test("it has the weeks asked for; it ends at the target, or at what fits and says how many weeks that needs", () => {
    let short = 0;
    plans((plan) => {
      const { weeks: _weeks, ...last } = plan.target;
      const arrived = plan.weeks.at(-1)?.prescription;
      if (plan.arrives) expect(arrived).toEqual(last);
      else {
        short += 1;
        expect(plan.shortestWeeks ?? Infinity).toBeGreaterThan(plan.weeks.length);
      }
      expect(plan.weeks.map(({ week }) => week)).toEqual(plan.weeks.map((_, index) => index + 1));
    });
    expect(short).toBeGreaterThan(10);
  });

  test("no intensity rises by more than the rule's largest step", () => {
    plans((plan) => {
      for (const [before, after] of pairs(plan))
        if (after.change?.variable === "intensity")
          expect(effortOf(after.prescription) - effortOf(before.prescription)).toBeLessThanOrEqual(
            plan.rule.largestEffortStepPercent + 1e-6,
          );
    });
  });
});

test("the fewest weeks are enough, and one week fewer is not", () => {
  const goal = read("4 x 20 s at 70%, rest 60 s, 3/week, long, knee 90°");
  const of = (weeks: number) => rampPlan(goal, { from: "deconditioned", weeks }) as RampPlan;
  const { shortestWeeks } = of(5);
  expect(of(shortestWeeks!)).toMatchObject({ arrives: true, shortestWeeks });
  expect(of(shortestWeeks! - 1)).toMatchObject({ arrives: false, shortestWeeks });
});

test("hand arithmetic: the first weeks of 4 × 20 s at 70% at long length, three times a week", () => {
  // Start: half of 4 holds, half of 20 s, 40%: 3 × 2 × 10 × 40 = 2400. Week 2: one of the three at long length with
  // half the holds and half the intensity, first of three steps of 10° from 60° to 90°: 1600 + 200 = 1800. Week 3: a
  // third hold, of 7 s so that 2 × 3 × 7 × 40 + 200 = 1880 is at most 2070 (8 s would be 2120). Week 4: 80°.
  const plan = rampPlan(read("4 x 20 s at 70%, rest 60 s, 3/week, long, knee 90°"), {
    from: "deconditioned",
    weeks: 4,
  }) as RampPlan;
  expect(
    plan.weeks.map(({ written, long, torqueTimePerWeek }) => [
      written,
      long?.written,
      torqueTimePerWeek,
    ]),
  ).toEqual([
    ["2 × 10 s at 40%, rest 60 s, 3/week, middle, knee 60°", undefined, 2400],
    [
      "2 × 10 s at 40%, rest 60 s, 2/week, middle, knee 60°",
      "1 × 10 s at 20%, 1/week, long, knee 70°",
      1800,
    ],
    [
      "3 × 7 s at 40%, rest 60 s, 2/week, middle, knee 60°",
      "1 × 10 s at 20%, 1/week, long, knee 70°",
      1880,
    ],
    [
      "3 × 7 s at 40%, rest 60 s, 2/week, middle, knee 60°",
      "1 × 10 s at 20%, 1/week, long, knee 80°",
      1880,
    ],
  ]);
});

describe("a client's own start and limits", () => {
  const goal = read("4 x 20 s at 70%, rest 60 s, 3/week, long, knee 90°");
  test("the first week is what is done now, with the target's rests and joint", () => {
    const plan = rampPlan(goal, { from: read("2 x 10 s at 30%, middle"), weeks: 8 }) as RampPlan;
    expect(plan.weeks[0]!.written).toBe("2 × 10 s at 30%, rest 60 s, 3/week, middle, knee 60°");
    expect(plan.from).toBe("2 × 10 s at 30%, middle");
  });
  test("what is done now never goes above the target", () => {
    const plan = rampPlan(goal, { from: read("9 x 40 s at 90%, middle"), weeks: 8 }) as RampPlan;
    expect(plan.weeks[0]!.written).toBe("4 × 20 s at 70%, rest 60 s, 3/week, middle, knee 60°");
  });
  test("the greatest angle now is where the plan ends, and that is said; steps are as wide as asked for", () => {
    const plan = rampPlan(goal, {
      from: "deconditioned",
      weeks: 80,
      greatestAngleDegrees: 75,
      rule: { angleStepDegrees: 5 },
    }) as RampPlan;
    const angles = plan.weeks.flatMap(({ long }) => long?.prescription.trainingAngleDegrees ?? []);
    expect([...new Set(angles)]).toEqual([65, 70, 75]);
    expect(plan.weeks.at(-1)!.prescription.trainingAngleDegrees).toEqual([75]);
    expect(plan.notes.find(({ code }) => code === "angle-limited")?.message).toContain(
      "the target's 90° are beyond the greatest angle now, 75°",
    );
  });
});

describe("what does not fit", () => {
  test("a target most will not finish gives way to the nearest that they do", () => {
    const plan = rampPlan(read("4 x 30 s at 75%, rest 15 s, knee"), {
      from: "trained",
      weeks: 30,
    }) as RampPlan;
    expect(plan.asked?.written).toBe("4 × 30 s at 75%, rest 15 s, knee");
    expect(plan.asked?.why).toContain("run out in set 1");
    expect(mostFinish(holdGrade(plan.target))).toBe(true);
    expect(plan.arrives).toBe(true);
    const { weeks: _weeks, ...last } = plan.target;
    expect(plan.weeks.at(-1)!.prescription).toEqual(last);
  });

  test("bad calls name what they need", () => {
    const goal = read("4 x 20 s at 70%, rest 60 s");
    expect(() => rampPlan(goal, { from: "trained", weeks: 0 })).toThrow(/whole number of weeks/);
    expect(() => rampPlan(goal, { from: "trained", weeks: 2.5 })).toThrow(/got 2.5/);
    expect(() => rampPlan(goal, { from: "ill" as "trained", weeks: 4 })).toThrow(/got ill/);
    expect(() => rampPlan(read("4 x 20 s at 70%"), { from: "trained", weeks: 4 })).toThrow(
      /restBetweenRepetitionsSeconds/,
    );
    expect(() =>
      rampPlan(read("4 x 20 s at 70% 1RM, rest 60 s"), { from: "trained", weeks: 4 }),
    ).toThrow(/intensityPercent/);
    expect(() =>
      rampPlan(goal, { from: "trained", weeks: 4, rule: { startHoldsShare: 0 } }),
    ).toThrow(/startHoldsShare/);
    expect(() => rampPlan(goal, { from: read("2 x 10 s"), weeks: 4 })).toThrow(
      /a start with an intensity/,
    );
  });
});

describe("what is said", () => {
  const notes = (text: string, from: (typeof rampFroms)[number]): readonly string[] =>
    rampPlan(read(text), { from, weeks: 30 }).notes.map(({ code }) => code);

  test("order and numbers are called what they are; an injury sends to the clinician", () => {
    const plan = rampPlan(read("4 x 30 s at 60%, rest 120 s, long"), {
      from: "returning after injury",
      weeks: 30,
    });
    const words = plan.notes.map(({ message }) => message).join(" ");
    expect(words).toContain("common practice, no source");
    expect(words).toContain("Allen 2018");
    expect(words).toContain("clinician");
  });

  test("what the target leaves open is named", () => {
    expect(notes("4 x 30 s at 60%, rest 120 s", "trained")).toContain("length-not-stated");
    expect(notes("4 x 30 s at 60%, rest 120 s, 12 weeks", "trained")).toContain(
      "weeks-begin-after",
    );
  });

  test("the rule's numbers can be changed", () => {
    const plan = rampPlan(read("4 x 30 s at 60%, rest 120 s"), {
      from: "trained",
      weeks: 12,
      rule: { startEffortPercent: 25 },
    }) as RampPlan;
    expect(plan.weeks[0]?.prescription.intensityPercent).toBe(25);
  });
});
