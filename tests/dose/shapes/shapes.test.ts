import { describe, expect, test } from "vitest";
import { restrictedCubicSplineBasis } from "../../../src/dose/shapes/restricted-cubic-spline.js";
import { shapeContext, shapeNames } from "../../../src/dose/shapes/shape.js";
import { shapes, usualShapes } from "../../../src/dose/shapes/shapes.js";
import { expectRelative } from "../../effects/agreement.js";

const context = shapeContext([20, 40, 60, 80, 100]);
const first = (name: keyof typeof shapes, dose: number, parameter = 0): number =>
  shapes[name].basis(dose, context, parameter)[0]!;

describe("restricted cubic spline", () => {
  test("Harrell's formula by hand: knots 0, 2, 4", () => {
    // x = 3: [3³ − (3 − 2)³ (4 − 0)/(4 − 2) + 0] / 4² = (27 − 2)/16
    expect(restrictedCubicSplineBasis(3, [0, 2, 4])).toEqual([3, 25 / 16]);
    // x = 6: [6³ − 4³ × 2 + 2³ × (2 − 0)/(4 − 2)] / 16 = (216 − 128 + 8)/16
    expect(restrictedCubicSplineBasis(6, [0, 2, 4])).toEqual([6, 6]);
    expect(restrictedCubicSplineBasis(-1, [0, 2, 4])).toEqual([-1, 0]);
  });

  test("straight beyond the outer knots, smooth to the second derivative at every knot", () => {
    const knots = [1, 3, 4, 7];
    const column = (x: number, k: number): number => restrictedCubicSplineBasis(x, knots)[k]!;
    const second = (x: number, k: number, h = 1e-3): number =>
      (column(x - h, k) - 2 * column(x, k) + column(x + h, k)) / h ** 2;
    for (const k of [1, 2]) {
      for (const x of [-5, 0.5, 7.5, 20]) expect(Math.abs(second(x, k))).toBeLessThan(1e-6);
      for (const knot of knots) {
        expect(Math.abs(second(knot - 0.01, k) - second(knot + 0.01, k))).toBeLessThan(0.02);
      }
    }
  });
});

describe("shapes", () => {
  test("every name has its shape, under that name, and the usual ones are among them", () => {
    expect(Object.keys(shapes)).toEqual([...shapeNames]);
    for (const name of shapeNames) expect(shapes[name].name).toBe(name);
    for (const name of usualShapes) expect(shapeNames).toContain(name);
  });

  test("every shape makes as many finite columns as it says, at and beyond the ends", () => {
    for (const name of shapeNames) {
      const shape: (typeof shapes)[keyof typeof shapes] = shapes[name];
      const candidates = "parameter" in shape ? shape.parameter.candidates(context) : [0];
      for (const parameter of candidates) {
        for (const dose of [0, 20, 57, 100, 140]) {
          const columns = shape.basis(dose, context, parameter);
          expect(columns).toHaveLength(shape.columns(context));
          for (const value of columns) expect(Number.isFinite(value)).toBe(true);
        }
      }
    }
  });

  test("what each name promises", () => {
    // straight line: equal steps; logarithm: equal doublings; square root: four times the dose, twice the height
    expectRelative(
      first("straight line", 80) - first("straight line", 60),
      first("straight line", 40) - first("straight line", 20),
      1e-12,
    );
    expectRelative(
      first("logarithm", 80) - first("logarithm", 40),
      first("logarithm", 40) - first("logarithm", 20),
      1e-12,
    );
    expectRelative(first("square root", 80), 2 * first("square root", 20), 1e-12);
    // hyperbola: half of its ceiling of one at its parameter, nine tenths at nine times that
    expect(first("saturating hyperbola", 30, 30)).toBe(0.5);
    expectRelative(first("saturating hyperbola", 90, 10), 0.9, 1e-12);
    expect(first("saturating hyperbola", 0, 10)).toBe(0);
    // plateau: rises in proportion, then not at all
    expectRelative(first("plateau", 40, 60), 2 * first("plateau", 20, 60), 1e-12);
    expect(first("plateau", 100, 60)).toBe(first("plateau", 60, 60));
    // peak: one at its parameter, less on both sides
    expect(first("peak", 50, 50)).toBe(1);
    expect(first("peak", 40, 50)).toBeLessThan(1);
    expect(first("peak", 60, 50)).toBeLessThan(1);
  });
});

describe("context of the doses", () => {
  test("knots at Harrell's percentiles: 10, 50, 90% of few doses, 5, 35, 65, 95% of many", () => {
    // hand: percentiles between order statistics of 0 … 10 and of 0 … 100
    const doses = (count: number): number[] => Array.from({ length: count + 1 }, (_, i) => i);
    const few = shapeContext([0, 10, 20, 30, 40].map((dose) => dose + 1));
    expect(few.knots).toEqual([5, 21, 37]);
    shapeContext(doses(100)).knots.forEach((knot, i) =>
      expect(knot).toBeCloseTo([5, 35, 65, 95][i]!, 10),
    );
  });

  test("doses from zero are shifted by their smallest gap", () => {
    expect(shapeContext([0, 5, 20]).shift).toBe(5);
    expect(shapeContext([-4, -2, 6]).shift).toBe(6);
    expect(shapeContext([3, 5]).shift).toBe(0);
  });

  test("given knots must ascend", () => {
    expect(shapeContext([1, 2, 3], [1, 2, 2.5]).knots).toEqual([1, 2, 2.5]);
    expect(() => shapeContext([1, 2, 3], [1, 3, 2])).toThrow(/ascending order, got 1, 3, 2/);
    expect(() => shapeContext([1, 2, 3], [1, 2])).toThrow(/three or more knots/);
  });
});
