import { describe, expect, test } from "vitest";
import type { SeveralDoses } from "../../src/dose/several-doses.js";
import type { AxisPromise } from "../../src/dose/telling-axes.js";
import type { TimeCourse } from "../../src/dose/time-course.js";
import { axesToldTable } from "../../src/tables/axes-told-table.js";
import { collinearityTable, severalDosesTable } from "../../src/tables/several-doses-table.js";
import { timeCourseTable } from "../../src/tables/time-course-table.js";
import { coefficientOfPercent } from "./all-different.js";
import { axis, slopeOfPercent } from "./made-up-doses.js";
import { told } from "./told.js";

/** Kind of evidence: made-up inputs in which no two numbers agree; each printed one was traced by hand. */

describe("several doses", () => {
  const [effort, hold] = [axis("intensityPercent"), axis("holdSeconds")];
  const answer = {
    axes: [effort, hold],
    centres: [61.4, 12.6],
    terms: [
      {
        term: "intensityPercent",
        axes: [effort],
        within: {
          kind: "told",
          robust: slopeOfPercent(10, [0.5, 1.6, 2.7], [0.1, 6.7, 0.0234]),
        },
        correlationWithOthers: 0.345,
      },
      {
        term: "product",
        axes: [effort, hold],
        within: {
          kind: "told",
          robust: slopeOfPercent(10 * hold.step, [-1.5, 0.4, 2.3], [0.1, 4.5, 0.567]),
        },
        correlationWithOthers: 0.678,
      },
      {
        term: "holdSeconds",
        axes: [hold],
        within: { kind: "refusal", code: "x", reason: "moves with effort" },
        correlationWithOthers: undefined,
      },
    ],
    effects: 29,
    studies: 11,
    notes: [{ code: "x", message: "a doubt" }],
  } as unknown as SeveralDoses;

  test("each with the others held still", () => {
    expect(told(severalDosesTable(answer, "log-ratio-of-means"))).toEqual([
      "What each dose adds with the others held still, inside studies [several-doses]",
      "Step | Adds (interval) | >Degrees of freedom | >p | >Moves with the others, r",
      "10 more points of MVC | 1.6% (0.5 to 2.7) | 6.7 | 0.023 | 0.35",
      "10 more points of MVC, for each step of hold length (10 more seconds of hold) | 0.4% (−1.5 to 2.3) | 4.5 | 0.567 | 0.68",
      "10 more seconds of hold | not told: moves with effort |  |  | ",
      "* 29 effects of 11 studies with all of these doses known; r is the multiple correlation inside studies, from 0.8 on parts cannot be told apart",
      "* a product is counted about 61.4% of MVC and 12.6 s, where each dose's own line holds",
      "* a doubt",
    ]);
    const single = { ...answer, terms: answer.terms.slice(0, 1), notes: [] };
    expect(severalDosesTable(single, "log-ratio-of-means").notes).toHaveLength(1);
  });

  test("how they move together", () => {
    expect(
      told(
        collinearityTable([
          {
            first: effort,
            second: hold,
            within: { r: -0.456, studies: 7, arms: 16 },
            between: { r: 0.123, studies: 13, arms: 30 },
            words: "they hardly move together",
            toldApart: "yes",
          },
          {
            first: hold,
            second: effort,
            within: undefined,
            between: undefined,
            words: "not studied",
            toldApart: "not studied",
          },
        ]),
      ),
    ).toEqual([
      "Which doses move together [doses-together]",
      "Doses | >r inside studies (studies) | >r between studies (studies) | In words",
      "intensity, hold length | −0.46 (7) | 0.12 (13) | They hardly move together",
      "hold length, intensity | – | – | Not studied",
    ]);
  });

  test("what a file can tell about each", () => {
    const support = (effects: number, studies: number, within: number, low: number, high: number) =>
      ({
        effects,
        studies,
        studiesWithin: within,
        lowest: low,
        highest: high,
      }) as unknown as AxisPromise["support"];
    const axes: readonly AxisPromise[] = [
      { axis: effort, support: support(20, 14, 9, 30, 100), evidence: "within studies" },
      {
        axis: hold,
        support: support(18, 13, 2, 3, 45),
        evidence: "between studies only",
        missing: "two studies compare",
      },
      { axis: effort, support: support(8, 6, 0, 80, 80), evidence: "none", missing: "one dose" },
      { axis: axis("muscleLength"), support: support(7, 5, 4, 0, 1), evidence: "within studies" },
      { axis: hold, support: support(0, 0, 0, 0, 0), evidence: "none" },
    ];
    expect(told(axesToldTable(axes))).toEqual([
      "What the file can tell about each dose [doses-told]",
      "Dose | >Studies | >Of them comparing doses | Doses met | What there is",
      "intensity | 14 | 9 | 30 to 100% of MVC | told by arms of the same study",
      "hold length | 13 | 2 | 3 to 45 s | told by differences between studies only: two studies compare",
      "intensity | 6 | 0 | 80% of MVC | no answer: one dose",
      "muscle length | 5 | 4 | short length to long length | told by arms of the same study",
      "hold length | 0 | 0 | none | no answer: ",
      "* doses that most studies compare inside themselves come first; this is judged before anything is fitted",
    ]);
  });
});

