/**
 * Kinds of evidence: identities that must hold of every plan, over generated targets; hand arithmetic for
 * one plan; and the endurance model asked again for what a refusal says would fit.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { holdGrade, mostFinish } from "../../src/endurance/can-be-held.js";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import type { RampPlan } from "../../src/projection/ramp-plan.js";
import type { RampRefusal } from "../../src/projection/ramp-refusal.js";
import { rampFroms, rampRules } from "../../src/projection/ramp-start.js";
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

const options = fc.record({
  from: fc.constantFrom(...rampFroms),
  weeks: fc.integer({ min: 1, max: 40 }),
});

/** The variables in which two prescriptions differ, read off the prescriptions themselves. */
const differences = (a: Prescription, b: Prescription): readonly string[] => {
  const of = (p: Prescription): Readonly<Record<string, unknown>> => ({
    sets: p.sets,
    repetitions: p.repetitions,
    "hold length": effectiveHoldSeconds(p),
    "sessions a week": p.sessionsPerWeek,
    intensity: effectiveIntensityPercent(p),
    "muscle length": p.muscleLength,
    intent: p.effortIntent,
    other: [p.joint, p.action, p.weeks].join(),
  });
  const [first, second] = [of(a), of(b)];
  return Object.keys(first).filter((key) => first[key] !== second[key]);
};

/** Plans for generated targets, made once, since every test looks at all of them. */
const made = fc
  .sample(fc.tuple(target, options), { numRuns: 160, seed: 20 })
  .flatMap(([goal, chosen]) => {
    const answer = rampPlan(goal, chosen);
    return answer.kind === "plan" ? [{ answer, goal: canonicalPrescription(goal) }] : [];
  });

const plans = (check: (plan: RampPlan, goal: Prescription) => void): void => {
  expect(made.length).toBeGreaterThan(40);
  for (const { answer, goal } of made) check(answer, goal);
};

const pairs = (plan: RampPlan): readonly (readonly [Prescription, Prescription])[] =>
  plan.weeks
    .slice(1)
    .map((week, index) => [
      plan.weeks[index]?.prescription ?? week.prescription,
      week.prescription,
    ]);

const effortOf = (p: Prescription): number => effectiveIntensityPercent(p) ?? NaN;

describe("of every plan", () => {
  test("at most one variable changes from week to week, and it is the one named", () => {
    plans((plan) => {
      pairs(plan).forEach(([before, after], index) => {
        const changed = differences(before, after);
        const { change } = plan.weeks[index + 1] ?? {};
        expect(changed).toEqual(change === undefined ? [] : [change.variable]);
      });
      expect(plan.weeks[0]?.change).toBeUndefined();
    });
  });

  test("nothing falls back, and nothing is ever above the target", () => {
    plans((plan, goal) => {
      const sizes = (p: Prescription): readonly number[] => [
        p.sets,
        p.repetitions,
        effectiveHoldSeconds(p),
        p.sessionsPerWeek ?? 0,
        effortOf(p),
      ];
      for (const [before, after] of pairs(plan))
        sizes(after).forEach((value, index) => {
          expect(value).toBeGreaterThanOrEqual(sizes(before)[index] ?? NaN);
        });
      for (const { prescription } of plan.weeks)
        sizes(prescription).forEach((value, index) => {
          expect(value).toBeLessThanOrEqual(sizes(goal)[index] ?? NaN);
        });
    });
  });

  test("it has the weeks asked for, begins by the rule and ends at the target", () => {
    plans((plan, goal) => {
      const { weeks: _weeks, ...last } = goal;
      expect(plan.weeks.at(-1)?.prescription).toEqual(last);
      expect(plan.weeks.map(({ week }) => week)).toEqual(plan.weeks.map((_, index) => index + 1));
      expect(plan.weeks.length).toBeGreaterThanOrEqual(plan.shortestWeeks);
      const first = plan.weeks[0]?.prescription ?? last;
      expect(effortOf(first)).toBe(
        Math.min(effortOf(goal), rampRules[plan.from].startEffortPercent),
      );
      if (plan.weeks.length > 1 && goal.muscleLength !== undefined)
        expect(first.muscleLength).toBe("middle");
    });
  });

  test("holds and sessions come before effort, another length after moderate effort, near-maximal last", () => {
    plans((plan) => {
      const rule = rampRules[plan.from];
      const changes = plan.weeks.flatMap(({ change, prescription }) =>
        change === undefined ? [] : [{ variable: change.variable, effort: effortOf(prescription) }],
      );
      const places = (wanted: (change: (typeof changes)[number]) => boolean): readonly number[] =>
        changes.flatMap((change, index) => (wanted(change) ? [index] : []));
      const volume = places(({ variable }) =>
        ["sets", "repetitions", "hold length", "sessions a week"].includes(variable),
      );
      const effortSteps = places(({ variable }) => variable === "intensity");
      const length = places(({ variable }) => variable === "muscle length");
      const nearMaximal = places(({ variable, effort: e }) => variable === "intensity" && e > 90);
      const intent = places(({ variable }) => variable === "intent");
      expect(Math.max(...volume, -1)).toBeLessThan(
        Math.min(...effortSteps, ...length, ...intent, Infinity),
      );
      expect(Math.max(...length, -1)).toBeLessThan(Math.min(...nearMaximal, Infinity));
      expect(Math.max(...nearMaximal, -1)).toBeLessThan(Math.min(...intent, Infinity));
      for (const place of length)
        expect(changes[place]?.effort).toBeLessThanOrEqual(
          Math.max(rule.effortBeforeLengthPercent, rule.startEffortPercent),
        );
    });
  });

  test("no step is larger than the rule allows", () => {
    plans((plan, goal) => {
      const rule = rampRules[plan.from];
      const share = rule.largestVolumeStepShare;
      for (const [before, after] of pairs(plan)) {
        expect(effortOf(after) - effortOf(before)).toBeLessThanOrEqual(
          rule.largestEffortStepPercent + 1e-6,
        );
        expect(effectiveHoldSeconds(after) - effectiveHoldSeconds(before)).toBeLessThanOrEqual(
          Math.max(1, share * effectiveHoldSeconds(goal)) + 1e-6,
        );
        expect(after.repetitions - before.repetitions).toBeLessThanOrEqual(
          Math.max(1, share * goal.repetitions),
        );
        expect(after.sets - before.sets).toBeLessThanOrEqual(Math.max(1, share * goal.sets));
      }
    });
  });

  test("no week is beyond the model, and one near the limit says so; each is sound and reads back", () => {
    plans((plan) => {
      for (const { prescription, written, grade, notes } of plan.weeks) {
        expect(prescriptionIssues(prescription)).toEqual([]);
        expect(read(written)).toEqual(canonicalPrescription(prescription));
        expect(grade).toBe(holdGrade(prescription));
        expect(mostFinish(grade)).toBe(true);
        expect(notes.some(({ code }) => code === "near-the-limit")).toBe(grade === "hard");
      }
    });
  });
});

