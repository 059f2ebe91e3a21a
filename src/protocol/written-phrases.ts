/** The phrases of the written form: the longest that fits a place is taken, the first of equally long ones. */
import type { RangeField } from "./prescription.js";
import { effort } from "./written-effort.js";
import { time, type Range } from "./written-numbers.js";
import { leftOut, placeAndAction } from "./written-place.js";
import {
  fail,
  inner,
  phrase,
  putRange,
  putRest,
  take,
  type Match,
  type Phrase,
  type Reading,
  type RestField,
} from "./written-reading.js";
import { frequency } from "./written-schedule.js";

const setWord = "(?:sets?|rounds?|series|lots|blocks)";
const holdWord =
  "(?:reps?|repetitions?|holds?|contractions?|hangs?|pushes|push|pulls?|squeezes?|goes|isos?|efforts?(?! [:=]? \\d))";
const restWord = "(?:rests?|resting|recovery|pauses?|breaks?|relax(?:ation)?|r)";
const on = "(?:on|loading|work|hold|contraction)~";
const off = "(?:off|rest|relax(?:ation)?|easy)~(?! (?:between|btw|b\\/w))";
const onOff = `(?:{hold:T} (?:${on} [,/]?|[,/])|{held:R} on~ [,/]?) (?:{rest:T}|{eased:R}) ${off}`;
const notRest = `(?! (?:${restWord}~(?! [:=]? \\d)|off~|between|btw|b\\/w|on~))`;
const close = "[()]*";

