/** The dose curve on its last yard: marks of the finished drawing, read against the labels of its own axes. */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { doseResponse, type DoseCurve } from "../../src/dose/dose-response.js";
import { doseCurveFigure, type DoseCurveInput } from "../../src/figures/dose-curve-figure.js";
import { figuresAt, type NamedFigure } from "../../src/figures/figure-list.js";
import { figureSizes, framed, roomOf } from "../../src/figures/frame.js";
import { figureTheme } from "../../src/figures/theme.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { shippedEvidence } from "../answers/evidence-under-test.js";
import { doseTrials } from "../dose/dose-trials.js";
import { madeUpCurve } from "../tables/made-up-doses.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";
import { marksIn, pointsOf, readersOf } from "./read-plot.js";

const light = figureTheme.modes.light;
const log = (percent: number): number => Math.log1p(percent / 100);
const point = (study: string, arm: string, dose: number, percent: number) => ({
  effectId: `${arm} ${dose} ${percent}`,
  study,
  arm,
  dose,
  estimate: log(percent),
  standardError: 0.02,
  isMidpoint: false,
});

describe("made up so that no two numbers agree", () => {
  const input: DoseCurveInput = {
    family: "strength",
    answer: {
      ...madeUpCurve,
      points: [
        point("Ash", "a", 35, 3.3),
        point("Ash", "b", 85, 8.7),
        // Two effects of one arm are one mark, at their mean on the scale of the analysis.
        point("Birch", "d", 60, 5.1),
        point("Birch", "d", 60, 6.9),
        point("Cedar", "e", 50, 7.7),
      ],
      shapeCurves: [
        { shape: "plateau", weight: 0.516, heights: [4.1, 6.6, 7.6, 9.3].map(log) },
        { shape: "no effect", weight: 0.04, heights: [7, 7, 7, 7].map(log) },
      ],
    } as unknown as DoseCurve,
    borrowed: ["e 50 7.7"],
    unweighted: [{ study: "Dogwood", arm: "z", dose: 92, estimate: log(2.2) }],
  };

  test.each(figureSizes)(
    "%s: arms stand at their doses and gains, filled by their spread",
    async (size) => {
      const figure = framed(doseCurveFigure(input, roomOf(size)), { size });
      expectSoundFigure(figure);
      const svg = await drawSvg(figure);
      const { x, y } = readersOf(svg);
      const arms = marksIn(svg, "dose__arms_marks").map((one) => [x(one.x), y(one.y), one.fill]);
      // by hand: √(1.051 · 1.069) = 1.05996
      const expected = [
        [35, 3.3, light.mark],
        [85, 8.7, light.mark],
        [60, 5.996, light.mark],
        [50, 7.7, light.background],
        [92, 2.2, light.background],
      ] as const;
      expect(arms).toHaveLength(expected.length);
      expected.forEach(([dose, gain, fill], at) => {
        expect(arms[at]![0]).toBeCloseTo(dose, 1);
        expect(Math.abs(Number(arms[at]![1]) - gain)).toBeLessThan(0.15);
        expect(arms[at]![2]).toBe(fill);
      });
      // One interval, of the borrowed spread: 7.7% ± 1.96 · 0.02 on the log scale, by hand 3.56 to 12.01.
      const [interval, ...more] = marksIn(svg, "dose__intervals_of_single_effects_marks");
      expect(more).toEqual([]);
      expect(x(interval!.x)).toBeCloseTo(50, 1);
      expect(svg).toContain("no spread, not weighted");
      expect(svg).toContain(
        ">Strength: more intensity is worth testing, from 35 to 85% of MVC</text>".slice(0, 24),
      );
    },
  );

  test("edges are outlined in the computed colour, whole lines and broken ones, and the rest is dotted", async () => {
    const svg = await drawSvg(framed(doseCurveFigure(input)));
    const { x, y } = readersOf(svg);
    const lines = marksIn(svg, "dose__lines_marks").map((one) => {
      const ends = pointsOf(one);
      return [
        one.stroke,
        one.width,
        one.dash,
        x(ends[0]!.x),
        y(ends[0]!.y),
        x(ends.at(-1)!.x),
        y(ends.at(-1)!.y),
      ] as const;
    });
    const at = (width: number, dash: string) =>
      lines.filter((one) => one[1] === width && one[2] === dash);
    expect(lines.every(([stroke]) => stroke === light.pooled)).toBe(true);
    expect(at(2.4, "1,0")).toHaveLength(1);
    const [, , , from, low, to, high] = at(2.4, "1,0")[0]!;
    expect([from, to].map(Math.round)).toEqual([35, 85]);
    expect(Math.abs(low - 4.4)).toBeLessThan(0.15);
    expect(Math.abs(high - 9.1)).toBeLessThan(0.15);
    expect(at(1.1, "1,0")).toHaveLength(2);
    expect(at(1.1, "5,3")).toHaveLength(2);
    expect(at(1.8, "2,4").map((one) => [one[3], one[5]].map(Math.round))).toEqual([
      [25, 35],
      [85, 95],
    ]);
    // The shape with a weight of 4% is not drawn.
    expect(at(0.7, "1,0")).toHaveLength(1);
    expect(marksIn(svg, "dose__names_of_lines_marks").map(({ text }) => text)).toContain(
      "plateau 52%",
    );
  });

  test("scales, axes and legends are encodings of fields, with no place laid by hand", () => {
    const text = JSON.stringify(doseCurveFigure(input).specification);
    expect(text).toContain('"axis":{"title":"Intensity, % of MVC"');
    expect(text).toContain('"axis":{"title":"Change, %"');
    expect(text).toContain('"legend":{"title":null,"orient":"top"');
    expect(text).not.toContain('"axis":null');
  });
});

