/** Kind of evidence: made-up inputs in which no two numbers agree; each printed one was traced by hand. */
import { describe, expect, test } from "vitest";
import type { DoseCurve } from "../../src/dose/dose-response.js";
import type { EqualTension } from "../../src/dose/equal-tension.js";
import type { JointAngle } from "../../src/dose/joint-angle.js";
import type { SeveralDoses } from "../../src/dose/several-doses.js";
import type { AxisPromise } from "../../src/dose/telling-axes.js";
import type { TimeCourse } from "../../src/dose/time-course.js";
import type { VariableRow, VariableTable } from "../../src/dose/variable-table.js";
import { axesToldTable } from "../../src/tables/axes-told-table.js";
import { doseCurveText } from "../../src/tables/dose-curve-text.js";
import {
  doseAnswer,
  doseReadOffsTable,
  doseShapesTable,
  doseSlopesTable,
} from "../../src/tables/dose-table.js";
import { equalTensionPairsTable, equalTensionTable } from "../../src/tables/equal-tension-table.js";
import { jointAngleTable } from "../../src/tables/joint-angle-table.js";
import { collinearityTable, severalDosesTable } from "../../src/tables/several-doses-table.js";
import { timeCourseTable } from "../../src/tables/time-course-table.js";
import {
  shownAmount,
  variablesDataTable,
  variablesRules,
  variablesSentences,
  variablesTable,
} from "../../src/tables/variables-table.js";
import { coefficientOfPercent } from "./all-different.js";
import { axis, madeUpCurve, madeUpNoCurve, slopeOfPercent } from "./made-up-doses.js";
import { told } from "./told.js";