const work: readonly Phrase[] = [
  // Two levels: sets of holds.
  ...[
    `{sets:R} x [(]* {reps:R} (?:x|${holdWord} (?:of|x|,|for|@)?) [(]* {hold:B} ${holdWord}? ${close}`,
    `{sets:R} ${setWord} (?:of|x|,)? [(]* {reps:R} (?:x|${holdWord} (?:of|x|,|for|@)?) [(]* {hold:B} ${close}`,
    `{sets:R} (?:x|${setWord} (?:of|x)?) {reps:R} [@,]? {hold:T} ${close}${notRest}`,
    `{sets:R} (?:x|${setWord} (?:of|x|,)?) [(]* {reps:R} (?:x|${holdWord} (?:of|x)?) [(]* ${onOff} ${close}`,
    `{hold:T} (?:${holdWord})? x {reps:R} x {sets:R} (?:${setWord}~)?`,
  ].map((source) =>
    phrase(source, (r, m) => {
      putRange(r, "sets", m.range("sets"), m.part("sets"));
      putRange(r, "repetitions", m.range("reps"), m.part("reps"));
      hold(r, m);
      rest(r, m);
    }),
  ),
  // One level: a count of holds; the rests decide whether it counts sets.
  ...[
    `{reps:R} x [(]* {hold:T} (?:${holdWord})? ${close}`,
    `{reps:R} (?:x )?${holdWord} (?:of|x|,|for|@)? {hold:T} ${close}`,
    `{reps:R} (?:x )?${holdWord} (?:of|x|for|@) {hold:B} ${close}`,
    `{reps:R} (?:isometric )?{hold:T}${notRest} (?:${holdWord}~)?`,
    `{reps:R} x [(]* ${onOff} ${close}`,
    `{hold:T} (?:${holdWord}~)? ,? x {reps:R}`,
    `{hold:T} (?:${holdWord}~) ,? {reps:R} times`,
    `${onOff} ${close} (?:for )?,? x? {reps:R} (?:${setWord}|${holdWord}|times)?~`,
  ].map((source) =>
    phrase(source, (r, m) => {
      hold(r, m);
      rest(r, m);
      count(r, m.range("reps"), m);
    }),
  ),
  phrase(`${onOff} ${close}`, (r, m) => {
    hold(r, m);
    rest(r, m);
  }),
  // Seconds on and off: `7/3 repeaters x 6 x 4`, `10/20 x 6`, `10s:50s`.
  ...[
    "{hold:R} [/:] {rest:R} (?:repeaters?|intervals?) ,? (?:x {reps:R} (?:x {sets:R})?)?",
    "{hold:R} [/:] {rest:R} x {reps:R} (?:x {sets:R})?",
    "{hold:T} [/:] {rest:T} (?:,? x {reps:R} (?:x {sets:R})?)?",
  ].map((source, index) =>
    phrase(source, (r, m) => {
      const pair = [m.seconds("hold"), m.seconds("rest")] as const;
      if (index === 2 && r.draft.holdSeconds !== undefined) {
        putRest(r, undefined, pair[0], m);
        return putRest(r, undefined, pair[1], m);
      }
      if (index === 1 && pair[0].low <= 10 && pair[1].low === 10)
        fail(r, m, "seconds on and off, or an effort out of 10,", "6 s on / 10 s off x 10");
      putRange(r, "holdSeconds", pair[0], m);
      putRange(r, "restBetweenRepetitionsSeconds", pair[1], m);
      if (index < 2)
        take(r, m.said("hold", "rest"), `${pair[0].low} s on and ${pair[1].low} s off`);
      if (m.has("sets")) putRange(r, "sets", m.range("sets"), m.part("sets"));
      if (m.has("reps")) count(r, m.range("reps"), m);
      return undefined;
    }),
  ),
  // Pieces that stand alone.
  phrase(`{a:R} x {b:R}${inner}(?! ${holdWord}~)`, (r, m) => {
    if (r.pair !== undefined || r.count !== undefined)
      fail(r, m, "the holds said once", "4 × (5 × 3 s)", "said-twice");
    r.pair = { a: m.range("a"), b: m.range("b"), at: m.part("a"), said: m.text };
  }),
  ...[`{sets:R} ${setWord}~ (?:of~)?`, `sets? [:=]? {sets:R}`, `(?:x|in) {sets:R} sets?~`].map(
    (source) =>
      phrase(source, (r, m) => {
        putRange(r, "sets", m.range("sets"), m.part("sets"));
        r.setsByWord = true;
      }),
  ),
  ...[
    `{reps:R} (?:x )?${holdWord}~`,
    `(?:reps?|repetitions|holds) [:=] {reps:R}`,
    `reps? {reps:R}`,
  ].map((source) => phrase(source, (r, m) => count(r, m.range("reps"), m, true))),
  phrase("(?:repeat(?:ed)? )?{reps:R} times~(?! (?:a|per|each|every|/) )", (r, m) => {
    count(r, m.range("reps"), m);
  }),
  phrase(`x {reps:R}(?! (?:x|%|s|m|'|"|°))`, (r, m) => count(r, m.range("reps"), m)),
  ...[`{hold:T} ${holdWord}~`, "(?:hold|holds|holding|time) (?:of|for|:|=)? {hold:B}(?! x)"].map(
    (source) => phrase(source, (r, m) => hold(r, m)),
  ),
  phrase("{time:T}", (r, m) => {
    const seconds = m.seconds("time");
    if (r.draft.holdSeconds === undefined) return putRange(r, "holdSeconds", seconds, m);
    take(r, m.text, "the rest");
    return putRest(r, undefined, seconds, m);
  }),
];

