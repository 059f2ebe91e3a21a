/**
 * A written number with its unit behind it: `6.5 s`, but `100% of MVC` and `30°`.
 *
 * @param number as it is printed; empty for what stands behind one
 */
export const withUnit = (number: string, unit: string): string =>
  unit === "" || unit === "°" || /^%( |$)/.test(unit) ? `${number}${unit}` : `${number} ${unit}`;
