import type { Note } from "../errors.js";
import type { AskedInference } from "./inference-choices.js";

/** Two ends, on the scale of the estimate they belong to. */
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

/** What one way of inference says about an average or a regression. */
export type Inference = Readonly<{
  /** Of the average, or of the prediction at the mean of the moderators. */
  standardError: number;
  interval: Interval;
  degreesOfFreedom: number;
  p: number;
  /** Where the true effect of a further study would fall. */
  predictionInterval: Interval | null;
  /** Of the moderators and the intercept; none without moderators. */
  coefficients: readonly Coefficient[];
  /** That no moderator matters. */
  omnibus: OmnibusTest | null;
  /** One joint test per moderator term. */
  termTests: readonly TermTest[];
}>;

/** Pooled average of effects, each row its own level. */
export type PooledResult = Inference &
  Readonly<{
    estimate: number;
    heterogeneity: Heterogeneity;
    /** Share of the total weight, per cent, in the order of the effects. */
    weightsPercent: readonly number[];
    /** Present when the interval rests on the Hartung–Knapp scale. */
    hartungKnapp?: HartungKnapp;
    /** Share of between-study variance the moderators account for, per cent. */
    explainedPercent: number | null;
    effects: number;
    studies: number;
    story: Story;
  }>;

/** Cluster-robust inference, by study. */
export type RobustInference = Readonly<{
  correction: string;
  clusters: number;
  /** Those whose error can be seen between studies; a note says which are left out, and why. */
  coefficients: readonly Coefficient[];
  omnibus: OmnibusTest | null;
  termTests: readonly TermTest[];
  /** The average (see `estimate`), where its error can be seen between studies. */
  average?: Coefficient;
}>;

/** Multilevel model with nested random intercepts and known within-study covariances: model-based inference. */
export type MultilevelResult = Inference &
  Readonly<{
    estimate: number;
    varianceByLevel: Readonly<Record<string, number>>;
    varianceIntervals: Readonly<Record<string, Interval>> | null;
    iSquaredPercentByLevel: Readonly<Record<string, number>>;
    heterogeneity: Heterogeneity;
    /**
     * What each effect counts in `estimate`, per cent, in the order of the effects: 100 · x̄'(X'M⁻¹X)⁻¹X'M⁻¹ with
     * x̄ the mean of the design's rows; of a plain average, M⁻¹1 over its sum. The products with the effects
     * sum to 100 times `estimate`, the weights to 100; effects that lean on one another can have negative ones.
     */
    weightsPercent: readonly number[];
    robust: RobustInference | null;
    explainedPercent: number | null;
    logLikelihood: number;
    effects: number;
    studies: number;
    /** The inference that was asked for. */
    asked: AskedInference;
    story: Story;
  }>;

/** A multilevel result with the inference that is shown first, and the model's own beside it. */
export type HeadlineResult = MultilevelResult & Readonly<{ modelBased: Inference }>;
