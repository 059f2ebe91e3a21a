/** Month names, English first, then the other languages spreadsheets were met in; whole or cut to three letters. */
const monthNames: readonly (readonly string[])[] = [
  ["january", "januar"],
  ["february", "februar"],
  ["march", "märz", "mrz"],
  ["april"],
  ["may", "mai"],
  ["june", "juni"],
  ["july", "juli"],
  ["august"],
  ["september", "sept"],
  ["october", "oktober"],
  ["november"],
  ["december", "dezember"],
];

/** 1 to 12, or 0 for a word that names no month. */
const monthNumber = (word: string): number => {
  const name = word.toLowerCase().replace(/\.$/, "");
  if (name.length < 3) return 0;
  const named = (full: string) => full === name || full.slice(0, 3) === name;
  return monthNames.findIndex((names) => names.some(named)) + 1;
};

/**
 * The range somebody typed before a spreadsheet turned it into a date, or undefined for text that is no
 * date: "03-Oct" was 3–10, "Oct-03" and "2024-10-03" were most likely 3–10 or 10–3.
 *
 * @param text a clean cell
 */
export const rangeBehindDate = (text: string): string | undefined => {
  const iso = /^\d{4}[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ][\d:.]+Z?)?$/.exec(text);
  if (iso !== null) return ordered(Number(iso[1]), Number(iso[2]));
  const dayFirst = /^(\d{1,2})[-/.](\d{1,2})[-/.](?:\d{4}|\d{2})(?: [\d:.]+)?$/.exec(text);
  if (dayFirst !== null) return ordered(Number(dayFirst[1]), Number(dayFirst[2]));
  const words = text.split(/[-–/. ]+/).filter((word) => word !== "");
  if (words.length < 2 || words.length > 3) return undefined;
  const month = words.findIndex((word) => monthNumber(word) > 0);
  if (month === -1) return undefined;
  const numbers = words.filter((word) => /^\d{1,4}$/.test(word)).map(Number);
  if (numbers.length !== words.length - 1) return undefined;
  return ordered(monthNumber(words[month] ?? ""), numbers[0] ?? 0);
};

const ordered = (one: number, other: number): string =>
  `${Math.min(one, other)}–${Math.max(one, other)}`;