const shipped = async (on: string) =>
  (await ask("dose", { on }, shippedEvidence("demo-register.csv"))).figures.filter(
    ({ name }) => name === "dose-curve",
  );

test("low doses that crowd stand on an axis of square roots, the curve without corners", async () => {
  const [strength] = await shipped("holdSeconds");
  const [figure] = figuresAt("page")(strength!);
  const svg = await drawSvg(figure!);
  const { x } = readersOf(svg, Math.sqrt);
  const doses = new Set(
    marksIn(svg, "dose__arms_marks").map((one) => Math.round(x(one.x) ** 2 * 10) / 10),
  );
  expect([...doses].sort((a, b) => a - b)).toEqual([1, 2, 3, 4, 5, 6, 8, 15, 20, 30, 40]);
  const curve = marksIn(svg, "dose__lines_marks").find(({ width }) => width === 2.4)!;
  const points = pointsOf(curve);
  // No piece is longer than a hundredth of the axis.
  expect(Math.max(...points.slice(1).map((one, i) => one.x - points[i]!.x))).toBeLessThan(8);
});

test("no edge of a band jumps or turns at once at a dose that was studied", async () => {
  for (const on of ["intensityPercent", "holdSeconds"])
    for (const named of await shipped(on)) {
      const { answer } = named.data as DoseCurveInput;
      for (const key of ["interval", "simultaneous"] as const)
        for (const side of ["low", "high"] as const) {
          const inside = answer.curve.filter(({ supported }) => supported);
          const turns = inside.slice(1, -1).map((one, i) => {
            const [before, after] = [inside[i]!, inside[i + 2]!];
            const slope = (a: typeof one, b: typeof one) =>
              (b[key][side] - a[key][side]) / (b.dose - a.dose);
            return Math.abs(slope(one, after) - slope(before, one)) * (after.dose - before.dose);
          });
          // Measured before degrees of freedom and a corner's place were smoothed: 0.014 for size at 75% of MVC,
          // 0.030 for tendon at 68%, 0.133 for strength at 3 s; since then 0.0004, 0.0035 and 0.0136.
          expect(Math.max(...turns), `${named.data.id} ${key} ${side}`).toBeLessThan(
            on === "holdSeconds" ? 0.015 : 0.004,
          );
        }
    }
});

