import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";

/** Study, effect, variance: made up for the tests. */
const rows = [
  [1, -0.21, 0.082],
  [1, 0.47, 0.032],
  [1, 0.36, 0.028],
  [1, -0.41, 0.011],
  [2, 0.03, 0.02],
  [2, -0.22, 0.017],
  [2, -0.19, 0.029],
  [3, 0.35, 0.073],
  [3, 0.32, 0.058],
  [3, 0.18, 0.083],
  [3, 0.37, 0.055],
  [3, 0.96, 0.07],
  [4, -0.29, 0.04],
  [4, -0.25, 0.04],
  [4, -0.15, 0.024],
  [5, 0.75, 0.046],
  [5, -0.3, 0.031],
  [5, 0.47, 0.037],
  [5, 0.3, 0.081],
  [6, 0.62, 0.026],
  [6, -0.09, 0.056],
  [7, 0.34, 0.027],
  [7, 0.23, 0.033],
  [7, 0.58, 0.073],
  [7, 0.62, 0.024],
  [7, 0.29, 0.056],
  [8, 1.07, 0.044],
  [8, 0.59, 0.031],
  [8, 1, 0.014],
  [9, -0.37, 0.018],
  [9, -0.47, 0.035],
  [9, -0.47, 0.074],
  [9, -0.21, 0.028],
] as const;

/**
 * Thirty-three effects in nine studies, and what base R finds: the likelihoods written out with dense
 * matrices, maximised by optim() over the square roots of the two variances (two levels: along the one left).
 */
export const nestedEffects = {
  effects: rows.map(([study, estimate, variance], index): SynthesisEffect => {
    const effectId = `${index + 1}`;
    return { study: `study ${study}`, arm: `arm ${effectId}`, effectId, estimate, variance };
  }),
  inBaseR: {
    q: "224.9861",
    twoLevel: { betweenVariance: "0.1670148", estimate: "0.1846067", standardError: "0.0792485" },
    restricted: {
      estimate: "0.1827",
      standardError: "0.1311",
      betweenStudies: "0.1277",
      withinStudies: "0.0564",
      logLikelihood: "-14.316299",
    },
    full: {
      estimate: "0.1825",
      standardError: "0.1236",
      betweenStudies: "0.1106",
      withinStudies: "0.0565",
    },
  },
} as const;
