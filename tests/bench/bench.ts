/** One measured number, with what it must reach where that was promised. */
export type Measure = Readonly<{
  what: string;
  value: number;
  unit: "times" | "exponent" | "percent" | "seconds" | "megabytes" | "milliseconds";
  /** The promise: the value is at most, or at least, this. */
  goal?: Readonly<{ atMost: number } | { atLeast: number }>;
  /** How the number was taken, when the name does not say it. */
  how?: string;
}>;

/**
 * A benchmark. It checks its answer once before it times anything, makes its data outside the timed
 * code, and gives ratios within this one run: seconds depend on the machine, ratios hardly do.
 */
export type Bench = Readonly<{
  /** Kebab-case word by which it is asked for. */
  name: string;
  title: string;
  run: (progress: (text: string) => void) => Promise<readonly Measure[]>;
}>;

/** Whether a measure keeps its promise; undefined without one. */
export const meetsGoal = ({ value, goal }: Measure): boolean | undefined => {
  if (goal === undefined) return undefined;
  return "atMost" in goal ? value <= goal.atMost : value >= goal.atLeast;
};

/** Stops the run when an answer is not what it should be: a fast wrong answer is worth nothing. */
export const mustHold = (claim: string, holds: boolean): void => {
  if (!holds) throw new Error(`benchmark answer is wrong: ${claim} does not hold`);
};
