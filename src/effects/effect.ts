import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { LentSpread } from "./lent-spread.js";
import type { EffectScale } from "./scales.js";

export { effectScales, type EffectScale } from "./scales.js";

/**
 * What is compared: an arm with itself before, with other people who did not train, with the other limb of the same
 * people, or with another training arm. Two contrasts are never pooled together.
 */
export const contrasts = [
  "change-within-arm",
  "against-control",
  "against-other-limb",
  "between-arms",
] as const;
/** What an effect compares. */
export type Contrast = (typeof contrasts)[number];

/** Where a pre–post correlation came from, in falling order of trust. */
export type CorrelationSource =
  | "stated in the source"
  | "computed from printed deviations"
  | "borrowed from like studies in the file"
  | "documented default"
  | "set by the user"
  | "not needed";

/** One effect: positive always means improvement. */
export type Effect = Readonly<{
  effectId: string;
  study: string;
  /** Same people in two papers share a cohort; the study's own id where none is given. */
  cohort: string;
  arm: string;
  comparatorArm?: string;
  scale: EffectScale;
  contrast: Contrast;
  estimate: number;
  variance: number;
  /** The printed form and formula the numbers came through, in plain words. */
  route: string;
  prePostCorrelation?: number;
  correlationSource: CorrelationSource;
  /** The spreads that rows without one borrowed, of either arm; absent where every spread is the rows' own. */
  borrowed?: readonly LentSpread[];
  /** People behind the effect (the trained arm; plus the comparator for contrasts of two arms); 0 where none says. */
  participants: number;
  /** The trained arm's row. */
  row: OutcomeRow;
  comparatorRow?: OutcomeRow;
  notes: readonly Note[];
}>;

/** What became of one row on the way to effects. */
export type RowUse = Readonly<{
  line: number;
  use: "effect" | "comparator" | "set aside";
  reason: string;
  /** Set where only the row's own numbers, or its comparator's, keep it from an effect. */
  lacksNumbers?: true;
}>;

/** A number assumed rather than read; shown in every output and open to a sweep. */
export type Assumption = Readonly<{
  name: string;
  value: number;
  source: string;
  effects: number;
}>;

/** Sampling covariances among the effects of one cluster (people or controls shared). */
export type CovarianceBlock = Readonly<{
  cluster: string;
  /** Positions in `effects`, ascending. */
  indices: readonly number[];
  /** Covariances, row-major, indices.length × indices.length, symmetric positive definite. */
  values: readonly number[];
}>;

/** Effects of a file on one scale, with what is assumed and what became of every row. */
export type EffectSet = Readonly<{
  scale: EffectScale;
  /** The unit all its effects stand in, where they stand in the outcome's own. */
  unit?: string;
  contrast: Contrast;
  effects: readonly Effect[];
  /** Changes that can be shown and have no weight, as their rows neither print a spread nor borrow one. */
  unweighted?: readonly Omit<Effect, "variance">[];
  blocks: readonly CovarianceBlock[];
  rowUses: readonly RowUse[];
  assumptions: readonly Assumption[];
  notes: readonly Note[];
}>;
