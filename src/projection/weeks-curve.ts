/** Weeks at which a gain counts once. */
export const referenceWeeks = 8;

/**
 * Share of the eight-week gain that is there after some weeks: rising and flattening, 0 at the start, 1 at
 * eight weeks.
 *
 *   g(w) = (1 − e^(−w/c)) / (1 − e^(−8/c))      w = weeks, c = weeks to 63% of the final gain
 *
 * @param weeks 0 or more
 * @param constant c, above 0
 * @source none: the form in which gains that slow down are usually written
 * @example
 * weeksCurve(0, 5) // => 0
 */
export const weeksCurve = (weeks: number, constant: number): number =>
  Math.expm1(-weeks / constant) / Math.expm1(-referenceWeeks / constant);
