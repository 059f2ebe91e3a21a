/** The effort as people write it: percentages, words for them, ratings. */
import type { IntensityBasis } from "./prescription.js";
import type { Range } from "./written-numbers.js";
import {
  fail,
  inner,
  phrase,
  put,
  putRange,
  take,
  type Match,
  type Phrase,
  type Reading,
} from "./written-reading.js";

const mvc =
  "(?:(?:your |the )?(?:mvi?[ct]|mivc|mvf|(?:max(?:imal|imum)?)(?: (?:voluntary )?(?:force|torque|strength|effort|contraction|voluntary contraction))?))~";
const percent = "(?:%|percent~|per cent~|pct~)";
const above = "(?:>=|>|≥|above|over|more than|at least|from)";
const below = "(?:<=|<|≤|below|under|less than|up to|at most|no more than)";
const about = "(?:about|around|approx(?:imately)?\\.?|roughly|ca\\.?|circa|\\u007e)";
const lead = `(?:at |@ |x |load |intensity |effort |force )?[:=]? (?:${about} )?`;
const basis = `(?:(?:of )?(?<mvc>${mvc})(?: (?<where>at the training angle|at another angle))?|(?:of )?(?<lifted>(?:1|one)[\\s-]*(?:rm|repetition maximum))~)?`;

const intensity = (r: Reading, m: Match, low: number, high: number | undefined): void => {
  const all = { low, ...(high === undefined ? {} : { high }) };
  putRange(r, "intensityPercent", all, m.has("percent") ? m.part("percent") : m);
  const on: IntensityBasis | undefined = m.has("lifted")
    ? "percent of one-repetition maximum"
    : m.said("where") === "at another angle"
      ? "percent of MVC at another angle"
      : m.has("mvc")
        ? "percent of MVC at the training angle"
        : undefined;
  if (on !== undefined) put(r, "intensityBasis", on, m);
};
const compared = (r: Reading, m: Match, value: Range): void => {
  if (m.has("above") && value.high === undefined) {
    if (value.low >= 100) return intensity(r, m, value.low, undefined);
    take(r, m.text, `${value.low} to 100%`);
    return intensity(r, m, value.low, 100);
  }
  if (m.has("below")) take(r, m.text, `${value.high ?? value.low}%, the most it allows`);
  return intensity(r, m, value.low, value.high);
};

export const effort: readonly Phrase[] = [
  phrase(
    `${lead}(?:(?<above>${above})|(?<below>${below}))? (?:${about} )?{percent:R} ${percent} ${basis}`,
    (r, m) => compared(r, m, m.range("percent")),
  ),
  ...[
    `${lead}{percent:R} ${percent} (?:${basis} )?(?<above>\\+|(?:or|and) (?:more|above|over|up|higher)~|plus~)`,
    `${lead}{percent:R} (?<above>\\+) ${percent}? ${basis}`,
  ].map((source) => phrase(source, (r, m) => compared(r, m, m.range("percent")))),
  phrase(
    `(?:at|@|load|intensity|mvc) [:=]? (?:${about} )?(?:(?<above>${above})|(?<below>${below}))? {percent:R}${inner}(?! (?:x|rpe|of 10|out of|s~|sec|min|mvc|${mvc}))`,
    (r, m) => {
      const value = m.range("percent");
      if (value.low <= 10)
        fail(r, m, "a percent sign, or an effort out of 10,", `70% or effort ${value.low}`);
      if (!m.has("above") && !m.has("below")) take(r, m.text, `${m.said("percent")}% of MVC`);
      compared(r, m, value);
    },
  ),
  phrase(`${lead}(?:(?<above>>=|>|≥)|(?<below><=|<|≤)) {percent:R}${inner}`, (r, m) =>
    compared(r, m, m.range("percent")),
  ),
  phrase(`${lead}{share:N} (?:of |x )?(?<mvc>${mvc})`, (r, m) => {
    const { low } = m.range("share");
    if (low >= 1) fail(r, m, "a percent sign or a share below 1", "70% of MVC or 0.7 of MVC");
    intensity(r, m, Number((100 * low).toPrecision(6)), undefined);
  }),
  phrase(
    `${lead}(?:a )?(?<part>half|two thirds|three quarters|a quarter) (?:of )?(?<mvc>${mvc})`,
    (r, m) => {
      const shares: Readonly<Record<string, number>> = { h: 50, tw: 67, th: 75, a: 25 };
      const part = m.said("part");
      const value = shares[part.slice(0, 1)] ?? shares[part.slice(0, 2)] ?? NaN;
      take(r, m.text, `${value}%`);
      intensity(r, m, value, undefined);
    },
  ),
  phrase(
    `${lead}{percent:R} ${percent} (?:of )?(?:body ?(?:weight|mass)|bw|hr\\w*|heart rate|vo2\\w*|max hr|of (?!the |your |(?:1|one)[\\s-]*rm|${mvc})\\p{L}+)~`,
    (r, m) => {
      fail(r, m, "what the percentage is of, MVC or 1RM,", "70% MVC or 70% of 1RM");
    },
  ),
  phrase(
    `${lead}(?:near(?:ly)?|almost|close to)[\\s-]*max(?:imal(?:ly)?|imum)?~ (?:effort|force)?`,
    (r, m) => {
      take(r, m.text, "90 to 100%");
      intensity(r, m, 90, 100);
    },
  ),
  phrase(`${lead}sub[\\s-]*max(?:imal(?:ly)?|imum)?~ (?:effort|force)?`, (r, m) => {
    take(r, m.text, "50 to 80%");
    intensity(r, m, 50, 80);
  }),
  phrase(
    `(?:at |@ )?(?:max(?:imal(?:ly)?|imum)?|mvi?c|all[\\s-]*out|(?:as )?hard as (?:you can|possible)|full effort)~ (?:(?:effort|contraction)s?~)?`,
    (r, m) => put(r, "intensityBasis", "maximal effort", m),
  ),
  // A rating stays a rating.
  ...[
    "(?:at |@ )?(?:rpe|effort|rating|exertion|cr-?10) (?:of|rating|[:=])? {rating:R} (?:(?:/|of|out of) {top:N})?",
    "(?:at |@ )?{rating:R} (?:/|of|out of) {top:N} (?:effort|rpe|exertion)?",
  ].map((source) =>
    phrase(source, (r, m) => {
      if (m.has("top") && m.range("top").low !== 10)
        fail(r, m.part("top"), "10, the top of the scale,", "7/10");
      putRange(r, "effortRating", m.range("rating"), m.part("rating"));
    }),
  ),
];
