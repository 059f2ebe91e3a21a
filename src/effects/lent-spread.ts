/** A spread lent to a row that prints none: a coefficient of variation, and where it came from. */
export type LentSpread = Readonly<{
  /** Line of the row it was lent to. */
  line: number;
  /** Deviation over mean. */
  coefficient: number;
  /** Studies that lend. */
  studies: number;
  /** Whose it is, e.g. "strength outcomes of the knee extensors". */
  of: string;
  /** 10th and 90th percentile of the coefficient a further study would print. */
  low: number;
  high: number;
  /** How many times the variance is widened, as the coefficient is only estimated. */
  widened: number;
  /** The printed bound of p that the variance was moved to, e.g. "p < 0.05". */
  movedTo?: string;
}>;