describe("one dose", () => {
  const { readOffs } = madeUpCurve;

  test("its answer", () => {
    expect(doseAnswer(madeUpCurve)).toBe(
      "With 10 more points of MVC the gain differs by 2.3% (95% interval 1.2 to 3.4%), from arms of the same study. The curve is highest at 85% of MVC, the highest dose compared.",
    );
    expect(doseAnswer(madeUpNoCurve)).toBe("No answer: two studies are too few.");
    const onlyBetween = {
      ...madeUpCurve,
      slopes: { ...madeUpCurve.slopes, within: madeUpNoCurve.slopes.within },
    };
    expect(doseAnswer(onlyBetween)).toBe(
      "With 10 more points of MVC the gain differs by 1.8% (95% interval −0.7 to 4.3%), from studies that differ in much else besides, so this is no more than a hint: the interval holds no change, so a direction is not shown. There is no slope from arms of the same study: one study compares. The curve is highest at 85% of MVC, the highest dose compared.",
    );
    const neither = {
      ...madeUpCurve,
      slopes: {
        ...onlyBetween.slopes,
        between: { kind: "refusal", code: "x", reason: "no spread" },
      },
      readOffs: {
        ...readOffs,
        best: { ...readOffs.best, atEnd: "neither" },
        notDistinguishable: [],
      },
    } as unknown as DoseCurve;
    expect(doseAnswer(neither)).toBe(
      "There is no slope from arms of the same study: one study compares. The curve is highest at 85% of MVC.",
    );
    const few = {
      ...madeUpCurve,
      slopes: { ...madeUpCurve.slopes, within: madeUpCurve.slopes.difference },
      readOffs: { ...readOffs, notDistinguishable: [{ low: 35, high: 85 }] },
    } as unknown as DoseCurve;
    expect(doseAnswer(few)).toBe(
      "With 10 more points of MVC the gain differs by −0.5% (95% interval −2.6 to 1.6%), from arms of the same study: the interval holds no change, so a direction is not shown. The interval rests on 3.2 degrees of freedom and is not to be relied on. No dose between 35 and 85% of MVC can be told from the best one.",
    );
    const held = {
      ...few,
      slopes: {
        ...few.slopes,
        within: {
          kind: "told",
          robust: slopeOfPercent(10, [-4, -3, -2], [0.1, 4, 0.01]),
        },
      },
    } as unknown as DoseCurve;
    expect(doseAnswer(held)).toBe(
      "With 10 more points of MVC the gain differs by −3.0% (95% interval −4.0 to −2.0%), from arms of the same study. No dose between 35 and 85% of MVC can be told from the best one.",
    );
  });

  test("its slopes", () => {
    expect(told(doseSlopesTable(madeUpCurve))).toEqual([
      "What 10 more points of MVC adds, by a straight line [dose-slopes-intensity-percent]",
      "Comparison | Adds (interval) | >Degrees of freedom | >p",
      "arms of one study (within) | 2.3% (1.2 to 3.4) | 5.6 | 0.012",
      "studies' means (between) | 1.8% (−0.7 to 4.3) | 8.4 | 0.234",
      "between minus within | −0.5% (−2.6 to 1.6) | 3.2 | 0.456",
      "within, two-stage (5 studies) | 2.1% (0.9 to 3.3) | 4 | 0.035",
      "* intensity: prescribed force in percent of maximal voluntary contraction at the trained angle; maximal effort counts as 100, one point of a 0–10 effort rating as ten",
      "* studies that train at another dose differ in other ways too; only comparisons within studies are free of that",
      "* a doubt about slopes",
    ]);
    expect(told(doseSlopesTable(madeUpNoCurve)).slice(0, 5)).toEqual([
      "What 10 more seconds of hold adds, by a straight line [dose-slopes-hold-seconds]",
      "Comparison | Adds (interval) | >Degrees of freedom | >p",
      "arms of one study (within) | not told: one study compares |  | ",
      "studies' means (between) | 0.10 (−0.10 to 0.20) | 2.5 | 0.500",
      "between minus within | not told: no slope within |  | ",
    ]);
  });

  test("its shapes, the likeliest first", () => {
    expect(told(doseShapesTable(madeUpCurve))).toEqual([
      "Shapes compared [dose-shapes-intensity-percent]",
      "Shape | >Weight | >Criterion above the best | Its parameter, or why it was not tried",
      "plateau | 52% | 0.0 | half-way dose: 41% of MVC (end of the search)",
      "logarithm | 36% | 0.8 | shift: 2% of MVC",
      "no effect | 13% | 2.1 | ",
      "peak |  |  | needs four doses",
      "* weights come from the small-sample information criterion of maximum likelihood fits to the same effects; they compare these shapes with each other and say nothing about shapes not tried",
      "shape,weight_exact,criterion,log_likelihood,parameters,parameter",
      "plateau,0.516,28.1,-8.5,5,half-way dose: 41% of MVC (end of the search)",
      "logarithm,0.356,28.9,-9.25,4,shift: 2% of MVC",
      "no effect,0.128,30.25,-11.5,3,",
      "peak,,,,,needs four doses",
    ]);
  });

  test("what is read off", () => {
    const asked = [
      { dose: 44, kind: "told", point: { ...madeUpCurve.curve[2]!, dose: 44 } },
      { dose: 99, kind: "refusal", code: "x", reason: "outside" },
    ] as unknown as Parameters<typeof doseReadOffsTable>[1];
    expect(told(doseReadOffsTable(madeUpCurve, asked))).toEqual([
      "Read off the curve [dose-read-offs-intensity-percent]",
      "Quantity | Value (interval)",
      "Doses compared | 35 to 85% of MVC",
      "Gain at 35% of MVC | 4.4% (2.8 to 6.2)",
      "Gain at 62% of MVC | 7.9% (5.7 to 9.9)",
      "Gain at 85% of MVC | 9.1% (6.9 to 11.3)",
      "Gain at 44% of MVC (asked for) | 6.5% (4.6 to 8.4)",
      "Gain at 99% of MVC (asked for) | not told: outside",
      "10 more points of MVC, from 40% of MVC | 1.7% (0.8 to 2.6)",
      "10 more points of MVC, from 70% of MVC | 0.6% (−0.2 to 1.4)",
      "Best dose inside the range | 85% of MVC (57 to 85% of MVC), the highest dose compared",
      "Dose of 90% of the best gain | 66% of MVC (48 to 81% of MVC)",
      "Not distinguishable from the best | 54 to 59% of MVC; 74 to 85% of MVC",
      "* a best dose at the end of the range may lie beyond it; nothing outside was compared",
    ]);
    const less = {
      ...madeUpCurve,
      range: { low: 35, high: 35 },
      readOffs: {
        best: { kind: "refusal", code: "x", reason: "no best" },
        ninetyPercent: { kind: "refusal", code: "x", reason: "no share" },
        notDistinguishable: [],
        steps: [],
      },
    } as unknown as DoseCurve;
    expect(told(doseReadOffsTable(less)).slice(2)).toEqual([
      "Doses compared | 35% of MVC",
      "Gain at 35% of MVC | 4.4% (2.8 to 6.2)",
      "Gain at 35% of MVC | 4.4% (2.8 to 6.2)",
      "Gain at 85% of MVC | 9.1% (6.9 to 11.3)",
      "Best dose inside the range | no best",
      "Dose of 90% of the best gain | no share",
      "Not distinguishable from the best | ",
      "* a best dose at the end of the range may lie beyond it; nothing outside was compared",
    ]);
    const lengths = {
      ...madeUpCurve,
      axis: axis("muscleLength"),
      range: { low: 0, high: 1 },
      curve: [
        { ...madeUpCurve.curve[1]!, dose: 0 },
        { ...madeUpCurve.curve[2]!, dose: 1 },
      ],
      readOffs: {
        ...readOffs,
        steps: [],
        best: { ...readOffs.best, dose: 1, interval: { low: 0, high: 1 } },
      },
    } as unknown as DoseCurve;
    expect(told(doseReadOffsTable(lengths)).slice(2)).toEqual([
      "Doses compared | short length to long length",
      "Gain at short length | 4.4% (2.8 to 6.2)",
      "Gain at long length | 6.5% (4.6 to 8.4)",
      "Best dose inside the range | long length (short length to long length), the highest dose compared",
      "* a best dose at the end of the range may lie beyond it; nothing outside was compared",
    ]);
  });

  test("drawn in text", () => {
    expect(doseCurveText(madeUpCurve, { width: 60 }).split("\n")).toEqual([
      "10.8% |                               ::::::::::::",
      "      |                       :::::::::::::::::::: ·······",
      "      |                 :::::::::::::ooooooooooooo·",
      "      |            ::::::::::oooooooo:::::::::::::",
      "      |        ::::::::oooooo:::::::::::::::::::::",
      " 5.5% |        :::ooooo:::::::::::::::",
      "      |     ···ooo::::::::::",
      "      |·····   :::::::",
      "      |        :",
      "      |",
      "   0% |---------------------------------------------------",
      "      +---------------------------------------------------",
      " arms  1      4                 +                 2      1",
      "       25% of MVC                               95% of MVC",
      "       intensity; o curve, : its interval, · beyond the comparisons, numbers: arms",
    ]);
  });
});

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

