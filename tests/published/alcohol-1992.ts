/**
 * Alcohol and breast cancer in a case-control study, as worked through by Greenland S, Longnecker MP (1992)
 * American Journal of Epidemiology 135:1301–1309 (data of Rohan and McMichael 1988). All numbers are from
 * memory, the printed slopes too.
 */
export const alcohol1992 = {
  /** Mean grams of alcohol a day in each category; the first is the referent. */
  doses: [0, 2, 6, 11],
  /** Cases and controls together, by category. */
  participants: [337, 167, 186, 212],
  cases: 165 + 74 + 90 + 122,
  /** Adjusted relative odds and their 95 % intervals. */
  relativeRisks: [1, 0.8, 1.16, 1.57],
  intervals: [
    [1, 1],
    [0.51, 1.27],
    [0.73, 1.85],
    [0.99, 2.51],
  ],
  printed: { slopeWithCovariance: "0.0454", slopeWithout: "0.0334" },
} as const;
