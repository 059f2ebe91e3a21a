import { describe, expect, test } from "vitest";
import type { DoseAxisName } from "../../src/dose/dose-axes.js";
import type { DoseCurve } from "../../src/dose/dose-response.js";
import { doseCurveText } from "../../src/tables/dose-curve-text.js";
import {
  doseAnswer,
  doseReadOffsTable,
  doseSentences,
  doseShapesTable,
  doseSlopesTable,
  withStep,
} from "../../src/tables/dose-table.js";
import { axis, madeUpCurve, madeUpNoCurve } from "./made-up-doses.js";
import { told } from "./told.js";

/** Kind of evidence: made-up inputs in which no two numbers agree; each printed one was traced by hand. */

test("a step of another length is told in the words of its axis", () => {
  const words = (name: DoseAxisName, step: number | undefined) => {
    const { step: length, stepWords } = withStep(axis(name), step);
    return `${length}: ${stepWords}`;
  };
  expect(words("holdSeconds", undefined)).toBe("10: 10 more seconds of hold");
  expect(words("holdSeconds", 15)).toBe("15: 15 more seconds of hold");
  expect(words("holdSeconds", 1)).toBe("1: one more second of hold");
  expect(words("holdSeconds", 2.5)).toBe("2.5: 2.5 more seconds of hold");
  expect(words("sessionsPerWeek", 2)).toBe("2: 2 more sessions a week");
  expect(words("weeks", 1)).toBe("1: one more week");
  expect(words("torqueTimePerSession", 2500)).toBe("2500: 2,500 more %MVC·s in a session");
  expect(words("angleDistanceDegrees", 20)).toBe("20: 20 degrees further from the training angle");
  expect(words("muscleLength", 3)).toBe("1: long length instead of short length");
});

describe("one dose", () => {
  const { readOffs } = madeUpCurve;

  const spans =
    "35 to 85% of MVC: 4.9% (95% interval 1.1 to 8.7%); 40 to 50% of MVC: 1.7% (0.8 to 2.6); 70 to 80% of MVC: 0.6% (−0.2 to 1.4)";

  test("its answer is read off the curve, over the whole span and at its ends", () => {
    expect(doseAnswer(madeUpCurve)).toBe(
      `Worth testing: more intensity. Read off the curve, ${spans}. Whether it is favoured is asked among all questions of the table of variables. The curve is highest at 85% of MVC, the highest dose compared.`,
    );
    expect(doseAnswer(madeUpNoCurve)).toBe("No answer: two studies are too few.");
    const onlyBetween = {
      ...madeUpCurve,
      evidence: "between studies only",
      verdict: { verdict: "cannot be told", reason: "r" },
      slopes: { ...madeUpCurve.slopes, within: madeUpNoCurve.slopes.within },
    } as unknown as DoseCurve;
    expect(doseAnswer(onlyBetween)).toBe(
      `Cannot be told. Read off the curve, ${spans}, from studies that differ in much else besides, so this is no more than a hint. There is no curve from arms of the same study: one study compares. The curve is highest at 85% of MVC, the highest dose compared.`,
    );
    const neither = {
      ...madeUpCurve,
      readOffs: { ...readOffs, best: { ...readOffs.best, atEnd: "neither" }, steps: [] },
    } as unknown as DoseCurve;
    expect(doseAnswer(neither)).toContain(
      "Read off the curve, 35 to 85% of MVC: 4.9% (95% interval 1.1 to 8.7%). ",
    );
    expect(doseAnswer(neither)).toMatch(/The curve is highest at 85% of MVC\.$/);
    const level = {
      ...madeUpCurve,
      readOffs: { ...readOffs, notDistinguishable: [{ low: 35, high: 85 }] },
    };
    expect(doseAnswer(level)).toContain(
      "No dose between 35 and 85% of MVC can be told from the best one.",
    );
  });

  test("an interval that is not to be relied on does not lead", () => {
    const added = { ...readOffs.whole.added, degreesOfFreedom: 3.9 };
    const few = { ...madeUpCurve, readOffs: { ...readOffs, whole: { ...readOffs.whole, added } } };
    expect(doseSentences(few)[0]).toBe(
      "Worth testing: more intensity; the curve rests on 3.9 degrees of freedom, too few for an interval to rely on.",
    );
  });

  test("every verdict in its words, and what is one contrast with the dose in this file", () => {
    const first = (others: object): string =>
      doseSentences({ ...madeUpCurve, ...others })[0]!.split(". Read")[0]!;
    const verdict = (name: string, more: object = {}) => ({
      verdict: { verdict: name, side: "less", reason: "r", ...more },
    });
    expect(first(verdict("no difference that counts"))).toBe(
      "No difference that counts, from 35 to 85% of MVC (6 studies)",
    );
    const { support } = madeUpCurve;
    expect(
      first({
        ...verdict("no difference that counts"),
        support: { ...support, linked: { ...support.linked, endsCompared: false } },
      }),
    ).toBe(
      "No difference that counts, from 35 to 85% of MVC (6 studies; none compared both ends, so they rest on the curve's shape)",
    );
    expect(first(verdict("a difference, smaller than counts"))).toBe(
      "A difference, smaller than counts: less intensity",
    );
    expect(
      first(
        verdict("cannot be separated", {
          reason: "cannot be separated from hold length (r −0.96 inside 12 studies)",
        }),
      ),
    ).toBe("Cannot be separated from hold length (r −0.96 inside 12 studies)");
    expect(first({ verdict: undefined })).toBe("Cannot be told");
    const withIt = [axis("torqueTimePerSession"), axis("tensionTimePerSessionSeconds")];
    expect(doseAnswer({ ...madeUpCurve, standing: { withIt } })).toContain(
      "In this file it is one contrast with torque–time in a session, tension time in a session.",
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