describe("the angles", () => {
  const gain = (percent: readonly [number, number, number]) => ({
    kind: "told",
    ...coefficientOfPercent("", percent, [0.02, 0, 0]),
  });
  const answer = {
    longAgainstShort: {
      kind: "told",
      level: gain([1, 2, 3]),
      widthRatio: {
        estimate: 1.83,
        interval: { low: 1.14, high: 2.95 },
        degreesOfFreedom: 5,
        p: 0.04,
      },
    },
    assumptions: ["a bell"],
    lengths: [
      {
        muscleLength: "short",
        studies: 4,
        people: 1057,
        distances: { low: 0, high: 40, distinct: 5 },
        level: gain([6.2, 9.4, 12.6]),
        halfWidth: {
          kind: "told",
          degrees: 9.46,
          interval: { low: 7.23, high: 14.7 },
          degreesOfFreedom: 3.9,
        },
        left: [
          { degrees: 10, share: 0.461, interval: { low: 0.283, high: 0.615 } },
          { degrees: 20, share: 0.147, interval: { low: 0.052, high: 0.258 } },
        ],
        average: gain([3.3, 5.5, 7.7]),
      },
      {
        muscleLength: "long",
        studies: 3,
        people: 64,
        distances: { low: 0, high: 60, distinct: 4 },
        level: { kind: "refusal", code: "x", reason: "no level" },
        halfWidth: { kind: "refusal", code: "x", reason: "too wide", atLeast: 61.6 },
        left: [],
        average: { kind: "refusal", code: "x", reason: "no average" },
      },
      {
        muscleLength: "not coded",
        studies: 1,
        people: 8,
        distances: { low: 0, high: 0, distinct: 1 },
        level: gain([1.1, 2.1, 3.1]),
        halfWidth: { kind: "refusal", code: "x", reason: "one distance" },
        left: [],
        average: gain([1.2, 2.2, 3.2]),
      },
      {
        muscleLength: "middle",
        studies: 2,
        people: 17,
        distances: undefined,
        level: { kind: "refusal", code: "x", reason: "none" },
        halfWidth: { kind: "refusal", code: "x", reason: "none" },
        left: [],
        average: { kind: "refusal", code: "x", reason: "none" },
      },
    ],
  } as unknown as JointAngle;

  test("every number in its place", () => {
    expect(told(jointAngleTable(answer, "joint torque", "log-ratio-of-means"))).toEqual([
      "Carry-over from the trained angle: joint torque [joint-angle-joint-torque]",
      "Trained at | Studies, people | >Gain at the trained angle | >Half is left at | >Left 10° away | >Left 20° away | >Average of angles",
      "short length | 4, 1,057 | 9.4% (6.2 to 12.6) | 9.5° (7.2° to 15°) † | 46% (28 to 62) | 15% (5 to 26) | 5.5% (3.3 to 7.7)",
      "long length | 3, 64 | not told | not told (at least 62°) |  |  | not told",
      "* Width after training at long over width after short length: 1.8 (1.1 to 3.0).",
      "* Width after long length: not told, too wide.",
      "* Length not coded: 1 study, all tested at one distance only.",
      "* Middle length: 2 studies, all tested at one distance only.",
      "* † fewer than four degrees of freedom: the interval is not to be relied on.",
      "* A bell.",
    ]);
  });

  test("widths open to a side, and no comparison of lengths", () => {
    const [short] = answer.lengths;
    const widths = [
      { kind: "told", degrees: 33.3, interval: { low: null, high: null }, degreesOfFreedom: 4 },
      { kind: "refusal", code: "x", reason: "x", atMost: 4.44 },
      { kind: "refusal", code: "x", reason: "y" },
    ].map((halfWidth) => ({ ...short, halfWidth }));
    const table = jointAngleTable(
      {
        ...answer,
        lengths: widths,
        longAgainstShort: { kind: "refusal", code: "x", reason: "only one length" },
      } as unknown as JointAngle,
      "size",
      "standardised-mean-difference",
    );
    expect(table.rows.map(({ width }) => width)).toEqual([
      "33° (no lower limit to no upper limit)",
      "not told (at most 4.4°)",
      "not told",
    ]);
    expect(table.notes).toEqual([
      "Long against short length: not told, only one length.",
      "Width after short length: not told, x.",
      "Width after short length: not told, y.",
      "A bell.",
    ]);
    expect(table.rows[0]?.["level"]).toBe("0.09 (0.06 to 0.12)");
  });
});

