/** How often and how long, as people write it. */
import { letters, type Range } from "./written-numbers.js";
import {
  phrase,
  putRange,
  take,
  type Match,
  type Phrase,
  type Reading,
} from "./written-reading.js";

const week = `(?:weeks?|wks?|w)(?:ly)?(?![${letters}\\d])`;
const weekOnly = `(?:week|wk|w)(?: -1)?(?![${letters}\\d])`;
const each = "(?:a|per|/|each|every|p)";
const perWeek = (r: Reading, m: Match, value: Range, said?: string): void => {
  if (said !== undefined) take(r, m.text, said);
  putRange(r, "sessionsPerWeek", value, m);
};
const times7 = ({ low, high }: Range): Range =>
  high === undefined ? { low: 7 * low } : { low: 7 * low, high: 7 * high };
const perDay = (r: Reading, m: Match, value: Range): void => {
  const { low, high } = times7(value);
  perWeek(r, m, times7(value), `${low}${high === undefined ? "" : ` to ${high}`} sessions a week`);
};
const day = "(?:mon|tue(?:s)?|wed(?:s|nes)?|thu(?:r|rs)?|fri|sat(?:ur)?|sun)(?:day)?s?";
export const frequency: readonly Phrase[] = [
  phrase(`{n:R} (?:(?:x|times~|sessions?~|days?~|d~) ${each}? |${each} )${weekOnly}`, (r, m) =>
    perWeek(r, m, m.range("n")),
  ),
  phrase(`{n:R} (?:x|times~|sessions?~|days?~) weekly~`, (r, m) => perWeek(r, m, m.range("n"))),
  ...(
    [
      ["once", 1],
      ["twice", 2],
      ["thrice", 3],
    ] as const
  ).flatMap(([word, n]) => [
    phrase(`${word} ${each}? (?:weekly|${weekOnly})`, (r, m) => perWeek(r, m, { low: n })),
    phrase(`${word} ${each}? (?:daily|day)~`, (r, m) => perDay(r, m, { low: n })),
  ]),
  phrase("weekly~", (r, m) => perWeek(r, m, { low: 1 })),
  phrase(`{n:R} (?:x|times~|sessions?~)? ${each} (?:day|d)~`, (r, m) => perDay(r, m, m.range("n"))),
  phrase(`{n:R} (?:x|times~|sessions?~) daily~`, (r, m) => perDay(r, m, m.range("n"))),
  phrase("(?:daily|every ?day|each day)~", (r, m) => perWeek(r, m, { low: 7 })),
  phrase("(?:in the )?morning and (?:night|evening)~|am (?:and|&|/|\\+) pm~", (r, m) =>
    perDay(r, m, { low: 2 }),
  ),
  phrase(
    "(?:every (?:other|second|2nd) day|alternate days?|on alternate days|e\\.?o\\.?d)~",
    (r, m) => perWeek(r, m, { low: 3, high: 4 }, "3 to 4 sessions a week"),
  ),
  phrase("every (?:third|3rd) day~", (r, m) =>
    perWeek(r, m, { low: 2, high: 3 }, "2 to 3 sessions a week"),
  ),
  phrase(`(?:on )?${day}(?: (?:/|\\+|,|and|&) ${day})+~`, (r, m) => {
    const n = m.text.match(new RegExp(day, "gu"))?.length ?? 0;
    perWeek(r, m, { low: n }, `${n} sessions a week`);
  }),
  phrase("m/w/f~", (r, m) => perWeek(r, m, { low: 3 }, "3 sessions a week")),
  phrase(`(?:x |for )?{n:R} -? ?${week} (?:block|program(?:me)?|long)?`, (r, m) =>
    putRange(r, "weeks", m.range("n"), m.part("n")),
  ),
  phrase("{n:R} -? ?months?~", (r, m) => {
    const { low, high = low } = m.range("n");
    const weeks = [low * 4.345, high * 4.345] as const;
    const value = { low: Math.floor(weeks[0]), high: Math.ceil(weeks[1]) };
    take(r, m.text, `${value.low} to ${value.high} weeks`);
    putRange(r, "weeks", value, m);
  }),
];
