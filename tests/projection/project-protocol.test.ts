import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import {
  prepareProjection,
  type PrepareProjectionOptions,
} from "../../src/projection/prepare-projection.js";
import {
  type ProjectionRefusal,
  type ProjectOptions,
} from "../../src/projection/placed-protocol.js";
import { projectProtocol, type Projection } from "../../src/projection/project-protocol.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { handMadeRegister, quickOptions, registerPairs } from "./hand-made-register.js";

const prepared = prepareProjection(handMadeRegister(), quickOptions);
const written = "4 x 5 x 6 s at 75%, rest 6 s, 3/week, 8 weeks, middle";

const projected = (text: string, options: ProjectOptions = {}, from = prepared): Projection => {
  const projection = projectProtocol(from, parsePrescription(text), options);
  if (projection.kind !== "projection") throw new Error(projection.reason);
  return projection;
};
const refused = (text: string): ProjectionRefusal => {
  const projection = projectProtocol(prepared, parsePrescription(text));
  if (projection.kind !== "refusal") throw new Error("not refused");
  return projection;
};
const preparedWith = (options: Partial<PrepareProjectionOptions>) =>
  prepareProjection(handMadeRegister(), { ...quickOptions, ...options });
const width = ({ low, high }: { low: number; high: number }): number => high - low;

describe("three ranges", () => {
  const { ranges } = projected(written);

  test("each lies inside the next", () => {
    const { average, newGroup, person } = ranges;
    expect(newGroup.low).toBeLessThan(average.low);
    expect(newGroup.high).toBeGreaterThan(average.high);
    expect(person.low).toBeLessThan(newGroup.low);
    expect(person.high).toBeGreaterThan(newGroup.high);
  });

  test("the average lies among the arms that trained like it", () => {
    // the eight-week arms at 50 to 90 % gained 0.12 to 0.22
    expect(ranges.average.estimate).toBeGreaterThan(0.14);
    expect(ranges.average.estimate).toBeLessThan(0.24);
  });

  test("percent is the same on another scale", () => {
    const { estimate, percent } = ranges.person;
    expect(percent.estimate).toBeCloseTo(100 * (Math.exp(estimate) - 1), 10);
  });

  test.each([0.02, 0.05, 0.1, 0.2])(
    "a person's range is never narrower than a test with error %d can see",
    (deviation) => {
      const from = preparedWith({ measurementError: { deviation, source: "a test" } });
      const { person } = projected(written, { course: false }, from).ranges;
      expect(width(person)).toBeGreaterThan(2 * 1.959963984540054 * Math.SQRT2 * deviation);
    },
  );

  test("the smallest worthwhile gain has a probability of its own", () => {
    const { average } = projected(written, { smallestWorthwhilePercent: 10, course: false }).ranges;
    expect(average.probabilityWorthwhile).toBeLessThan(average.probabilityOfGain);
    expect(average.probabilityWorthwhile).toBeGreaterThan(0.5);
  });
});

test("what is kept for the next asker follows every option", () => {
  const first = projected(written);
  expect(projected(written).ranges).toBe(first.ranges);
  const widthOf = ({ ranges }: Projection): number => ranges.average.high - ranges.average.low;
  expect(widthOf(projected(written, { confidence: 0.5 }))).toBeLessThan(widthOf(first));
  expect(projected(written, { nearest: 1 }).support.nearest).toHaveLength(1);
  expect(projected(written, { course: false }).course).toEqual([]);
  expect(projected(written, { weeks: 4 }).ranges.average.estimate).toBeLessThan(
    first.ranges.average.estimate,
  );
  expect(projected(written).course).toEqual(first.course);
});

