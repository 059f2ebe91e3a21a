/** Kinds of evidence: base R's own arithmetic for every pair of doses; a bend that equal ends would hide, by hand. */
import { describe, expect, test } from "vitest";
import type { AveragedCurve, CurveComponent } from "../../src/dose/averaged-curve.js";
import { gridDoses } from "../../src/dose/curve-grid.js";
import { everyPairInside } from "../../src/dose/every-pair-inside.js";
import { shapeContext } from "../../src/dose/shapes/shape.js";
import { asR, baseR } from "../base-r.js";

const { numbers } = baseR();
const span = { low: 4, high: 20 };
const context = shapeContext([4, 8, 20]);

/** A shape with a level and columns whose errors are independent of each other. */
const component = (
  shape: CurveComponent["shape"],
  weight: number,
  slopes: readonly number[],
  errors: readonly number[],
  stepFreedom: number,
): CurveComponent => ({
  shape,
  weight,
  coefficients: [0.1, ...slopes],
  centres: slopes.map(() => 0),
  covariance: [0.02, ...errors].flatMap((error, i, all) =>
    all.map((_, j) => (i === j ? error ** 2 : 0)),
  ),
  heightFreedom: [{ dose: 4, degreesOfFreedom: 9 }],
  stepFreedom,
});

/** A line of 0.004 over the whole span, and a logarithm of 0.01 ln(dose). */
const curve: AveragedCurve = {
  context,
  confidence: 0.95,
  components: [
    component("straight line", 0.6, [0.005], [0.012], 6.5),
    component("logarithm", 0.4, [0.01], [0.008], 4.2),
  ],
};

describe("every pair of doses", () => {
  test("base R finds the same widest interval", async () => {
    const doses = gridDoses(span).filter((_, place) => place % 3 === 0);
    expect([doses[0], doses.at(-1)]).toEqual([4, 20]);
    // The columns are divided by the highest dose; the logarithm is the natural one of that.
    const [widest] = await numbers(
      `x <- ${asR(doses)}; w <- c(0.6, 0.4); nu <- sum(w * c(6.5, 4.2))
       pairs <- combn(length(x), 2)
       reach <- apply(pairs, 2, function(ij) {
         f <- c(x[ij[2]] / 20 - x[ij[1]] / 20, log(x[ij[2]] / 20) - log(x[ij[1]] / 20))
         y <- c(0.005, 0.01) * f
         mean <- sum(w * y)
         se <- sum(w * sqrt((c(0.012, 0.008) * f)^2 + (y - mean)^2))
         abs(mean) + qt(0.95, nu) * se
       })
       max(reach)`,
    );
    expect(everyPairInside(curve, span, widest! * 1.0001)).toBe(true);
    expect(everyPairInside(curve, span, widest! * 0.9999)).toBe(false);
  });

  test("a gain that rises and falls again is no even one, though its ends are", () => {
    // Quadratic in dose/20: 0.5 (x − x²) + …, highest at x = 0.6 where it is 0.08 above both ends (x = 0.2 and 1).
    const bent: AveragedCurve = {
      ...curve,
      components: [component("quadratic", 1, [0.6, -0.5], [1e-6, 1e-6], 20)],
    };
    // 0.6 × 0.2 − 0.5 × 0.04 = 0.1 = 0.6 − 0.5; at 0.6: 0.36 − 0.18 = 0.18
    expect(everyPairInside(bent, span, 0.0801)).toBe(true);
    expect(everyPairInside(bent, span, 0.0799)).toBe(false);
    const ends: AveragedCurve = {
      ...bent,
      components: [component("straight line", 1, [0], [1e-6], 20)],
    };
    expect(everyPairInside(ends, span, 0.001)).toBe(true);
  });

  test("a curve of no slope alone says nothing", () => {
    expect(
      everyPairInside({ ...curve, components: [component("none", 1, [], [], 30)] }, span, 1),
    ).toBe(false);
  });
});