describe("the weeks", () => {
  const course = {
    confidence: 0.9,
    effects: 42,
    studies: 1,
    people: 1203,
    timeConstant: {
      kind: "told",
      weeks: 4.36,
      interval: { low: 2.14, high: 9.72 },
      degreesOfFreedom: 5,
    },
    referenceWeek: 12,
    gains: [
      { week: 8, beyondData: false, ...coefficientOfPercent("", [5.1, 8.2, 11.3], [0, 0, 0]) },
      { week: 2, beyondData: true, ...coefficientOfPercent("", [1.4, 3.5, 5.6], [0, 0, 0]) },
      { week: 4, beyondData: false, ...coefficientOfPercent("", [2.7, 4.8, 6.9], [0, 0, 0]) },
    ],
    shares: [
      { week: 8, share: 0.834, interval: { low: 0.716, high: 0.947 } },
      { week: 2, share: 0.372, interval: { low: 0.251, high: 0.493 } },
    ],
    courses: [
      { name: "rising and flattening", weight: 0.628 },
      { name: "straight line", weight: null },
      { name: "logarithm", weight: 0.372 },
    ],
    notes: [{ code: "x", message: "a doubt" }],
    assumptions: ["levels differ"],
  } as unknown as TimeCourse;

  test("every number in its place", () => {
    expect(told(timeCourseTable(course, "joint torque", "log-ratio-of-means"))).toEqual([
      "Gain over the weeks: joint torque [time-course-joint-torque]",
      ">Week | >Gain (interval) | >Share of the 12-week gain",
      "2 (beyond the data) | 3.5% (1.4 to 5.6) | 37% (25 to 49)",
      "4 | 4.8% (2.7 to 6.9) | ",
      "8 | 8.2% (5.1 to 11.3) | 83% (72 to 95)",
      "* 63% of the final gain is reached after 4.4 weeks (90% interval 2.1 to 9.7).",
      "* Shares are of the logarithm of the gain, as the effects are; of the percentages they are a little smaller.",
      "* 42 effects from 1 study and 1,203 people, all of arms measured more than once.",
      "* Courses by their weights: rising and flattening 63%, logarithm 37%.",
      "* A doubt.",
      "* Levels differ.",
    ]);
  });

  test("a time constant that is not told, or open to a side", () => {
    const first = (timeConstant: object): string =>
      timeCourseTable(
        { ...course, studies: 2, timeConstant } as unknown as TimeCourse,
        "size",
        "standardised-mean-difference",
      ).notes[0] ?? "";
    expect(first({ kind: "refusal", code: "x", reason: "too flat", atLeast: 7.25 })).toBe(
      "How fast the gain comes cannot be told: too flat (at least 7.3 weeks).",
    );
    expect(first({ kind: "refusal", code: "x", reason: "too steep", atMost: 1.5 })).toBe(
      "How fast the gain comes cannot be told: too steep (at most 1.5 weeks).",
    );
    expect(first({ kind: "refusal", code: "x", reason: "no course" })).toBe(
      "How fast the gain comes cannot be told: no course.",
    );
    const open = { kind: "told", weeks: 3.2, interval: { low: null, high: null } };
    expect(first(open)).toBe(
      "63% of the final gain is reached after 3.2 weeks (90% interval no lower limit to no upper limit).",
    );
    const plain = timeCourseTable(
      { ...course, studies: 2, courses: [] },
      "size",
      "standardised-mean-difference",
    );
    expect([plain.rows[1]?.["gain"], plain.notes[1], plain.notes.length]).toEqual([
      "0.05 (0.03 to 0.07)",
      "42 effects from 2 studies and 1,203 people, all of arms measured more than once.",
      4,
    ]);
  });
});
