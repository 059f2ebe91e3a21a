import type { Note } from "../errors.js";

export type Interval = Readonly<{ low: number; high: number }>;

export type Coefficient = Readonly<{
  term: string;
  estimate: number;
  standardError: number;
  interval: Interval;
  /** Infinity for a normal reference. */
  degreesOfFreedom: number;
  p: number;
}>;

export type OmnibusTest = Readonly<{
  statistic: number;
  kind: "F" | "chi-squared";
  numeratorDegreesOfFreedom: number;
  denominatorDegreesOfFreedom: number;
  p: number;
}>;

/** Joint test of the columns of one moderator term. */
export type TermTest = Readonly<{ term: string }> & OmnibusTest;

/** The Hartung–Knapp scale before its floor at one, and what it would have given. */
export type HartungKnapp = Readonly<{
  /** Weighted residual mean square, Σ w(y − x'β)² / (k − p). */
  scale: number;
  /** True when the scale was below one and one was used in its place. */
  floored: boolean;
  unguardedStandardError: number;
  unguardedInterval: Interval;
}>;

/** Heterogeneity with its uncertainty; null where the number of effects cannot tell. */
export type Heterogeneity = Readonly<{
  betweenVariance: number | null;
  betweenVarianceInterval: Interval | null;
  q: number | null;
  qDegreesOfFreedom: number;
  qP: number | null;
  iSquaredPercent: number | null;
  iSquaredInterval: Interval | null;
  hSquared: number | null;
}>;

/** The story every result carries: what was fitted, on what, under which assumptions. */
export type Story = Readonly<{
  model: string;
  heterogeneityEstimator: string;
  intervalMethod: string;
  confidence: number;
  assumptions: readonly string[];
  effectIds: readonly string[];
  notes: readonly Note[];
}>;

/** Pooled average of effects, each row its own level. */
export type PooledResult = Readonly<{
  estimate: number;
  standardError: number;
  interval: Interval;
  degreesOfFreedom: number;
  p: number;
  predictionInterval: Interval | null;
  heterogeneity: Heterogeneity;
  /** Share of the total weight, per cent, in the order of the effects. */
  weightsPercent: readonly number[];
  /** Present when there are moderators. */
  coefficients: readonly Coefficient[];
  omnibus: OmnibusTest | null;
  /** One joint test per moderator term. */
  termTests?: readonly TermTest[];
  /** Present when the interval rests on the Hartung–Knapp scale. */
  hartungKnapp?: HartungKnapp;
  /** Share of between-study variance the moderators account for, per cent. */
  explainedPercent: number | null;
  effects: number;
  studies: number;
  story: Story;
}>;

/** Multilevel model with nested random intercepts and known within-study covariances. */
export type MultilevelResult = Readonly<{
  estimate: number;
  standardError: number;
  interval: Interval;
  degreesOfFreedom: number;
  p: number;
  predictionInterval: Interval | null;
  varianceByLevel: Readonly<Record<string, number>>;
  varianceIntervals: Readonly<Record<string, Interval>> | null;
  iSquaredPercentByLevel: Readonly<Record<string, number>>;
  heterogeneity: Heterogeneity;
  coefficients: readonly Coefficient[];
  /** Cluster-robust inference by study: the same shape. */
  robust: Readonly<{
    correction: string;
    clusters: number;
    coefficients: readonly Coefficient[];
    omnibus: OmnibusTest | null;
    termTests?: readonly TermTest[];
    /** The average (see `estimate`) with robust standard error. */
    average?: Coefficient;
  }> | null;
  omnibus: OmnibusTest | null;
  /** One joint test per moderator term. */
  termTests?: readonly TermTest[];
  explainedPercent: number | null;
  logLikelihood: number;
  iterations: number;
  effects: number;
  studies: number;
  story: Story;
}>;
