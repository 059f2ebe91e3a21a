import { describe, expect, test } from "vitest";
import type { EqualTension } from "../../src/dose/equal-tension.js";
import type { JointAngle } from "../../src/dose/joint-angle.js";
import { equalTensionPairsTable, equalTensionTable } from "../../src/tables/equal-tension-table.js";
import { jointAngleTable } from "../../src/tables/joint-angle-table.js";
import { coefficientOfPercent } from "./all-different.js";
import { told } from "./told.js";

/** Kind of evidence: made-up inputs in which no two numbers agree; each printed one was traced by hand. */

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
    leastIntensityPoints: 11,
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
        question: "intensity",
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
        question: "intensity",
        family: "tendon",
        studies: 0,
        pairs: [],
        headline: { of: "all pairs", answer: { kind: "refusal", code: "x", reason: "no pair" } },
      },
      {
        question: "intensity",
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
      "intensity,size,Ash,torque of Ash,hard,easy,80%,,333,321,week,0.01291622526654633,0.0009,-0.024292692569044566,0.04974209189481407,yes,",
      "intensity,other,Yew,torque of Yew,long,short,61%,62%,720,705,week,0.01291622526654633,0.0009,-0.024292692569044566,0.04974209189481407,yes,",
    ]);
  });
});