test("names of lines stand at the end of a curve that ends well before the axis, not beside a lone point", async () => {
  const { figures } = await ask(
    "dose",
    { on: "holdSeconds", outcome: "strength" },
    shippedEvidence("published-outcomes.csv"),
  );
  for (const size of ["page", "slide"] as const) {
    const svg = await drawSvg(figuresAt(size)(figures[0] as NamedFigure)[0]!);
    const ends = marksIn(svg, "dose__lines_marks").flatMap((line) =>
      pointsOf(line).map(({ x }) => x),
    );
    const points = marksIn(svg, "dose__arms_marks").map(({ x }) => x);
    const [end, furthest] = [Math.max(...ends), Math.max(...points)];
    expect(furthest - end).toBeGreaterThan(100);
    const names = [
      ...marksIn(svg, "dose__name_of_the_curve_marks"),
      ...marksIn(svg, "dose__names_of_lines_marks"),
    ];
    expect(names.map(({ text }) => text)).toContain("average");
    for (const { x } of names) {
      expect(x - end).toBeGreaterThan(5);
      expect(x - end).toBeLessThan(15);
    }
  }
});

test("where a band runs out of the drawing stands a triangle, and nothing is drawn outside", async () => {
  const tendon = (await shipped("intensityPercent")).at(-1)!;
  const svg = await drawSvg(figuresAt("page")(tendon)[0]!);
  expect(marksIn(svg, "dose__runs_on_above_marks")).toHaveLength(1);
  expect(marksIn(svg, "dose__runs_on_below_marks")).toHaveLength(1);
  expect(svg).toContain("Triangle: the band runs out");
});

test("ground that no comparison reaches is grey and the curve dotted there", () => {
  const { set } = doseTrials(randomStream(6), { studies: 16, arms: [2, 3], readings: 1 });
  const effects = set.effects.map((effect) => {
    const study = Number(effect.study.split(" ")[1]);
    const intensityPercent = study > 10 ? 95 : Math.min(70, effect.row.intensityPercent!);
    return { ...effect, row: { ...effect.row, intensityPercent } };
  });
  const answer = doseResponse({ ...set, effects }, "intensityPercent", { draws: 50 });
  if (answer.kind === "refusal") throw new Error(answer.reason);
  expect(answer.range.high).toBe(70);
  const figure = doseCurveFigure({ family: "strength", answer });
  expectSoundFigure(figure);
  expect(rowsOf(figure, "dose: beyond what was compared")).toEqual([{ x: 70, x2: 95 }]);
  expect(figure.caption).toMatch(
    /Grey ground, dotted: no comparison behind the curve reaches there/,
  );
});

test("few studies, a long name, and doses between studies only", () => {
  const answerOf = (seed: number, options: Parameters<typeof doseTrials>[1]): DoseCurve => {
    const answer = doseResponse(doseTrials(randomStream(seed), options).set, "intensityPercent", {
      draws: 100,
      shapes: ["none", "straight line", "logarithm"],
    });
    if (answer.kind === "refusal") throw new Error(answer.reason);
    return answer;
  };
  const long = "An absurdly long outcome (N·m per kg), with — everything; and more of it ".repeat(
    3,
  );
  expectSoundFigure(
    doseCurveFigure({
      family: long,
      answer: answerOf(3, { studies: 5, arms: [2, 2], readings: 1 }),
    }),
  );
  const between = doseCurveFigure({
    family: "size",
    answer: answerOf(4, { studies: 14, sameWithin: true }),
  });
  expectSoundFigure(between);
  expect(JSON.stringify(between.specification)).toContain("rests on differences between");
  expect(JSON.stringify(between.specification)).not.toContain("arms of one study");
});

test("muscle length stands as short and long", async () => {
  const [strength] = await shipped("muscleLength");
  const svg = await drawSvg(figuresAt("column")(strength!)[0]!);
  const labels = marksIn(svg, "mark-text role-axis-label").map(({ text }) => text);
  expect(labels).toContain("short length");
  expect(labels).toContain("long length");
});