describe("the course over weeks", () => {
  const { course, ranges, weeks } = projected(written);
  test("begins with nothing, never falls, and ends at the projection", () => {
    expect(course.map((point) => point.weeks)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8]);
    expect(course[0]!.average).toMatchObject({ low: 0, estimate: 0, high: 0 });
    course.slice(1).forEach((point, i) => {
      expect(point.average.estimate).toBeGreaterThan(course[i]!.average.estimate);
    });
    expect(weeks).toBe(8);
    expect(course.at(-1)!.average).toEqual(ranges.average);
  });
  test("slows down", () => {
    const gains = course.map((point) => point.average.estimate);
    expect(gains[4]! - gains[2]!).toBeGreaterThan(gains[8]! - gains[6]!);
  });
  test("says which weeks were studied", () => {
    expect(course.filter((point) => point.studied).map((point) => point.weeks)).toEqual([6, 7, 8]);
  });
  test("at the start a person's measured change is measurement error alone", () => {
    // typical error 0.05 for strength (E1 of the facts: 5 % at 70–90°): 1.96·√2·0.05
    expect(course[0]!.person.high).toBeCloseTo(1.959963984540054 * Math.SQRT2 * 0.05, 5);
  });
  test("long programmes have fewer points, and the last week is among them", () => {
    const long = projected(written, { weeks: 23 }).course.map((point) => point.weeks);
    expect(long.length).toBeLessThan(15);
    expect(long.at(-1)).toBe(23);
  });
});

describe("support", () => {
  test("arms and people within two steps, counted by hand", () => {
    // At 75 % and 8 weeks: efforts differ by at most 25 (1.25 steps) and weeks by at most 4 (one step): all sixteen.
    const { support } = projected(written);
    expect(support).toMatchObject({ nearArms: 16, nearStudies: 8, nearPeople: 160 });
    // nearest: Elm at 80% for 8 weeks (5/20 of a step); then Ash, likewise, in the file's order before it
    expect(support.nearest.map(({ study, arm }) => `${study} ${arm}`).slice(0, 2)).toEqual([
      "Ash high",
      "Elm high",
    ]);
    expect(support.nearest[0]!.distance).toBeCloseTo(0.25, 12);
    expect(support.nearest[0]!.lines).toEqual([3]);
    expect(support.extrapolates).toBe(false);
  });

  test("outside what was studied it is called extrapolation, with the reason", () => {
    const low = projected("4 x 5 x 6 s at 40%, rest 6 s, 3/week, 8 weeks, middle").support;
    expect(low.extrapolates).toBe(true);
    expect(low.reasons.join()).toContain(
      "intensity 40% of MVC is outside what was studied (50 to 90)",
    );
    const late = projected(written, { weeks: 16 }).support;
    expect(late.reasons.join()).toContain("16 weeks is outside what was studied (6 to 12)");
  });

  test("what no arm varied is not read as making no difference", () => {
    const text = "4 x 5 x 6 s at 75%, rest 6 s, 5/week";
    const { support } = projected(text, { weeks: 8, course: false });
    expect(support.extrapolates).toBe(true);
    expect(support.reasons.join()).toContain(
      "the file cannot say what sessions a week 5 changes, since all arms have 3",
    );
  });

  test("a quality that no arm has is not projected as another", () => {
    const long = refused(written.replace("middle", "long"));
    expect(long).toMatchObject({
      code: "category-not-studied",
      reason:
        'no arm of the file has muscle length "long" (the arms have "middle"), and another one does not stand in for it',
    });
    // Arms that do not say may be anything, so the number is theirs and called an extrapolation.
    const silent = prepareProjection(
      handMadeRegister(
        registerPairs.map(({ row = {}, ...one }) => {
          const { muscleLength: _said, ...silentRow } = row;
          return { ...one, row: silentRow };
        }),
      ),
      quickOptions,
    );
    const { support } = projected(written.replace("middle", "long"), { course: false }, silent);
    expect(support.reasons.join()).toContain(
      'the file cannot say what muscle length "long" changes, since all arms have "not stated"',
    );
  });

  test("what is not said stands as in most arms, by count and never as the most usual", () => {
    const some = prepareProjection(
      handMadeRegister(
        registerPairs.map(({ row = {}, ...one }, i) => {
          const { muscleLength: _said, ...rest } = row;
          return { ...one, row: i < 2 ? { ...rest, muscleLength: "short" as const } : rest };
        }),
      ),
      quickOptions,
    );
    const unsaid = projected(written.replace(", middle", ""), { course: false }, some);
    expect(unsaid.assumed.map(({ message }) => message).join()).toContain(
      "muscle length is not given, as in 14 of 16 arms, and the number is of arms like those",
    );
    expect(projected(written.replace(", middle", ""), { course: false }).assumed.length).toBe(0);
  });

  test("one study near, or an axis that no arm codes, is not inside what was studied", () => {
    const apart = registerPairs.map((one, i) => ({
      ...one,
      row: i < 2 ? one.row! : { ...one.row, sets: 32 },
    }));
    const from = prepareProjection(handMadeRegister(apart), quickOptions);
    const alone = projected(written.replace("75", "70"), { course: false }, from).support;
    expect(alone).toMatchObject({ nearArms: 2, nearStudies: 1, extrapolates: true });
    expect(alone.reasons).toContain("arms of only one study lie within 2 steps of this protocol");
  });

  test("a hold within a tenth of the file's only one is no other hold", () => {
    const nearly = projected("4 x 5 x 6.5 s at 75%, rest 6 s, 3/week, 8 weeks, middle");
    expect(nearly.support.reasons).toEqual([]);
  });

  test("a level that a single arm has is projected as the reference, and that is said", () => {
    const lengths = ["middle", "long"] as const;
    const mixed = registerPairs.map((one, i) => ({
      ...one,
      row: { ...one.row, muscleLength: i === 15 ? ("short" as const) : lengths[i % 2]! },
    }));
    const from = prepareProjection(handMadeRegister(mixed), quickOptions);
    const { support } = projected(written.replace("middle", "short"), { course: false }, from);
    expect(support.reasons.join()).toContain(
      'fewer than 2 arms have muscle length "short"; it is projected as "middle"',
    );
  });

  test("far outside it is refused, and the nearest protocol is named", () => {
    const { reason, nearest } = refused("1 x 300 s at 20%, rest 6 s, 3/week, 8 weeks, middle");
    expect(reason).toContain("no arm of the file lies within 4 steps");
    expect(reason).toContain(nearest!.study);
    expect(reason).toContain(nearest!.written!);
    expect(nearest!.distance).toBeGreaterThan(4);
  });
});

