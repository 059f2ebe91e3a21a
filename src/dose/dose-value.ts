/** A prescription quantity as one number, and whether that number stands for a range. */
export type DoseValue = Readonly<{
  value: number;
  /** True when the source gives a range and the value is its midpoint (or is made from one). */
  isMidpoint: boolean;
}>;
