import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";

/** Mean, standard deviation and size of the treated group, then of the control group. */
const rows = [
  [94, 22, 60, 92, 20, 60],
  [98, 21, 65, 92, 22, 65],
  [98, 28, 40, 88, 26, 40],
  [94, 19, 200, 82, 17, 200],
  [98, 21, 50, 88, 22, 45],
  [96, 21, 85, 92, 22, 85],
] as const;

/**
 * Six trials as standardised differences. Borenstein, Hedges, Higgins and Rothstein (2009) Introduction to
 * Meta-Analysis, part 3. Summaries and results typed from memory.
 */
export const sixTrials2009 = {
  effects: rows.map(
    ([mean, deviation, size, controlMean, controlDeviation, controls], index): SynthesisEffect => {
      const freedom = size + controls - 2;
      const pooled = Math.sqrt(
        ((size - 1) * deviation ** 2 + (controls - 1) * controlDeviation ** 2) / freedom,
      );
      const difference = (mean - controlMean) / pooled;
      const factor = 1 - 3 / (4 * freedom - 1);
      return {
        study: `${index + 1}`,
        effectId: `${index + 1}`,
        estimate: factor * difference,
        variance:
          factor ** 2 * (1 / size + 1 / controls + difference ** 2 / (2 * (size + controls))),
      };
    },
  ),
  results: {
    q: "12.0033",
    betweenVariance: "0.0373",
    estimate: "0.3582",
    standardError: "0.1052",
    commonStandardError: "0.0640",
  },
} as const;
