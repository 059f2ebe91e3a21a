import type { CovarianceBlock, Effect, EffectSet } from "../../src/effects/effect.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";

/** One effect written down for a test: its study and arm, its numbers, and what its row says. */
export type WrittenEffect = Readonly<{
  study: string;
  arm: string;
  estimate: number;
  variance: number;
  row?: Partial<OutcomeRow>;
}>;

/**
 * A set of log ratios from effects written down one by one.
 *
 * @param written   effects, each with the fields of its row that matter
 * @param covariances positions and values of sampling covariances, in blocks
 */
export const handMadeSet = (
  written: readonly WrittenEffect[],
  covariances: readonly Readonly<{ indices: readonly number[]; values: readonly number[] }>[] = [],
): EffectSet => ({
  scale: "log-ratio-of-means",
  contrast: "change-within-arm",
  effects: written.map(({ study, arm, estimate, variance, row }, index): Effect => ({
    effectId: `effect ${index + 1}`,
    study,
    cohort: study,
    arm,
    scale: "log-ratio-of-means",
    contrast: "change-within-arm",
    estimate,
    variance,
    route: "written for a test",
    correlationSource: "not needed",
    participants: 10,
    row: {
      line: index + 2,
      notReported: [],
      study,
      arm,
      armKind: "isometric",
      outcome: "peak torque",
      outcomeFamily: "strength",
      ...row,
    },
    notes: [],
  })),
  blocks: covariances.map(({ indices, values }, block): CovarianceBlock => ({
    cluster: `block ${block + 1}`,
    indices,
    values,
  })),
  rowUses: [],
  assumptions: [],
  notes: [],
});

/** A session in the fields of a row. */
export const sessionOf = (
  sets: number,
  repetitions: number,
  holdSeconds: number,
  intensityPercent = 100,
): Partial<OutcomeRow> => ({
  sets,
  repetitions,
  holdSeconds,
  intensityPercent,
  intensityBasis: "percent of MVC at the training angle",
  sessionsPerWeek: 3,
  weeks: 8,
});
