/** Names of the doubts that the column confirmed can take back. */
export const doubtNames = [
  "after-is-before",
  "against-training",
  "angle-convention",
  "baselines-disagree",
  "change-is-not-difference",
  "deviation-for-error",
  "error-for-deviation",
  "family-and-outcome",
  "fraction-for-percentage",
  "hold-beyond-endurance",
  "hold-out-of-scale",
  "ids-alike",
  "implied-mean-negative",
  "maximal-below-maximum",
  "mean-out-of-scale",
  "more-at-the-end",
  "out-of-order",
  "outside-its-interval",
  "people-out-of-scale",
  "rating-not-in-percent",
  "rest-out-of-scale",
  "rows-disagree",
  "same-people-twice",
  "spread-against-test",
  "spread-out-of-scale",
  "spreads-of-two-kinds",
  "turned-sign",
  "unit-slip",
  "weeks-out-of-scale",
  "zero-spread",
] as const;

const names: ReadonlySet<string> = new Set(doubtNames);

/** Whether a code is the name of such a doubt. */
export const isDoubtName = (code: string): boolean => names.has(code);
