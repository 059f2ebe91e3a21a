/** A number as people write it in a table. */

export type ReadNumber = Readonly<{ value: number; decimalComma: boolean }>;

const plain = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;
const comma = /^[+-]?\d+,\d+$/;

/**
 * The number a cell holds, or undefined when it holds none.
 *
 * Digits with an optional sign (also the typographic minus), decimal point and exponent. One comma
 * between digits and no point is a decimal comma, and said so.
 *
 * @source none: a reading
 * @example
 * readNumber("−0.25")?.value // => -0.25
 */
export const readNumber = (text: string): ReadNumber | undefined => {
  const tidy = text.trim().replace(/^[−–]/u, "-");
  if (plain.test(tidy)) {
    const value = Number(tidy);
    return Number.isFinite(value) ? { value, decimalComma: false } : undefined;
  }
  if (comma.test(tidy)) return { value: Number(tidy.replace(",", ".")), decimalComma: true };
  return undefined;
};