test("hand arithmetic: 4 × 20 s at 70%, deconditioned, in seven weeks", () => {
  // Start: half of 4 holds, half of 20 s, 40%. Steps: repetitions 2→3→4 (at most a quarter of 4 a week,
  // which is 1), holds 10→15→20 s (at most a quarter of 20 s, 5 s), effort 40→55→70% (at most 15
  // points): six steps after the first week.
  const plan = rampPlan(read("4 x 20 s at 70%, rest 90 s, knee"), {
    from: "deconditioned",
    weeks: 7,
  }) as RampPlan;
  expect(plan.weeks.map(({ written }) => written)).toEqual([
    "2 × 10 s at 40%, rest 90 s, knee",
    "3 × 10 s at 40%, rest 90 s, knee",
    "4 × 10 s at 40%, rest 90 s, knee",
    "4 × 15 s at 40%, rest 90 s, knee",
    "4 × 20 s at 40%, rest 90 s, knee",
    "4 × 20 s at 55%, rest 90 s, knee",
    "4 × 20 s at 70%, rest 90 s, knee",
  ]);
});

describe("refusals", () => {
  test("too few weeks: one week fewer than the fewest, and the fewest is enough", () => {
    let seen = 0;
    fc.assert(
      fc.property(target, options, (goal, { from, weeks }) => {
        const answer = rampPlan(goal, { from, weeks });
        if (answer.kind !== "refusal" || answer.code !== "too-few-weeks") return;
        seen += 1;
        const fewest = answer.shortestWeeks ?? NaN;
        expect(fewest).toBeGreaterThan(weeks);
        const again = rampPlan(goal, { from, weeks: fewest });
        if (again.kind === "plan") {
          expect(again.weeks[weeks - 1]?.prescription).toEqual(answer.reachedInTime);
          expect(again.weeks[fewest - weeks]?.prescription).toEqual(answer.startThatFits);
        } else expect(again.code).toBe("beyond-the-model");
      }),
      { numRuns: 60, seed: 7 },
    );
    expect(seen).toBeGreaterThan(8);
  });

  test("a target beyond the model comes with edges that hold when the model is asked again", () => {
    const goal = read("4 x 30 s at 75%, rest 15 s, knee");
    const answer = rampPlan(goal, { from: "trained", weeks: 12 }) as RampRefusal;
    expect(answer.code).toBe("beyond-the-model");
    const finished = (change: Partial<Prescription>): boolean =>
      mostFinish(holdGrade({ ...goal, ...change }));
    const hold = answer.edges?.longestHoldSeconds;
    expect(hold?.kind).toBe("limit");
    if (hold?.kind === "limit") {
      expect(finished({ holdSeconds: hold.value })).toBe(true);
      expect(finished({ holdSeconds: hold.value + 0.1 })).toBe(false);
    }
    const highest = answer.highestEffortPercent ?? NaN;
    expect(finished({ intensityPercent: highest })).toBe(true);
    expect(finished({ intensityPercent: highest + 1 })).toBe(false);
    expect(answer.wouldFit.join()).toContain(`at most ${highest}%`);
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
  });
});

describe("what is said", () => {
  const notes = (text: string, from: (typeof rampFroms)[number]): readonly string[] =>
    rampPlan(read(text), { from, weeks: 30 }).notes.map(({ code }) => code);

  test("order and numbers are called what they are; an injury sends to the clinician", () => {
    const plan = rampPlan(read("4 x 30 s at 60%, rest 120 s, short"), {
      from: "returning after injury",
      weeks: 30,
    });
    const words = plan.notes.map(({ message }) => message).join(" ");
    expect(words).toContain("common practice, no source");
    expect(words).toContain("chosen here, no source");
    expect(words).toContain("clinician");
  });

  test("what the target leaves open is named", () => {
    expect(notes("4 x 30 s at 60%, rest 120 s", "trained")).toContain("length-not-stated");
    expect(notes("4 x 30 s at 60%, rest 120 s, long, knee 90°", "trained")).toContain(
      "angle-waits",
    );
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