describe("what a protocol does not say", () => {
  test("weeks: the file's usual length stands in, and that is said", () => {
    const projection = projected("4 x 5 x 6 s at 75%, rest 6 s, 3/week, middle");
    expect(projection.weeks).toBe(8);
    expect(projection.assumed.map(({ message }) => message).join()).toContain(
      "weeks are not given",
    );
  });

  test("an intensity cannot be made up", () => {
    expect(() => projected("4 x 5 x 6 s, rest 6 s, 3/week, 8 weeks")).toThrow(
      /does not say intensity/,
    );
  });

  test.each([0, -3, Infinity, Number.NaN])("%d weeks are refused", (weeks) => {
    expect(() => projected(written, { weeks })).toThrow(CallError);
  });
});

test("strength elsewhere falls with the distance from the trained angle", () => {
  const angles = registerPairs.flatMap((one) =>
    [0, 30, 60].map((distance) => ({
      ...one,
      estimate: one.estimate * Math.exp(-0.5 * (distance / 25) ** 2),
      row: { ...one.row, trainingAngleDegrees: [60], testAngleDegrees: 60 - distance },
    })),
  );
  const from = prepareProjection(handMadeRegister(angles), {
    ...quickOptions,
    goal: "strength elsewhere",
  });
  const gains = [0, 15, 30, 60].map(
    (testDistanceDegrees) =>
      projected(written, { testDistanceDegrees, course: false }, from).ranges.average.estimate,
  );
  for (let i = 1; i < gains.length; i++) expect(gains[i]!).toBeLessThan(gains[i - 1]!);
  expect(gains[3]!).toBeLessThan(0.35 * gains[0]!);
});
