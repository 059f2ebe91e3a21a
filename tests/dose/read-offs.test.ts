/** Hand arithmetic on curves whose every number is set here. */
import { describe, expect, test } from "vitest";
import {
  curveStep,
  evaluateCurve,
  type AveragedCurve,
  type CurveComponent,
} from "../../src/dose/averaged-curve.js";
import { curveDraws, simultaneousMultiple } from "../../src/dose/curve-draws.js";
import { readOffs } from "../../src/dose/read-offs.js";
import { shapeContext, type ShapeName } from "../../src/dose/shapes/shape.js";
import { normalQuantile } from "../../src/numeric/normal.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { mean } from "simple-statistics";

const doses = Array.from({ length: 101 }, (_, i) => i);
const context = shapeContext(doses.filter((dose) => dose % 10 === 0));

/** A component with given coefficients and a diagonal covariance, hardly limited degrees of freedom. */
const component = (
  shape: ShapeName,
  coefficients: readonly number[],
  variances: readonly number[],
  more: Partial<CurveComponent> = {},
): CurveComponent => ({
  shape,
  weight: 1,
  coefficients,
  centres: coefficients.slice(1).map(() => 0),
  covariance: variances.flatMap((value, i) => variances.map((_, j) => (i === j ? value : 0))),
  heightFreedom: [{ dose: 0, degreesOfFreedom: 1e9 }],
  stepFreedom: 1e9,
  ...more,
});
const curveOf = (...components: readonly CurveComponent[]): AveragedCurve => ({
  context,
  confidence: 0.95,
  components,
});
const read = (curve: AveragedCurve, from: readonly number[] = [10]) =>
  readOffs(curve, curveDraws(curve, doses, 2000, randomStream(1)), {
    step: 10,
    from,
    span: { low: doses[0]!, high: doses.at(-1)! },
  });

describe("heights, steps and errors", () => {
  // unit is 100: height = 0.1 + 0.2 × dose/100
  const line = component("straight line", [0.1, 0.2], [0.0004, 0.0025]);

  test("gain at a dose and what ten more units add", () => {
    const at50 = evaluateCurve(curveOf(line), 50);
    expect(at50.estimate).toBeCloseTo(0.2, 12);
    // variance 0.0004 + 0.25 × 0.0025
    expect(at50.standardError).toBeCloseTo(Math.sqrt(0.001025), 12);
    expect(at50.interval.high).toBeCloseTo(0.2 + normalQuantile(0.975) * Math.sqrt(0.001025), 6);
    const step = curveStep(curveOf(line), 20, 30);
    expect(step.estimate).toBeCloseTo(0.02, 12);
    expect(step.standardError).toBeCloseTo(0.1 * 0.05, 12);
    expect(read(curveOf(line)).steps[0]).toMatchObject({ from: 10, to: 20, step: 10 });
  });

  test("two shapes: the average, and an error that holds the choice between them", () => {
    const level = component("none", [0.3], [0.0009]);
    const both = curveOf({ ...line, weight: 0.25 }, { ...level, weight: 0.75 });
    const at100 = evaluateCurve(both, 100);
    // 0.25 × 0.3 + 0.75 × 0.3; the two agree there
    expect(at100.estimate).toBeCloseTo(0.3, 12);
    expect(at100.standardError).toBeCloseTo(0.25 * Math.sqrt(0.0029) + 0.75 * 0.03, 12);
    const at0 = evaluateCurve(both, 0);
    // 0.25 × 0.1 + 0.75 × 0.3 = 0.25; deviations −0.15 and 0.05 (Buckland 1997, equation 9)
    expect(at0.estimate).toBeCloseTo(0.25, 12);
    expect(at0.standardError).toBeCloseTo(
      0.25 * Math.sqrt(0.0004 + 0.15 ** 2) + 0.75 * Math.sqrt(0.0009 + 0.05 ** 2),
      12,
    );
  });

  test("drawn curves have the mean and the deviation of the curve", () => {
    const { curves } = curveDraws(curveOf(line), [0, 50, 100], 4000, randomStream(3));
    [0, 50, 100].forEach((dose, i) => {
      const { estimate, standardError } = evaluateCurve(curveOf(line), dose);
      const heights = curves.map((curve) => curve[i]!);
      expect(Math.abs(mean(heights) - estimate)).toBeLessThan(
        (4 * standardError) / Math.sqrt(4000),
      );
      const spread = Math.sqrt(mean(heights.map((height) => (height - estimate) ** 2)));
      expect(Math.abs(spread / standardError - 1)).toBeLessThan(4 / Math.sqrt(8000));
    });
  });

  test("simultaneous multiple: the pointwise one for a level, near Scheffé's bound for a free line", () => {
    const level = curveOf(component("none", [0.3], [0.0009]));
    const draws = (curve: AveragedCurve) => curveDraws(curve, doses, 4000, randomStream(8));
    expect(Math.abs(simultaneousMultiple(level, draws(level), 0.95) - 1.96)).toBeLessThan(0.08);
    const free = curveOf(component("straight line", [0.1, 0.2], [0.0004, 0.0025]));
    const multiple = simultaneousMultiple(free, draws(free), 0.95);
    expect(multiple).toBeGreaterThan(1.96);
    // √χ²(0.95; 2) = 2.448, plus the draws' own error
    expect(multiple).toBeLessThan(2.448 + 0.06);
  });
});

