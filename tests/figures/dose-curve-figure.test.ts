import { describe, expect, test } from "vitest";
import { doseResponse, type DoseCurve } from "../../src/dose/dose-response.js";
import { doseCurveFigure } from "../../src/figures/dose-curve-figure.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { doseTrials, type DoseTrialsOptions } from "../dose/dose-trials.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const answerOf = (seed: number, options: DoseTrialsOptions): DoseCurve => {
  const answer = doseResponse(doseTrials(randomStream(seed), options).set, "intensityPercent", {
    draws: 100,
    shapes: ["none", "straight line", "logarithm"],
  });
  if (answer.kind === "refusal") throw new Error(answer.reason);
  return answer;
};
const many = answerOf(5, { studies: 14, gain: (intensity) => 0.004 * intensity });

describe("dose curve", () => {
  const figure = doseCurveFigure({ family: "strength", answer: many });

  test("sound, named after family and dose, its caption says what each mark is", () => {
    expectSoundFigure(figure);
    expect(figure.id).toBe("dose-strength-intensity-percent");
    expect(figure.caption).toMatch(/Thick line: average of the shapes/);
    expect(figure.caption).toMatch(/thin grey lines join the arms of one study/);
    expect(figure.description).toMatch(/at 30% of MVC the curve says .*at 100% of MVC/);
  });

  test("every effect is a point at its dose and estimate", () => {
    expect(rowsOf(figure, "dose: effects").map(({ x, y }) => [x, y])).toEqual(
      many.points.map(({ dose, estimate }) => [dose, estimate]),
    );
  });

  test("the curve and its interval stand where the answer puts them", () => {
    const supported = many.curve.filter((point) => point.supported);
    const curve = rowsOf(figure, "dose: curve");
    expect(curve).toHaveLength(supported.length - 1);
    expect(curve[0]).toMatchObject({ x: supported[0]!.dose, y: supported[0]!.estimate });
    expect(curve.at(-1)).toMatchObject({ x2: supported.at(-1)!.dose });
    const interval = rowsOf(figure, "dose: interval");
    const whole = rowsOf(figure, "dose: whole band");
    interval.forEach(({ x, y, y2 }, i) => {
      expect(x).toBe(supported[i]!.dose);
      expect(y).toBeLessThanOrEqual(supported[i]!.estimate);
      expect(y2).toBeGreaterThanOrEqual(supported[i]!.estimate);
      // by hand: the ground that holds the whole curve holds the one at each dose
      expect(whole[i]!.y).toBeLessThanOrEqual(y + 1e-12);
      expect(whole[i]!.y2).toBeGreaterThanOrEqual(y2! - 1e-12);
    });
  });

  test("arms of a study are joined, one line fewer than its doses", () => {
    const doses = new Map<string, Set<number>>();
    for (const { study, dose } of many.points)
      doses.set(study, (doses.get(study) ?? new Set<number>()).add(dose));
    const expected = [...doses.values()].reduce((sum, { size }) => sum + size - 1, 0);
    expect(rowsOf(figure, "dose: steps inside studies")).toHaveLength(expected);
  });

  test("shapes with a twentieth of the weight or more are drawn on their own", () => {
    const drawn = many.shapeCurves.filter(({ weight }) => weight >= 0.05);
    const supported = many.curve.filter((point) => point.supported);
    expect(rowsOf(figure, "dose: single shapes")).toHaveLength(
      drawn.length * (supported.length - 1),
    );
  });

  test("the strip counts the arms at each dose", () => {
    expect(rowsOf(figure, "support: arms")[0]?.text).toMatch(/^tallest bar: \d+ arms$|^each bar/);
  });
});

test("ground that no comparison reaches is hatched and the curve broken there", () => {
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
  const hatched = rowsOf(figure, "dose: hatching");
  expect(hatched.length).toBeGreaterThan(5);
  for (const { x, x2 } of hatched) expect(Math.min(x, x2!)).toBeGreaterThanOrEqual(70 - 1e-9);
  const beyond = rowsOf(figure, "dose: curve beyond the comparisons");
  expect(beyond.at(-1)?.x2).toBe(95);
  expect(figure.caption).toMatch(/Hatched: no comparison behind the curve reaches there/);
});

test("few studies, a long name, two doses, and doses between studies only", () => {
  const long = "An absurdly long outcome (N·m per kg), with — everything; and more of it ".repeat(
    3,
  );
  const few = answerOf(3, { studies: 5, arms: [2, 2], readings: 1 });
  expectSoundFigure(doseCurveFigure({ family: long, answer: few }));
  expectSoundFigure(
    doseCurveFigure({ family: "size", answer: answerOf(4, { intensities: [40, 80] }) }),
  );
  const between = doseCurveFigure({
    family: "size",
    answer: answerOf(4, { studies: 14, sameWithin: true }),
  });
  expectSoundFigure(between);
  expect(between.caption).toMatch(/^.*Broken line: average|rests on differences between/);
  expect(rowsOf(between, "dose: steps inside studies")).toEqual([]);
});

test("muscle length stands as short and long", () => {
  const { set } = doseTrials(randomStream(8), { studies: 6, arms: [2, 2], readings: 1 });
  const effects = set.effects.map((effect, i) => ({
    ...effect,
    row: { ...effect.row, muscleLength: i % 2 === 0 ? ("short" as const) : ("long" as const) },
  }));
  const answer = doseResponse({ ...set, effects }, "muscleLength", { draws: 50 });
  if (answer.kind === "refusal") throw new Error(answer.reason);
  const figure = doseCurveFigure({ family: "strength", answer });
  expectSoundFigure(figure);
  expect(rowsOf(figure, "support: doses").map(({ text }) => text)).toEqual([
    "short length",
    "long length",
  ]);
});
