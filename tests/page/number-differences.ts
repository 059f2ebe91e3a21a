const number = /-?\d+(?:\.\d+)?(?:e[+-]?\d+)?/gi;

/** Stands in neither text, as a hash sign does before every colour. */
const mark = "\u0000";

/** Digits after the point from which a number is no longer one that people are shown. */
const unshownDecimals = 7;
const closeness = 1e-7;

/** What stands before a coordinate of a drawing, which is written to a thousandth of a point. */
const beforeCoordinate = /[MLHVCSQTA,(]$/;
const thousandth = 0.0011;

const isLong = (text: string): boolean =>
  text.includes("e") || (text.split(".")[1] ?? "").length >= unshownDecimals;

const longer = (one: string, two: string): string => (one.length > two.length ? one : two);

/**
 * Where two texts differ in more than the last bits of computed numbers; nothing is expected.
 *
 * Two engines may round an exponential differently in its last bit, and a search for the best fit then
 * ends a hair elsewhere. So numbers written in full may differ by one part in ten million, and a coordinate of a drawing may
 * fall on the other side of its last thousandth, while words and every number short enough to be shown must be the same,
 * sign for sign.
 */
export const numberDifferences = (first: string, second: string): readonly string[] => {
  const words = [first, second].map((text) => text.replace(number, mark).split(mark));
  const numbers = [first, second].map((text) => text.match(number) ?? []);
  const [firstWords = [], secondWords = []] = words;
  const [firstNumbers = [], secondNumbers = []] = numbers;
  if (firstWords.length !== secondWords.length)
    return [`${firstWords.length} pieces and ${secondWords.length}`];
  return firstWords.flatMap((word, place) => {
    const other = secondWords[place] ?? "";
    if (word !== other) return [`"${word.slice(0, 80)}" and "${other.slice(0, 80)}"`];
    const [one = "0", two = "0"] = [firstNumbers[place], secondNumbers[place]];
    if (one === two) return [];
    const apart = Math.abs(Number(one) - Number(two));
    if (/\.\d{3}$/.test(longer(one, two)) && beforeCoordinate.test(word) && apart < thousandth)
      return [];
    const close = apart <= closeness * Math.max(1, Math.abs(Number(one)));
    return close && (isLong(one) || isLong(two))
      ? []
      : [`${one} and ${two} after "${word.slice(-60)}"`];
  });
};