/** `30` in `4 x 5 x 30` has no unit: seconds, and it is said. */
const timed = (r: Reading, m: Match, field: RangeField, names: readonly string[]): void => {
  const name = names.find((one) => m.has(one));
  if (name === undefined) return;
  const said = m.said(name);
  const seconds = m.seconds(name);
  if (/\d\s*m$/u.test(said) && seconds.low > 3600)
    fail(r, m.part(name), "a unit of time, s or min,", "30 s or 2 min");
  if (!isTime.test(said)) take(r, said, "seconds");
  else if (/\d\s*'$/u.test(said)) take(r, said, `${seconds.low / 60} min`);
  putRange(r, field, seconds, m.part(name));
};
const isTime = new RegExp(`^${time}$`, "u");
const hold = (r: Reading, m: Match): void => timed(r, m, "holdSeconds", ["hold", "held"]);
const rest = (r: Reading, m: Match): void =>
  timed(r, m, "restBetweenRepetitionsSeconds", ["rest", "eased"]);
const count = (r: Reading, value: Range, m: Match, named = false): void => {
  if (r.count !== undefined)
    fail(r, m, "one number of holds, not a second", "4 × (5 × 3 s)", "said-twice");
  r.count = { value, at: m.part("reps"), named };
};

const between = (name: string): string =>
  `(?:between|btw\\.?|b\\/w) (?:each )?(?<${name}>sets?~|rounds?~|reps?~|repetitions?~|holds?~|contractions?~|hangs?~|pushes~|efforts?~)`;
const fieldOf = (said: string): RestField | undefined => {
  if (said === "") return undefined;
  return /^(?:set|round)/u.test(said) ? "restBetweenSetsSeconds" : "restBetweenRepetitionsSeconds";
};

const restsSaid = (r: Reading, m: Match): void => {
  const other = m.has("two2") ? "two2" : "two";
  const [first, second] = [m.said("one"), m.said(other)];
  for (const said of [first, second]) {
    if (said === "" || isTime.test(said)) continue;
    if (m.range(said === first ? "one" : other).low < 4)
      fail(r, m, "a unit of time, s or min, after the rest", `rest ${said} min`);
    take(r, `rest ${said}`, `${said} s`);
  }
  putRest(r, fieldOf(m.said("early") || m.said("late")), m.seconds("one"), m.part("one"));
  if (second !== "")
    putRest(
      r,
      fieldOf(m.said("last")) ?? "restBetweenSetsSeconds",
      m.seconds(other),
      m.part(other),
    );
};
const rests: readonly Phrase[] = [
  phrase(
    `(?:w/ ?)?${restWord} (?:${between("early")})? (?:of|for|is|about|around|:|=)? {one:Q} (?:${between("late")})? (?:(?:and|/|,) {two:T} (?:${restWord}~)? ${between("last")}|(?:and|/) {two2:Q}(?! (?:%|percent~)))?`,
    restsSaid,
  ),
  phrase(`(?:w/ ?)?{one:T} (?:of )?(?:${restWord}|off)~ (?:${between("late")})?`, restsSaid),
  phrase(`{one:T} (?:${restWord}~ )?${between("late")}`, restsSaid),
  phrase(`{one:T} (?:${restWord}~ )?(?:between|btw|b\\/w)~`, restsSaid),
  phrase(`set (?:rest|break|pause) (?:of|:|=)? {one:Q}`, (r, m) =>
    putRest(r, "restBetweenSetsSeconds", m.seconds("one"), m),
  ),
  ...[
    "work ?[:/-] ?rest (?:ratio )?(?:of )?{work:N} : {ease:N}",
    "{work:N} : {ease:N} (?:work ?[:/-] ?)?rest~",
  ].map((source) =>
    phrase(source, (r, m) => {
      r.ratio = { value: m.range("ease").low / m.range("work").low, at: m, said: m.text };
    }),
  ),
  phrase("rest (?:equal to|same as|equals|=) (?:the )?(?:work|holds?)~", (r, m) => {
    r.ratio = { value: 1, at: m, said: m.text };
  }),
];

const fillers = phrase(
  "(?:please|do|did|perform(?:ed)?|complete|isometric(?:s|ally)?|static|isos?|holds?|contractions?|training|trained|train|sessions?|of|the|a|an|at|for|with|then|in|and|by|using|w/|@|on|to|against|participants|subjects|consisted|comprised|block|program(?:me)?|protocol|total|each|reps?|flexion|extension|flexors?|extensors?|raises?|hangs?|tendon|loading|bridges?|sustained|goes|into|as|up|position|joint|muscles?|angles?|overall|about|approx\\.?|from|is|are|was|were|seconds?)~",
  () => undefined,
);

/** Every phrase of the written form. */
export const phrases: readonly Phrase[] = [
  ...work,
  ...effort,
  ...rests,
  ...frequency,
  ...placeAndAction,
  ...leftOut,
  fillers,
];

/** Words a slip of the pen may have meant. */
export const knownWords: readonly string[] =
  "sets reps repetitions holds hold contractions rest rests between sec secs seconds min mins minutes maximal maximum max near-maximal submaximal percent effort week weeks per daily every other day times twice once short shortened middle long lengthened stretched pushing holding overcoming yielding ankle knee hip trunk neck shoulder elbow wrist handgrip quads quadriceps hamstrings calf soleus achilles glutes adductors biceps triceps wall sit plank squat spanish isometric extension flexion fast possible explosive ramped failure angle degrees".split(
    " ",
  );
