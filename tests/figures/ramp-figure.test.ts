/** Kinds of evidence: the published schema, and identities between the drawing and the plan. */
import { describe, expect, test } from "vitest";
import type { Figure } from "../../src/figures/figure.js";
import { rampFigure } from "../../src/figures/ramp-figure.js";
import { rampPlan } from "../../src/projection/ramp-plan.js";
import type { RampPlan } from "../../src/projection/ramp-plan.js";
import type { RampFrom } from "../../src/projection/ramp-start.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { figureSizes, roomOf } from "../../src/figures/frame.js";
import { expectSoundFigure } from "./figure-checks.js";

type Bar = Readonly<{ week: number; value: number; kind: string; full: string }>;
type Stretch = Readonly<{ week: number; to: number; grade: string }>;

/** Rows of data of every layer whose name ends so. */
const layersNamed = (
  figure: Figure,
  ending: string,
): Readonly<Record<string, readonly unknown[]>> => {
  const found: Record<string, readonly unknown[]> = {};
  const walk = (node: unknown): void => {
    if (Array.isArray(node)) return node.forEach(walk);
    if (typeof node !== "object" || node === null) return;
    const { name, data, ...others } = node as { name?: string; data?: { values?: unknown[] } };
    if (name?.endsWith(ending) === true && data?.values !== undefined) found[name] = data.values;
    Object.values(others).forEach(walk);
  };
  walk(figure.specification);
  return found;
};

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

  test("draws a bar a week for everything that changes, and marks the one change of each week", () => {
    const { "can be held: weeks": _grades, ...rows } = layersNamed(figure, ": weeks");
    for (const bars of Object.values(rows) as (readonly Bar[])[])
      expect(bars.map(({ week }) => week)).toEqual(plan.weeks.map(({ week }) => week));
    const marked = Object.entries(rows).flatMap(([name, bars]) =>
      (bars as readonly Bar[]).flatMap(({ week, kind }) =>
        kind === "raised this week" ? [`${week} ${name.replace(": weeks", "")}`] : [],
      ),
    );
    const changes = plan.weeks.flatMap(({ week, change }) =>
      change === undefined ? [] : [`${week} ${change.variable}`],
    );
    expect(marked.toSorted()).toEqual(changes.toSorted());
  });

  test("what no row is drawn for is told as the same in every week", () => {
    const drawn = Object.keys(layersNamed(figure, ": weeks"));
    const holds = new Set(plan.weeks.map(({ prescription }) => prescription.holdSeconds));
    expect(drawn.includes("hold length: weeks")).toBe(holds.size > 1 || weeks === 1);
    if (holds.size === 1 && weeks > 1)
      expect(figure.caption).toMatch(
        new RegExp(`^The same in every week: [^.]*hold length ${[...holds][0]} s`),
      );
  });

  test("the stretches of a grade are the weeks of that grade", () => {
    const [stretches] = Object.values(layersNamed(figure, "can be held: weeks"));
    const weeksOf = (of: string) =>
      (stretches as readonly Stretch[]).flatMap(({ week, to, grade }) =>
        grade === of ? Array.from({ length: to - week + 1 }, (_, more) => week + more) : [],
      );
    for (const [grade, words] of [
      ["hard", "hard"],
      ["to spare", "to spare"],
      [null, "maximal: no grade"],
    ] as const)
      expect(weeksOf(words)).toEqual(
        plan.weeks.flatMap((one) => (one.grade === grade ? [one.week] : [])),
      );
  });

  test.each(figureSizes)("keeps to its room: %s", (size) => {
    const room = roomOf(size);
    const sized = rampFigure(plan, room);
    expectSoundFigure(sized);
    expect(sized.width).toBe(room.width);
  });
});
