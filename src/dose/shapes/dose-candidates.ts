/**
 * Candidates spread evenly on the logarithm between two positive ends, for parameters that are doses.
 */
export const ratioSteps = (low: number, high: number, count: number): readonly number[] =>
  Array.from({ length: count }, (_, i) => low * (high / low) ** (i / (count - 1)));

/** Candidates spread evenly between two ends, the ends left out. */
export const evenSteps = (low: number, high: number, count: number): readonly number[] =>
  Array.from({ length: count }, (_, i) => low + ((high - low) * (i + 1)) / (count + 1));
