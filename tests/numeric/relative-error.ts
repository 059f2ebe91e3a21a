/** |value − expected| as a part of |expected|; 0 when both are the same, also both infinite. */
export const relativeError = (value: number, expected: number): number =>
  Object.is(value, expected) || value === expected
    ? 0
    : Math.abs(value - expected) / Math.abs(expected);
