/** One effect as the models take it; the ids are taken as they stand. */
export type SynthesisEffect = Readonly<{
  effectId: string;
  study: string;
  arm?: string;
  estimate: number;
  variance: number;
  /** Values a model may use to explain differences between effects. */
  moderators?: Readonly<Record<string, number | string>>;
}>;

/** Sampling covariances known for a set of effects; pairs not named are independent. */
export type KnownCovariance = Readonly<{
  /** Positions in the list of effects, ascending. */
  indices: readonly number[];
  /** Row-major, indices.length × indices.length; its diagonal replaces the effects' variances. */
  values: readonly number[];
}>;

/** One moderator term: numeric or categorical main effect, or the product of several. */
export type ModeratorTerm = string | readonly string[];
