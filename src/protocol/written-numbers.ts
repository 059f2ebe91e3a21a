/** Numbers and times as people write them: the patterns that find them and the values they stand for. */

/** A number or a range of them. */
export type Range = Readonly<{ low: number; high?: number }>;

/** Numbers as words. */
export const numberWords: Readonly<Record<string, number>> = {
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
  twelve: 12,
  fifteen: 15,
  twenty: 20,
  thirty: 30,
  "thirty-five": 35,
  forty: 40,
  "forty-five": 45,
  fifty: 50,
  sixty: 60,
  seventy: 70,
  "seventy-five": 75,
  eighty: 80,
  "eighty-five": 85,
  ninety: 90,
  "ninety-five": 95,
};
/**
 * Letters of a text whose signs are plain: a few spans of characters, since the class of all letters, dozens of times in
 * a hundred patterns, takes a quarter of a second to compile before the first protocol is read.
 */
export const letters = String.raw`a-z\u00aa\u00b5\u00ba\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u1fff\u2c00-\u2fff\u3041-\ud7ff\uf900-\ufdff\uff41-\uffdc`;
const notInWord = `(?![${letters}])`;
/** A number is never cut in two: no digit stands before or after it. */
const digits = String.raw`(?<!\d[.,]?)(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:e[+-]?\d+)?(?![.,]?\d)`;
const words = Object.keys(numberWords)
  .sort((a, b) => b.length - a.length)
  .join("|");
/** What joins the two ends of a range; `±` gives a middle and a half width. */
const joins = String.raw`\s*(?:-|±|(?:to|or)${notInWord})\s*`;
/** A unit may run into the word for what follows, as in `2minrest`. */
const unitEnds = String.raw`(?:${notInWord}|(?=rest|on${notInWord}|off${notInWord}|hold))`;
const seconds = String.raw`(?:s(?:ec(?:ond)?s?)?${unitEnds}|''|")`;
const minutes = String.raw`(?:m(?:in(?:ute)?s?)?${unitEnds}|')`;
const unit = `(?:${seconds}|${minutes})`;
const clock = String.raw`\d{1,2}:[0-5]\d(?!\d)`;
const inWords = String.raw`(?:half\s+an?\s+minute|an?\s+minute)${notInWord}`;

/** Patterns of a number, of a range of them, and of a time. */
export type NumberForms = Readonly<{
  number: string;
  /** `70`, `70-75`, `two or three`, `70 ± 5`. */
  range: string;
  /** `30 s`, `2 min`, `1:30`, `1 min 30 s`, `2'30"`, `45"`, `3-5 s`, `forty-second`, `half a minute`. */
  time: string;
  /** A number of minutes and of seconds. */
  both: string;
}>;

const formsOf = (number: string): NumberForms => {
  const both = [
    String.raw`${number}\s*-?\s*(?:m(?:in(?:ute)?s?)?|')\s*(?:and\s*)?\d+(?:[.,]\d+)?\s*${seconds}`,
    String.raw`\d+(?:min|m|')\d\d(?![\d.,:%°"a-z])`,
  ].join("|");
  return {
    number,
    both,
    range: `${number}(?:${joins}${number})?`,
    time: String.raw`(?:${clock}|${both}|${number}(?:(?:\s*${unit})?${joins}${number})?\s*-?\s*${unit}|${inWords})`,
  };
};

const spelledOut = formsOf(String.raw`(?:${digits}|(?:${words})${notInWord})`);
const inDigits = formsOf(digits);
const anyWord = new RegExp(words, "u");

/** The patterns for a text: where it holds no number as a word, those without, which compile sooner. */
export const numberFormsFor = (text: string): NumberForms =>
  anyWord.test(text) ? spelledOut : inDigits;
const { number, both } = spelledOut;
export const { time } = spelledOut;

const pattern = (source: string): RegExp => new RegExp(source, "u");
const numberAt = new RegExp(number, "gu");
const minuteUnit = pattern(String.raw`^\s*-?\s*${minutes}`);
const unitAfter = pattern(String.raw`^\s*-?\s*${unit}`);

/** `1,200` could be two numbers a thousandfold apart. */
export const readTwoWays = (written: string): string | undefined =>
  /(?<![\d.,])\d+,\d{3}(?![\d,])/u.exec(written)?.[0];

const valueOf = (written: string): number =>
  numberWords[written] ?? Number(written.replace(",", "."));

/** The numbers of a text that `range` matched. */
export const rangeIn = (written: string): Range => {
  const [low = NaN, high] = (written.match(numberAt) ?? []).map(valueOf);
  if (high === undefined) return { low };
  return written.includes("±") ? { low: low - high, high: low + high } : { low, high };
};

/** The seconds of a text that `time` matched. */
export const secondsIn = (written: string): Range => {
  if (written.includes("minute") && !/\d/u.test(written) && !pattern(words).test(written))
    return { low: written.includes("half") ? 30 : 60 };
  if (pattern(`^${clock}$`).test(written)) {
    const [m = 0, s = 0] = written.split(":").map(Number);
    return { low: 60 * m + s };
  }
  if (pattern(`^(?:${both})$`).test(written)) {
    const [m = 0, s = 0] = (written.match(numberAt) ?? []).map(valueOf);
    return { low: 60 * m + s };
  }
  const found = [...written.matchAll(numberAt)].map((match) => {
    const after = written.slice(match.index + match[0].length);
    return {
      value: valueOf(match[0]),
      factor: minuteUnit.test(after) ? 60 : unitAfter.test(after) ? 1 : undefined,
    };
  });
  const last = found.at(-1);
  const scaled = found.map(({ value, factor }) => value * (factor ?? last?.factor ?? 1));
  const [low = NaN, high] = scaled;
  return high === undefined ? { low } : { low, high };
};

/** The same text, character for character, with one spelling for signs that mean the same. */
export const plainSigns = (text: string): string =>
  [...text]
    .map((character) => {
      const lower = character.toLowerCase();
      const one = lower.length === character.length ? lower : character;
      return character.length > 1 ? " ".repeat(character.length) : (signs[one] ?? one);
    })
    .join("")
    .replace(/\bby\b/gu, "x ");

const signs: Readonly<Record<string, string>> = Object.fromEntries(
  (
    [
      ["×✕✖⨯*", "x"],
      ["‐‑‒–—−⁻", "-"],
      ["′’‘ʹ`´", "'"],
      ["″”“„", '"'],
      ["\u00a0\u202f\u2009\u2007\t\r\n", " "],
      ["º˚", "°"],
      ["≧⩾", "≥"],
      ["≦⩽", "≤"],
      ["¹", "1"],
      ["{[", "("],
      ["}]", ")"],
      ["≈∼", "~"],
      ["·", "/"],
      ["∶", ":"],
    ] as const
  ).flatMap(([from, to]) => [...from].map((sign) => [sign, to])),
);
