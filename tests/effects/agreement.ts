import { expect } from "vitest";

/**
 * Expects a number to round to the printed digits: within half a unit of the last one, and a hair for
 * the printed value's own rounding of a tie.
 */
export const expectPrinted = (actual: number, printed: string): void => {
  const decimals = /\.(\d+)/.exec(printed)?.[1]?.length ?? 0;
  const tolerance = 0.5 * 10 ** -decimals * (1 + 1e-9);
  expect(
    Math.abs(actual - Number(printed)),
    `${actual} against printed ${printed}`,
  ).toBeLessThanOrEqual(tolerance);
};

/** Expects a relative difference of at most `tolerance`. */
export const expectRelative = (actual: number, expected: number, tolerance: number): void => {
  const difference = Math.abs(actual - expected) / Math.max(Math.abs(expected), 1e-300);
  expect(difference, `${actual} against ${expected}`).toBeLessThanOrEqual(tolerance);
};
