import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  decimalsFor,
  formatCount,
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatPercent,
  plainNumber,
  pValueCell,
  pValueText,
} from "../../src/tables/number-format.js";

// Expected texts below are hand arithmetic on the decimal digits, half away from zero.
describe("formatNumber", () => {
  test.each([
    [1.005, 2, "1.01"],
    [2.5, 0, "3"],
    [-2.5, 0, "\u22123"],
    [0.125, 2, "0.13"],
    [-0.004, 2, "0.00"],
    [0, 3, "0.000"],
    [-0, 1, "0.0"],
    [1e-7, 2, "0.00"],
    [1.5e-7, 7, "0.0000002"],
    [12345.678, 1, "12345.7"],
    [4.8516e10, 1, "4.85e10"],
  ])("%d to %d digits is %s", (value, digits, text) => {
    expect(formatNumber(value, { digits })).toBe(text);
  });

  test("a machine gets the hyphen", () => {
    expect(formatNumber(-1.25, { digits: 1, minus: "plain" })).toBe("-1.3");
  });

  test("identity: what is read back lies within half a unit of the last digit", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.integer({ min: 0, max: 6 }),
        (value, digits) => {
          const back = Number(formatNumber(value, { digits, minus: "plain" }));
          expect(Math.abs(back - value)).toBeLessThanOrEqual(0.5 * 10 ** -digits * (1 + 1e-9));
        },
      ),
    );
  });

  test("a number and its negative differ by the sign only", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1e12, noNaN: true }), (value) => {
        expect(formatNumber(-value)).toBe(`\u2212${formatNumber(value)}`);
      }),
    );
  });
});

describe("other numbers", () => {
  test("counts part their thousands", () => {
    expect([0, 999, 1000, 1234567].map(formatCount)).toEqual(["0", "999", "1,000", "1,234,567"]);
  });

  test("percentages carry their sign and one decimal", () => {
    expect(formatPercent(5)).toBe("5.0%");
    expect(formatPercent(-50)).toBe("\u221250.0%");
  });

  test("an interval reads low to high", () => {
    expect(formatInterval({ low: 2.1, high: 5.4 }, { digits: 1 })).toBe("2.1 to 5.4");
    expect(formatInterval({ low: -2.1, high: -0.04 }, { digits: 1 })).toBe("\u22122.1 to 0.0");
  });

  test("p-values in a cell and in a sentence", () => {
    expect([0.0344, 0.0004, 0.9996, 0, 1].map(pValueCell)).toEqual([
      "0.034",
      "<0.001",
      ">0.999",
      "<0.001",
      ">0.999",
    ]);
    expect(pValueText(0.0344)).toBe("p = 0.034");
    expect(pValueText(0.00099)).toBe("p < 0.001");
    expect(pValueText(0.9999)).toBe("p > 0.999");
  });

  test("degrees of freedom, whole, fractional, and of the normal distribution", () => {
    expect([7, 12.34, Infinity].map(formatDegreesOfFreedom)).toEqual(["7", "12.3", "normal"]);
  });

  test("decimals follow two significant digits of the standard error", () => {
    expect([34, 3.4, 0.34, 0.034, 1e-12].map(decimalsFor)).toEqual([0, 1, 2, 3, 6]);
  });

  test("identity: a plain number reads back as itself", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(Number(plainNumber(value))).toBe(value === 0 ? 0 : value);
      }),
    );
  });
});

describe("refuses", () => {
  test("what is not a finite number", () => {
    for (const value of [NaN, Infinity, -Infinity]) {
      expect(() => formatNumber(value)).toThrow(/formatNumber requires a finite number, got/);
      expect(() => plainNumber(value)).toThrow(/finite number/);
    }
    expect(() => formatDegreesOfFreedom(NaN)).toThrow(/finite number/);
  });

  test("digits that are none", () => {
    expect(() => formatNumber(1, { digits: 1.5 })).toThrow(/digits as an integer/);
    expect(() => formatNumber(1, { digits: -1 })).toThrow(/digits as an integer/);
  });

  test("counts, probabilities and intervals that are none", () => {
    expect(() => formatCount(1.5)).toThrow(/integer from 0, got 1.5/);
    expect(() => pValueCell(1.1)).toThrow(/probability from 0 to 1, got 1.1/);
    expect(() => pValueCell(NaN)).toThrow(/probability/);
    expect(() => formatInterval({ low: 2, high: 1 })).toThrow(/low bound first, got 2 and 1/);
  });
});