describe("best dose and what comes near it", () => {
  const none = (count: number): readonly number[] => new Array<number>(count).fill(1e-12);

  test("straight line: best at the highest dose, nine tenths of it by proportion", () => {
    const answer = read(curveOf(component("straight line", [0, 0.5], none(2))));
    expect(answer.best).toMatchObject({ kind: "told", dose: 100, atEnd: "highest" });
    const { ninetyPercent } = answer;
    expect(ninetyPercent.kind === "told" && ninetyPercent.dose).toBeCloseTo(90, 6);
    expect(answer.notDistinguishable).toEqual([{ low: 100, high: 100 }]);
  });

  test("saturating hyperbola: nine tenths of the best inside the range, not of the ceiling", () => {
    const answer = read(
      curveOf(component("saturating hyperbola", [0, 0.4], none(2), { parameter: 20 })),
    );
    // best at 100: 100/120 = 5/6; nine tenths 3/4 = x/(20 + x) → x = 60
    const { ninetyPercent } = answer;
    expect(ninetyPercent.kind === "told" && ninetyPercent.dose).toBeCloseTo(60, 2);
  });

  test("peak: the best dose is its parameter", () => {
    const answer = read(curveOf(component("peak", [0, 0.3], none(2), { parameter: 40 })));
    expect(answer.best).toMatchObject({ kind: "told", dose: 40, atEnd: "neither" });
  });

  test("plateau: every dose from its start on is as good as the best", () => {
    const answer = read(curveOf(component("plateau", [0, 0.5], [1e-10, 1e-8], { parameter: 60 })));
    expect(answer.notDistinguishable).toHaveLength(1);
    expect(answer.notDistinguishable[0]!.high).toBe(100);
    expect(answer.notDistinguishable[0]!.low).toBe(60);
  });

  test("an uncertain slope: the doses whose difference from the best may be nothing are all of them", () => {
    const answer = read(curveOf(component("straight line", [0.1, 0.02], [0.0001, 0.01])));
    expect(answer.notDistinguishable).toEqual([{ low: 0, high: 100 }]);
    expect(answer.best.kind === "told" && answer.best.interval).toEqual({ low: 0, high: 100 });
  });

  test("level curve, and curve below zero: refusals in words", () => {
    const level = read(curveOf(component("none", [0.2], [0.0001])));
    expect(level.best.kind === "told" ? "" : level.best.reason).toMatch(/no dose is better/);
    expect(level.notDistinguishable).toEqual([{ low: 0, high: 100 }]);
    const below = read(curveOf(component("straight line", [-0.5, 0.1], none(2))));
    expect(below.ninetyPercent.kind === "told" ? "" : below.ninetyPercent.reason).toMatch(
      /no gain above zero/,
    );
  });
});