describe("equal work", () => {
  const side = (arm: string, holdSeconds: number, intensityPercent: number, total: number) => ({
    arm,
    effectId: arm,
    holdSeconds,
    intensityPercent,
    total,
  });
  const pair = (study: string, others: object) => ({
    study,
    outcome: `torque of ${study}`,
    place: "",
    more: side("long", 30, 61, 720),
    less: side("short", 5, 62, 705),
    over: "week",
    ...coefficientOfPercent("", [-2.4, 1.3, 5.1], [0, 0, 0]),
    variance: 0.0009,
    alsoDiffer: [],
    pooled: true,
    ...others,
  });
  const pooled = (percent: readonly [number, number, number], others: object) => ({
    kind: "told",
    ...coefficientOfPercent("", percent, [0.02, 5.5, 0.1]),
    predictionInterval: null,
    pairs: 2,
    studies: 2,
    ...others,
  });
  const result = {
    quantity: "tension time",
    tolerance: 0.12,
    leastHoldRatio: 1.6,
    leastEffortPoints: 11,
    assumptions: ["pairs are alike"],
    answers: [
      {
        question: "hold length",
        family: "strength",
        studies: 6,
        pairs: [
          pair("Elm", { alsoDiffer: ["rest", "sets"] }),
          pair("Oak", { pooled: false, alsoDiffer: ["joint"], over: "session" }),
          pair("Fir", { pooled: false }),
        ],
        headline: {
          of: "all pairs",
          answer: pooled([0.4, 2.5, 4.6], {
            pairs: 2,
            studies: 5,
            predictionInterval: { low: Math.log(0.942), high: Math.log(1.113) },
          }),
        },
      },
      {
        question: "effort",
        family: "size",
        studies: 3,
        pairs: [
          pair("Ash", {
            more: side("hard", 12, 80, 333),
            less: { ...side("easy", 13, 40, 321), intensityPercent: undefined },
          }),
        ],
        headline: {
          of: "pairs alike otherwise",
          answer: pooled([-3.2, 0.7, 4.7], { pairs: 1, studies: 2, degreesOfFreedom: 3.9 }),
        },
      },
      {
        question: "effort",
        family: "tendon",
        studies: 0,
        pairs: [],
        headline: { of: "all pairs", answer: { kind: "refusal", code: "x", reason: "no pair" } },
      },
      {
        question: "effort",
        family: "other",
        studies: 1,
        pairs: [pair("Yew", {})],
        headline: { of: "all pairs", answer: { kind: "refusal", code: "x", reason: "one study" } },
      },
    ],
  } as unknown as EqualTension;

  test("averages", () => {
    expect(told(equalTensionTable(result, "log-ratio-of-means"))).toEqual([
      "Equal tension time, given otherwise [equal-tension]",
      "Compared | Outcome | Pairs averaged, of all | >Difference (interval) | >A further study",
      "longer against shorter holds | strength | 2 of 3; 5 of 6 studies; they also differ otherwise | 2.5% (0.4 to 4.6) | −5.8 to 11.3%",
      "higher against lower intensity | size | 1 of 1; 2 of 3 studies | 0.7% (−3.2 to 4.7) † | ",
      "higher against lower intensity | tendon | none | not told: no pair | ",
      "higher against lower intensity | other | 0 of 1 | not told: one study | ",
      "* Pairs of arms of one study whose tension time agrees within 12%; holds differ by a factor of 1.6 or more, intensity by 11 points of MVC or more. Positive: the longer holds, or the higher intensity, gained more.",
      "* Averaged are pairs alike in everything else that is coded, where two studies have such; pairs that follow from other pairs are not counted twice.",
      "* † fewer than four degrees of freedom: the interval is not to be relied on.",
      "* Pairs are alike.",
    ]);
    const none = { ...result, answers: [] };
    expect(equalTensionTable(none, "standardised-mean-difference").notes).toHaveLength(3);
    const plain = { ...result, answers: result.answers.slice(0, 1) };
    expect(told(equalTensionTable(plain, "standardised-mean-difference")).slice(2, 3)).toEqual([
      "longer against shorter holds | strength | 2 of 3; 5 of 6 studies; they also differ otherwise | 0.02 (0.00 to 0.04) | −0.06 to 0.11",
    ]);
  });

  test("pairs", () => {
    expect(told(equalTensionPairsTable(result, "log-ratio-of-means"))).toEqual([
      "All pairs of equal tension time [equal-tension-pairs]",
      "Study | Outcome | >More | >Less | >Difference (interval) | Remarks",
      "Elm | torque of Elm | 30 s | 5 s | 1.3% (−2.4 to 5.1) | also differs in rest, sets",
      "Oak | torque of Oak | 30 s | 5 s | 1.3% (−2.4 to 5.1) | also differs in joint; follows from other pairs",
      "Fir | torque of Fir | 30 s | 5 s | 1.3% (−2.4 to 5.1) | follows from other pairs",
      "Ash | torque of Ash | 80% |  | 1.3% (−2.4 to 5.1) | ",
      "Yew | torque of Yew | 61% | 62% | 1.3% (−2.4 to 5.1) | ",
      "question,family,study,outcome,more_arm,less_arm,more,less,more_total,less_total,over,estimate,variance,low,high,averaged,also_differ",
      'hold length,strength,Elm,torque of Elm,long,short,30 s,5 s,720,705,week,0.01291622526654633,0.0009,-0.024292692569044566,0.04974209189481407,yes,"rest, sets"',
      "hold length,strength,Oak,torque of Oak,long,short,30 s,5 s,720,705,session,0.01291622526654633,0.0009,-0.024292692569044566,0.04974209189481407,no,joint",
      "hold length,strength,Fir,torque of Fir,long,short,30 s,5 s,720,705,week,0.01291622526654633,0.0009,-0.024292692569044566,0.04974209189481407,no,",
      "effort,size,Ash,torque of Ash,hard,easy,80%,,333,321,week,0.01291622526654633,0.0009,-0.024292692569044566,0.04974209189481407,yes,",
      "effort,other,Yew,torque of Yew,long,short,61%,62%,720,705,week,0.01291622526654633,0.0009,-0.024292692569044566,0.04974209189481407,yes,",
    ]);
  });
});

