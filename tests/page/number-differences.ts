const number = /-?\d+(?:\.\d+)?(?:e[+-]?\d+)?/gi;

/** Digits after the point from which a number is no longer one that people are shown. */
const unshownDecimals = 7;
const closeness = 1e-7;

const isLong = (text: string): boolean =>
  text.includes("e") || (text.split(".")[1] ?? "").length >= unshownDecimals;

/**
 * Where two texts differ in more than the last bits of computed numbers; nothing is expected.
 *
 * Two engines may round an exponential differently in its last bit, and a search for the best fit then
 * ends a hair elsewhere. So numbers written in full may differ by one part in ten million, while words
 * and every number short enough to be shown must be the same, sign for sign.
 */
export const numberDifferences = (first: string, second: string): readonly string[] => {
  const words = [first, second].map((text) => text.replace(number, "#").split("#"));
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
    const close = apart <= closeness * Math.max(1, Math.abs(Number(one)));
    return close && (isLong(one) || isLong(two))
      ? []
      : [`${one} and ${two} after "${word.slice(-60)}"`];
  });
};
