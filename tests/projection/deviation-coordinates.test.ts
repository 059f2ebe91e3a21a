import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import { gaussLegendre } from "../../src/numeric/quadrature.js";
import {
  deviationCoordinates,
  type DeviationPrior,
} from "../../src/projection/deviation-coordinates.js";

const half = (scale: number): DeviationPrior => ({ kind: "half-normal", scale });

/** Expectation of something under the prior, by a fine rule over the coordinates. */
const expected = (
  priors: readonly DeviationPrior[],
  of: (deviations: readonly number[]) => number,
): number => {
  const { limits, at } = deviationCoordinates(priors);
  const { nodes, weights } = gaussLegendre(priors.length < 3 ? 120 : 48);
  const visit = (place: readonly number[], weight: number): number => {
    if (place.length === limits.length) {
      const { deviations, logPrior } = at(place);
      return weight * Math.exp(logPrior) * of(deviations);
    }
    const { low, high } = limits[place.length]!;
    let total = 0;
    nodes.forEach((node, i) => {
      total += visit(
        [...place, low + ((high - low) / 2) * (1 + node)],
        (weight * weights[i]! * (high - low)) / 2,
      );
    });
    return total;
  };
  return visit([], 1);
};

describe("the change of coordinates keeps the prior", () => {
  test.each([[[half(0.1)]], [[half(0.1), half(0.4)]], [[half(0.3), half(0.1), half(0.05)]]])(
    "it integrates to one, and each deviation has the half-normal's mean",
    (priors) => {
      expect(expected(priors, () => 1)).toBeCloseTo(1, 3);
      priors.forEach(({ scale }, k) =>
        // scale·√(2/π)
        expect(expected(priors, (deviations) => deviations[k]!) / scale).toBeCloseTo(
          Math.sqrt(2 / Math.PI),
          3,
        ),
      );
    },
  );
});

test("a flat prior has density one on the deviation", () => {
  const { at } = deviationCoordinates([{ kind: "flat", scale: 0.2 }]);
  const [a, b] = [at([0.5]), at([0.5001])];
  const slope = (b.deviations[0]! - a.deviations[0]!) / 0.0001;
  expect(Math.exp(a.logPrior)).toBeCloseTo(slope, 3);
});

test("deviations are never below zero, anywhere inside the limits", () => {
  const { limits, at } = deviationCoordinates([half(0.1), half(0.05), half(0.05)]);
  for (const share of [0, 0.01, 0.5, 1])
    for (const value of at(limits.map(({ low, high }) => low + share * (high - low))).deviations)
      expect(value).toBeGreaterThanOrEqual(0);
});

test.each([0, -1, Infinity, Number.NaN])("a scale of %d is refused", (scale) => {
  expect(() => deviationCoordinates([half(scale)])).toThrow(CallError);
});