describe("every variable", () => {
  const scale = "log-ratio-of-means";
  const row = (name: Parameters<typeof axis>[0], others: object): VariableRow =>
    ({
      axis: axis(name),
      family: "strength",
      span: { low: 20, high: 100 },
      spanWithin: { low: 30, high: 90 },
      effects: 41,
      studies: 17,
      studiesWithin: 6,
      people: 1350,
      within: coefficientOfPercent("w", [0.6, 1.9, 3.2], [0.011, 5.4, 0.0111]),
      between: coefficientOfPercent("b", [-1.3, 1.4, 4.1], [0.022, 9.8, 0.2222]),
      difference: coefficientOfPercent("d", [-3.1, -0.4, 2.3], [0.033, 4.7, 0.3333]),
      agreement: "agree",
      spread: Math.log(1.084),
      amount: Math.log(1.05),
      verdict: { verdict: "more is favoured", reason: "the interval leaves out no difference" },
      missing: {},
      notes: [],
      ...others,
    }) as unknown as VariableRow;
  const table: VariableTable = {
    scale,
    contrast: "against-control",
    families: ["strength", "muscle size"],
    questions: 23,
    confidence: 0.9,
    rules: ["rule one", "rule two"],
    rows: [
      row("intensityPercent", {}),
      row("holdSeconds", {
        span: { low: 3, high: 45 },
        studies: 18,
        studiesWithin: 4,
        people: 990,
        within: coefficientOfPercent("w", [-2.2, -0.3, 1.6], [0.01, 3.9, 0.77]),
        between: undefined,
        difference: undefined,
        agreement: "one answer only",
        spread: undefined,
        verdict: { verdict: "unclear", reason: "the interval is wide" },
      }),
      row("muscleLength", {
        span: { low: 0, high: 1 },
        studies: 5,
        studiesWithin: 3,
        people: 88,
        within: coefficientOfPercent("w", [-6.5, -4.3, -2.1], [0.01, 4, 0.003]),
        agreement: "differ",
        verdict: { verdict: "less is favoured", reason: "r" },
      }),
      row("weeks", {
        span: { low: 12, high: 12 },
        studies: 9,
        studiesWithin: 0,
        people: 77,
        within: undefined,
        agreement: "none",
        verdict: { verdict: "unclear", reason: "r" },
        missing: { within: "all train as long" },
      }),
      row("sessionsPerWeek", {
        span: { low: 2, high: 5 },
        studies: 8,
        studiesWithin: 2,
        people: 66,
        agreement: "cannot be told apart",
        verdict: { verdict: "no difference larger than the stated amount", reason: "r" },
      }),
      row("sets", {
        span: undefined,
        spanWithin: undefined,
        within: undefined,
        between: undefined,
        difference: undefined,
        agreement: "none",
        spread: undefined,
        verdict: { verdict: "not studied", reason: "no comparison" },
        missing: { within: "sets are not coded: no slope for sets", between: "few" },
      }),
      row("muscleLength", {
        family: "muscle size",
        span: { low: 1, high: 1 },
        verdict: { verdict: "not studied", reason: "one length only" },
      }),
    ],
  };

  test("the wide table", () => {
    expect(told(variablesTable(table, "strength"))).toEqual([
      "Which variables matter: strength [variables-strength]",
      "What changes | Studied | Studies that compare it | >People | >Within studies | >Between studies | Agreement | >Spread left | Verdict",
      "10 more points of MVC | 20 to 100% of MVC | 6 of 17 | 1,350 | 1.9% (0.6 to 3.2) | 1.4% (−1.3 to 4.1) | agree | 8.4% | more is favoured",
      "10 more seconds of hold | 3 to 45 s | 4 of 18 | 990 | −0.3% (−2.2 to 1.6) † | — | one answer only |  | unclear",
      "Long instead of short muscle length | short and long | 3 of 5 | 88 | −4.3% (−6.5 to −2.1) | 1.4% (−1.3 to 4.1) | differ | 8.4% | short is favoured",
      "4 more weeks | 12 weeks | 0 of 9 | 77 | — | 1.4% (−1.3 to 4.1) |  | 8.4% | unclear",
      "One more session a week | 2 to 5 | 2 of 8 | 66 | 1.9% (0.6 to 3.2) | 1.4% (−1.3 to 4.1) | cannot be told apart | 8.4% | no difference above 5%",
      "* Changes of the effect for the step in the first column, with 90% intervals; the stated amount for strength is 5%. Studies: those that compare the variable, of all that have it.",
      "* † fewer than four degrees of freedom: the interval is not to be relied on, and the verdict asks the 99% interval.",
      "* Agreement of the answer between studies with the one within studies: agree, differ, or neither where that cannot be told. Spread left: standard deviation of the true effects that the variable does not explain.",
      "* Not studied: sets are not coded.",
    ]);
  });

  test("the same in fewer columns", () => {
    const narrow = variablesTable(table, "strength");
    expect(told({ ...narrow, columns: narrow.narrowColumns! })).toEqual([
      "Which variables matter: strength [variables-strength]",
      "Variable and step | Studied | Studies; people | >Within studies | >Between studies | Verdict",
      "Intensity, +10% of MVC | 20 to 100 | 6 of 17; 1,350 | 1.9% (0.6 to 3.2) | 1.4% (−1.3 to 4.1) agree | more is favoured",
      "Hold length, +10 s | 3 to 45 | 4 of 18; 990 | −0.3% (−2.2 to 1.6) † | — | unclear",
      "Muscle length, long for short | both | 3 of 5; 88 | −4.3% (−6.5 to −2.1) | 1.4% (−1.3 to 4.1) differ | short is favoured",
      "Weeks trained, +4 | 12 | 0 of 9; 77 | — | 1.4% (−1.3 to 4.1) | unclear",
      "Sessions a week, +1 | 2 to 5 | 2 of 8; 66 | 1.9% (0.6 to 3.2) | 1.4% (−1.3 to 4.1) | no difference above 5%",
      "* Changes of the effect for the step in the first column, with 90% intervals; the stated amount for strength is 5%. Studies: those that compare the variable, of all that have it.",
      "* † fewer than four degrees of freedom: the interval is not to be relied on, and the verdict asks the 99% interval.",
      "* Agreement of the answer between studies with the one within studies: agree, differ, or neither where that cannot be told. Spread left: standard deviation of the true effects that the variable does not explain.",
      "* Not studied: sets are not coded.",
    ]);
    expect(told(variablesTable(table, "muscle size"))).toEqual([
      "Which variables matter: muscle size [variables-muscle-size]",
      "What changes | Studied | Studies that compare it | >People | >Within studies | >Between studies | Agreement | >Spread left | Verdict",
      "* Changes of the effect for the step in the first column, with 90% intervals; the stated amount for muscle size is 5%. Studies: those that compare the variable, of all that have it.",
      "* Agreement of the answer between studies with the one within studies: agree, differ, or neither where that cannot be told. Spread left: standard deviation of the true effects that the variable does not explain.",
      "* Not studied: one length only.",
    ]);
  });

  test("on a scale that is no percentage", () => {
    const scaled = { ...table, scale: "standardised-mean-difference" as const };
    expect(told(variablesTable(scaled, "strength")).slice(2, 3)).toEqual([
      "10 more points of MVC | 20 to 100% of MVC | 6 of 17 | 1,350 | 0.02 (0.01 to 0.03) | 0.01 (−0.01 to 0.04) | agree | 0.08 | more is favoured",
    ]);
    expect(shownAmount(0.2044, "standardised-mean-difference")).toBe(
      "0.204 pooled standard deviations",
    );
    const one = { ...table, rows: [row("intensityPercent", { span: { low: 60, high: 60 } })] };
    expect(variablesTable(one, "strength").rows[0]?.["span"]).toBe("60% of MVC");
    expect(variablesTable(one, "strength").notes).toHaveLength(2);
  });

  test("the sentences and rules", () => {
    expect(variablesSentences(table)).toEqual([
      "Strength: arms of one study favour intensity (more: 1.9% (90% interval 0.6 to 3.2%) for 10 more points of MVC), muscle length (short: −4.3% (90% interval −6.5 to −2.1%) for long instead of short muscle length); no difference above 5% for sessions a week; unclear for 2 variables, 1 of them compared only between studies that differ in everything else too.",
      "Muscle size: no variable can be compared.",
    ]);
    const unclear = {
      ...table,
      families: ["strength"],
      rows: [row("intensityPercent", { verdict: { verdict: "unclear", reason: "r" } })],
    };
    expect(variablesSentences(unclear)).toEqual([
      "Strength: no variable is favoured by arms of one study; unclear for 1 variable.",
    ]);
    expect(variablesRules(table)).toEqual([
      "rule one",
      "rule two",
      "23 within-study questions are asked at once; without any true difference about 2 of them would still seem to favour a side.",
    ]);
    expect(variablesRules({ ...table, questions: 1 })[2]).toContain(
      "1 within-study question is asked",
    );
  });

  test("the data", () => {
    expect(told(variablesDataTable({ ...table, rows: table.rows.slice(0, 1) }))).toEqual([
      "Protocol variables by outcome family [variables]",
      "family | variable | label | unit | step | spanLow | spanHigh | spanWithinLow | spanWithinHigh | effects | studies | studiesWithin | people | withinEstimate | withinStandardError | withinLow | withinHigh | withinDegreesOfFreedom | withinP | betweenEstimate | betweenStandardError | betweenLow | betweenHigh | betweenDegreesOfFreedom | betweenP | differenceEstimate | differenceStandardError | differenceLow | differenceHigh | differenceDegreesOfFreedom | differenceP | agreement | spread | amount | verdict | reason | missingWithin | missingBetween",
      "strength | intensityPercent | intensity | % of MVC | 10 | 20 | 100 | 30 | 90 | 41 | 17 | 6 | 1350 | 0.01882175424058776 | 0.011 | 0.005982071677547464 | 0.03149866705937099 | 5.4 | 0.0111 | 0.01390290516899142 | 0.022 | -0.01308523954865547 | 0.040181789632831824 | 9.8 | 0.2222 | -0.004008021397538818 | 0.033 | -0.03149066709137082 | 0.02273948696948943 | 4.7 | 0.3333 | agree | 0.08065790301745454 | 0.04879016416943205 | more is favoured | the interval leaves out no difference |  | ",
      "* rule one",
      "* rule two",
      "* 23 within-study questions are asked at once; without any true difference about 2 of them would still seem to favour a side.",
    ]);
    expect(told(variablesDataTable({ ...table, rows: table.rows.slice(5, 6) }))[2]).toBe(
      "strength | sets | sets |  | 1 |  |  |  |  | 41 | 17 | 6 | 1350 |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  |  | none |  | 0.04879016416943205 | not studied | no comparison | sets are not coded: no slope for sets | few",
    );
  });
});
