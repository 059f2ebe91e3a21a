import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";

/** Effect, standard error, weeks: made up for the tests. */
const rows = [
  [0.43, 0.211, 0],
  [0.24, 0.144, 1],
  [-0.04, 0.298, 2],
  [0.25, 0.259, 3],
  [0.45, 0.174, 0],
  [0.09, 0.277, 3],
  [0.13, 0.166, 2],
  [0.08, 0.332, 1],
  [0.35, 0.29, 0],
  [0.51, 0.258, 1],
  [0.18, 0.209, 2],
  [-0.1, 0.113, 3],
  [0.56, 0.202, 0],
  [-0.15, 0.232, 3],
  [0.03, 0.126, 2],
  [0.01, 0.331, 1],
  [0.34, 0.09, 0],
  [0.22, 0.159, 1],
  [0.04, 0.162, 2],
] as const;

/**
 * Nineteen effects that differ between studies, but not once their weeks are known; and what base R finds:
 * the restricted likelihood maximised along its one variance, then weighted least squares.
 */
export const effectsThatWeeksExplain = {
  effects: rows.map(([estimate, standardError, weeks], index): SynthesisEffect => ({
    study: `${index + 1}`,
    effectId: `${index + 1}`,
    estimate,
    variance: standardError ** 2,
    moderators: { weeks },
  })),
  inBaseR: {
    q: "24.178734",
    betweenVariance: "0.0144289",
    estimate: "0.1896299",
    standardError: "0.0515037",
    weeks: {
      intercept: "0.3871025",
      interceptStandardError: "0.0610297",
      slope: "-0.1499038",
      slopeStandardError: "0.0349377",
      residualQ: "5.769465",
    },
  },
} as const;
