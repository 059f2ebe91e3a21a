import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";

/** Standardised difference, standard error, weeks of contact beforehand. */
const rows = [
  [0.03, 0.125, 2],
  [0.12, 0.147, 3],
  [-0.14, 0.167, 3],
  [1.18, 0.373, 0],
  [0.26, 0.369, 0],
  [-0.06, 0.103, 3],
  [-0.02, 0.103, 3],
  [-0.32, 0.22, 3],
  [0.27, 0.164, 0],
  [0.8, 0.251, 1],
  [0.54, 0.302, 0],
  [0.18, 0.223, 0],
  [-0.02, 0.289, 1],
  [0.23, 0.29, 2],
  [-0.18, 0.159, 3],
  [-0.06, 0.167, 3],
  [0.3, 0.139, 1],
  [0.07, 0.094, 2],
  [-0.07, 0.174, 3],
] as const;

/**
 * Nineteen experiments on teacher expectancy. Raudenbush and Bryk (1985) Journal of Educational Statistics
 * 10:75–98. Data and results typed from memory.
 */
export const teacherExpectancy1985 = {
  effects: rows.map(([estimate, standardError, weeks], index): SynthesisEffect => ({
    study: `${index + 1}`,
    effectId: `${index + 1}`,
    estimate,
    variance: standardError ** 2,
    moderators: { weeks },
  })),
  results: {
    q: "35.83",
    betweenVariance: "0.019",
    estimate: "0.084",
    standardError: "0.052",
    weeks: {
      intercept: "0.407",
      interceptStandardError: "0.087",
      slope: "-0.157",
      slopeStandardError: "0.036",
      residualQ: "16.57",
      betweenVariance: "0.000",
    },
  },
} as const;
