/**
 * The short written form of a prescription, read.
 *
 * Longer than most files here because it is one grammar: each function below reads one clause.
 *
 *     prescription := work { [","] clause }
 *     work         := n × time | n × (n × time) | n × n × time | n sets of … | time
 *     clause       := effort | rests | frequency | weeks | length | place | action | intent | n sets
 */
import { prescriptionIssues } from "./prescription.js";
import type { Action, IntensityBasis, Joint, MuscleLength, Prescription } from "./prescription.js";
import { writtenFormError } from "./written-form-error.js";
import { writtenTokens } from "./written-tokens.js";
import type { Token } from "./written-tokens.js";

export { writePrescription } from "./write-prescription.js";

type Draft = { -readonly [Field in keyof Prescription]?: Prescription[Field] };
type Range = Readonly<{ low: number; high?: number }>;

/** A reader standing at a place in the tokens; `draft` is what it has understood so far. */
type Reader = {
  readonly text: string;
  readonly tokens: readonly Token[];
  index: number;
  readonly draft: Draft;
  /** Token at which each field was read, for errors found once all is read. */
  readonly places: Map<keyof Prescription, Token>;
  /** True while the work is one level deep (`4 x 30 s`), so that rests decide what the 4 counts. */
  oneLevel: boolean;
};

const secondsIn: Readonly<Record<string, number>> = {
  s: 1,
  sec: 1,
  secs: 1,
  second: 1,
  seconds: 1,
  m: 60,
  min: 60,
  mins: 60,
  minute: 60,
  minutes: 60,
};
const holdWords = ["hold", "holds", "contraction", "contractions", "each"];
const repetitionWords = ["rep", "reps", "repetition", "repetitions", "hold", "holds"];
const setWords = ["set", "sets"];
const weekWords = ["week", "wk", "w"];
const weeksWords = ["weeks", "week", "wks", "wk"];
const timesWords = ["times", "time", "sessions", "session", "days", "day", "×"];
const perWords = ["a", "per", "each", "/", "every"];
const separators = [",", ";", ".", ":", "and", "for", "with", "in"];
const mvcWords = ["mvc", "mvic", "mvt", "mvf", "maximum", "max"];
const lengths: Readonly<Record<string, MuscleLength>> = {
  short: "short",
  long: "long",
  middle: "middle",
  mid: "middle",
};
const actionWords: Readonly<Record<string, Action>> = {
  pushing: "pushing",
  push: "pushing",
  overcoming: "pushing",
  holding: "holding",
  hold: "holding",
  yielding: "holding",
};
const jointWords: Readonly<Record<string, Joint>> = {
  ankle: "ankle",
  knee: "knee",
  hip: "hip",
  trunk: "trunk",
  neck: "neck",
  shoulder: "shoulder",
  elbow: "elbow",
  wrist: "wrist",
  hand: "hand",
  grip: "hand",
  handgrip: "hand",
};

const look = (r: Reader, ahead = 0): Token =>
  r.tokens[Math.min(r.index + ahead, r.tokens.length - 1)] as Token;
const isAny = (token: Token, words: readonly string[]): boolean =>
  token.kind !== "quoted" && token.kind !== "number" && words.includes(token.text);
const take = (r: Reader, ...words: readonly string[]): Token | undefined => {
  const token = look(r);
  if (!isAny(token, words)) return undefined;
  r.index += 1;
  return token;
};
/** Takes a whole run of words, or nothing. */
const takeRun = (r: Reader, run: string): boolean => {
  const words = run.split(" ");
  if (!words.every((word, ahead) => isAny(look(r, ahead), [word]))) return false;
  r.index += words.length;
  return true;
};
const fail = (
  r: Reader,
  expected: string,
  example: string,
  token: Token = look(r),
  code = "unexpected",
): never => {
  throw writtenFormError(r.text, {
    code,
    place: token.start,
    length: token.stop - token.start,
    expected,
    example,
  });
};
const set = <Field extends keyof Prescription>(
  r: Reader,
  field: Field,
  value: Draft[Field],
  token: Token,
): void => {
  if (r.draft[field] !== undefined)
    fail(r, `one ${fieldWords[field]}, not a second`, "each thing said once", token, "said-twice");
  r.draft[field] = value;
  r.places.set(field, token);
};

const fieldWords: Readonly<Record<keyof Prescription, string>> = {
  sets: "number of sets",
  repetitions: "number of repetitions",
  holdSeconds: "length of hold",
  holdSecondsHigh: "length of hold",
  intensityPercent: "effort",
  intensityPercentHigh: "effort",
  effortRating: "effort",
  intensityBasis: "basis of the effort",
  restBetweenRepetitionsSeconds: "rest between repetitions",
  restBetweenSetsSeconds: "rest between sets",
  sessionsPerWeek: "number of sessions a week",
  weeks: "number of weeks",
  muscleLength: "muscle length",
  trainingAngleDegrees: "list of angles",
  action: "action",
  effortIntent: "intent",
  joint: "joint",
};

const number = (r: Reader, expected: string, example: string): Token => {
  const token = look(r);
  if (token.kind !== "number") fail(r, expected, example);
  r.index += 1;
  return token;
};
/** `70`, `70-75`, `70 to 75`; what follows the numbers is left to the caller. */
const range = (r: Reader, expected: string, example: string): Range => {
  const low = number(r, expected, example).value;
  if (look(r, 1).kind !== "number" || take(r, "-", "to") === undefined) return { low };
  return { low, high: number(r, expected, example).value };
};
/** `30 s`, `2 min`, `1 min 30 s`, `3-5 s`. */
const duration = (r: Reader): Range => {
  const example = "30 s or 2 min";
  const { low, high } = range(r, "a length of time", example);
  const factor = timeUnit(r, example);
  if (
    high === undefined &&
    factor === 60 &&
    look(r).kind === "number" &&
    secondsIn[look(r, 1).text] === 1
  ) {
    const seconds = number(r, "seconds", example).value;
    return { low: low * 60 + seconds * timeUnit(r, example) };
  }
  return high === undefined ? { low: low * factor } : { low: low * factor, high: high * factor };
};
const timeUnit = (r: Reader, example: string): number => {
  const token = look(r);
  const factor = token.kind === "word" ? secondsIn[token.text] : undefined;
  if (factor === undefined) return fail(r, "a unit of time, s or min,", example);
  r.index += 1;
  return factor;
};
const hold = (r: Reader): void => {
  const token = look(r);
  const { low, high } = duration(r);
  set(r, "holdSeconds", low, token);
  if (high !== undefined) set(r, "holdSecondsHigh", high, token);
  if (take(r, ...holdWords) !== undefined) take(r, "each");
};
const isTimes = (token: Token): boolean => isAny(token, ["×"]);
const isTime = (r: Reader, ahead: number): boolean =>
  look(r, ahead).kind === "word" && secondsIn[look(r, ahead).text] !== undefined;

/** `5 × 3 s`, `5 holds of 3 s`, or a bare `3 s`; gives the token of the count if there is one. */
const repeatedHold = (r: Reader): Token | undefined => {
  const counted = isTimes(look(r, 1)) || isAny(look(r, 1), repetitionWords);
  if (!counted) {
    hold(r);
    return undefined;
  }
  const count = number(r, "a number of repetitions", "5 × 3 s");
  if (take(r, "×", ...repetitionWords)?.text !== "×") take(r, "of", "×");
  hold(r);
  return count;
};

const work = (r: Reader): void => {
  const example = "4 × 30 s or 4 × (5 × 3 s)";
  const first = look(r);
  if (first.kind !== "number") fail(r, "the holds first,", example);
  const setsNamed = isAny(look(r, 1), setWords);
  if (!setsNamed && !isTimes(look(r, 1))) {
    const count = repeatedHold(r);
    set(r, "sets", 1, first);
    set(r, "repetitions", count?.value ?? 1, count ?? first);
    return;
  }
  r.index += 2;
  if (setsNamed) take(r, "of", "×");
  const bracket = take(r, "(");
  const inner = repeatedHold(r);
  if (bracket !== undefined && take(r, ")") === undefined)
    fail(r, "a closing bracket", "4 × (5 × 3 s)");
  if (inner === undefined && !setsNamed) {
    // `4 × 30 s`: four holds of one set, unless the only rest named is one between sets.
    set(r, "sets", 1, first);
    set(r, "repetitions", first.value, first);
    r.oneLevel = true;
    return;
  }
  set(r, "sets", first.value, first);
  set(r, "repetitions", inner?.value ?? 1, inner ?? first);
};

/** What stands after a percent sign: the basis, if it is named. */
const basisAfterPercent = (r: Reader): IntensityBasis | undefined => {
  const start = r.index;
  take(r, "of");
  if (take(r, ...mvcWords) !== undefined) {
    if (takeRun(r, "at the training angle")) return "percent of MVC at the training angle";
    if (takeRun(r, "at another angle")) return "percent of MVC at another angle";
    return "percent of MVC at the training angle";
  }
  const one = look(r);
  if ((one.value === 1 || one.text === "one") && isAny(look(r, 1), ["rm"])) {
    r.index += 2;
    return "percent of one-repetition maximum";
  }
  if (takeRun(r, "one - repetition maximum")) return "percent of one-repetition maximum";
  if (r.index !== start)
    fail(r, "what the percentage is of, MVC or 1RM,", "70 % MVC or 70 % of 1RM");
  return undefined;
};
const percentage = (r: Reader): void => {
  const token = look(r);
  const { low, high } = range(r, "an effort", "70 %");
  if (take(r, "%", "percent") === undefined) fail(r, "a percent sign", "70 % or 70–75 %");
  set(r, "intensityPercent", low, token);
  if (high !== undefined) set(r, "intensityPercentHigh", high, token);
  const basis = basisAfterPercent(r);
  if (basis !== undefined) set(r, "intensityBasis", basis, token);
};
const rating = (r: Reader): void => {
  const token = number(r, "a rating from 0 to 10", "effort 7");
  if (take(r, "/") !== undefined || takeRun(r, "out of"))
    if (number(r, "10, the top of the scale,", "7/10").value !== 10)
      fail(r, "10, the top of the scale,", "7/10", r.tokens[r.index - 1]);
  set(r, "effortRating", token.value, token);
};
const isRating = (r: Reader, ahead: number): boolean =>
  look(r, ahead).kind === "number" &&
  ((isAny(look(r, ahead + 1), ["/"]) && look(r, ahead + 2).kind === "number") ||
    (isAny(look(r, ahead + 1), ["out"]) && isAny(look(r, ahead + 2), ["of"])));

/** `between sets`, `between repetitions`, or neither. */
const between = (
  r: Reader,
): "restBetweenRepetitionsSeconds" | "restBetweenSetsSeconds" | undefined => {
  if (take(r, "between") === undefined) return undefined;
  if (take(r, ...setWords) !== undefined) return "restBetweenSetsSeconds";
  if (take(r, ...repetitionWords, ...holdWords) !== undefined)
    return "restBetweenRepetitionsSeconds";
  return fail(r, "sets or repetitions", "60 s between sets");
};
const restTime = (r: Reader): number => {
  const token = look(r);
  const { low, high } = duration(r);
  if (high !== undefined) fail(r, "one length of rest, not a range,", "rest 15 s", token);
  return low;
};
const rests = (r: Reader): void => {
  if (take(r, "of", "for", ":") === undefined) take(r, "between");
  const token = look(r);
  const seconds = restTime(r);
  const field = between(r);
  const follows = isAny(look(r), ["and"]) && look(r, 1).kind === "number" && isTime(r, 2);
  if (!follows) {
    set(r, field ?? "restBetweenRepetitionsSeconds", seconds, token);
    return;
  }
  r.index += 1;
  const second = look(r);
  const secondSeconds = restTime(r);
  const secondField = between(r);
  set(r, field ?? "restBetweenRepetitionsSeconds", seconds, token);
  set(r, secondField ?? "restBetweenSetsSeconds", secondSeconds, second);
};
/** `60 s between sets`, `15 s rest`, `60 s rest between sets`. */
const restByTime = (r: Reader): void => {
  const token = look(r);
  const seconds = restTime(r);
  const named = take(r, "rest", "rests", "pause") !== undefined;
  const field = between(r);
  if (!named && field === undefined)
    fail(r, "what this time is", "rest 15 s or 60 s between sets", token);
  set(r, field ?? "restBetweenRepetitionsSeconds", seconds, token);
};

const frequency = (r: Reader): void => {
  const token = number(r, "a number of sessions", "3/week");
  take(r, ...timesWords);
  take(r, ...perWords);
  if (take(r, ...weekWords) === undefined) fail(r, "week", "3/week or 3 times a week");
  set(r, "sessionsPerWeek", token.value, token);
};
const frequencyWord = (r: Reader, sessions: number): void => {
  const token = look(r);
  r.index += 1;
  if (sessions < 7) {
    take(r, ...perWords);
    if (take(r, ...weekWords) === undefined) fail(r, "week", "twice a week");
  }
  set(r, "sessionsPerWeek", sessions, token);
};

const angle = (r: Reader): number => {
  const sign = take(r, "-") === undefined ? 1 : -1;
  const { value } = number(r, "an angle in degrees", "knee 90°");
  if (take(r, "°", "degrees", "degree", "deg") === undefined)
    fail(r, "a degree sign", "knee 90° or knee 90 degrees");
  return sign * value;
};
const isAngle = (r: Reader): boolean => {
  const ahead = isAny(look(r), ["-"]) ? 1 : 0;
  return (
    look(r, ahead).kind === "number" && isAny(look(r, ahead + 1), ["°", "degrees", "degree", "deg"])
  );
};
const angles = (r: Reader): void => {
  const token = look(r);
  const list = [angle(r)];
  while (take(r, "/") !== undefined) list.push(angle(r));
  set(r, "trainingAngleDegrees", list, token);
};

const numberClause = (r: Reader): void => {
  const next = look(r, isAny(look(r, 1), ["-", "to"]) && look(r, 2).kind === "number" ? 3 : 1);
  if (isAny(next, ["%", "percent"])) return percentage(r);
  if (isAny(next, ["°", "degrees", "degree", "deg"])) return angles(r);
  if (isRating(r, 0)) return rating(r);
  if (next.kind === "word" && secondsIn[next.text] !== undefined) return restByTime(r);
  const token = look(r);
  if (isAny(next, weeksWords)) {
    r.index += 2;
    return set(r, "weeks", token.value, token);
  }
  if (isAny(next, setWords)) {
    r.index += 2;
    if (r.draft.sets !== 1 || r.draft.holdSeconds === undefined)
      fail(r, "one number of sets, not a second", "4 × (5 × 3 s)", token, "said-twice");
    r.draft.sets = token.value;
    r.places.set("sets", token);
    r.oneLevel = false;
    return undefined;
  }
  if (isAny(next, [...timesWords, ...perWords])) return frequency(r);
  return fail(
    r,
    "%, s, /week, weeks or ° after this number",
    "70 %, rest 15 s, 3/week, 12 weeks, knee 90°",
    token,
  );
};

/** What may follow `at`: an effort, a length or an angle. */
const afterAt = (r: Reader): void => {
  const token = look(r);
  if (token.kind === "number" || isAny(token, ["-"])) return isAngle(r) ? angles(r) : numberAt(r);
  if (wordClause(r)) return undefined;
  return fail(r, "an effort", "at 70 %, at effort 7 or at maximal effort", token);
};
const numberAt = (r: Reader): void => {
  if (isRating(r, 0)) return rating(r);
  return percentage(r);
};

const maximal = (r: Reader): void => {
  const token = look(r);
  r.index += 1;
  take(r, "effort", "efforts");
  set(r, "intensityBasis", "maximal effort", token);
};
const intent = (r: Reader): void => {
  const token = look(r);
  if (token.kind !== "quoted") fail(r, "the intent in quotation marks", 'intent "slow ramp"');
  r.index += 1;
  set(r, "effortIntent", token.text, token);
};

/** Reads one clause that begins with a word; false when the word begins none. */
const wordClause = (r: Reader): boolean => {
  const token = look(r);
  for (const [run, words] of [
    ["as fast as possible", "as fast as possible"],
    ["ramped and sustained", "ramped and sustained"],
    ["ramped", "ramped and sustained"],
    ["to failure", "to failure"],
  ] as const)
    if (takeRun(r, run)) {
      set(r, "effortIntent", words, token);
      return true;
    }
  if (isAny(token, ["maximal", "maximally", "maximum", "max"])) return (maximal(r), true);
  if (isAny(token, ["daily"])) return (frequencyWord(r, 7), true);
  if (isAny(token, ["once"])) return (frequencyWord(r, 1), true);
  if (isAny(token, ["twice"])) return (frequencyWord(r, 2), true);
  if (take(r, "effort", "rating") !== undefined) {
    take(r, "of", "rating");
    return (rating(r), true);
  }
  if (take(r, "rest", "rests", "resting") !== undefined) return (rests(r), true);
  if (take(r, "intent") !== undefined) return (intent(r), true);
  if (take(r, "angle", "angles") !== undefined) return (angles(r), true);
  const length = token.kind === "word" ? lengths[token.text] : undefined;
  if (length !== undefined) {
    r.index += 1;
    take(r, "muscle");
    take(r, "length", "lengths");
    set(r, "muscleLength", length, token);
    return true;
  }
  const action = token.kind === "word" ? actionWords[token.text] : undefined;
  if (action !== undefined) {
    r.index += 1;
    void (takeRun(r, "a load") || takeRun(r, "against a fixed stop"));
    set(r, "action", action, token);
    return true;
  }
  const joint = token.kind === "word" ? jointWords[token.text] : undefined;
  if (joint !== undefined) {
    r.index += 1;
    take(r, "at");
    set(r, "joint", joint, token);
    if (isAngle(r)) angles(r);
    return true;
  }
  return false;
};

const clause = (r: Reader): void => {
  if (take(r, "at") !== undefined) return afterAt(r);
  if (isAngle(r)) return angles(r);
  if (look(r).kind === "number") return numberClause(r);
  if (wordClause(r)) return undefined;
  return fail(
    r,
    "an effort, a rest, a frequency, weeks, a muscle length, an angle, an action or an intent",
    "4 × 30 s at 70–75 %, rest 15 s, 3/week, 12 weeks, long, knee 90°, pushing",
  );
};

/** Settles what the count of a one-level form counts, now that the rests are known. */
const settleLevels = (r: Reader): void => {
  const sets = r.places.get("restBetweenSetsSeconds");
  if (!r.oneLevel || sets === undefined) return;
  if (r.draft.restBetweenRepetitionsSeconds !== undefined)
    fail(
      r,
      "sets for this rest to lie between, written round the holds,",
      "3 × (4 × 30 s), rest 15 s, 60 s between sets",
      sets,
      "rest-without-sets",
    );
  r.draft.sets = r.draft.repetitions;
  r.draft.repetitions = 1;
};

/**
 * The prescription a short written form stands for.
 *
 * `4 × 30 s` is one set of four holds; `4 × (5 × 3 s)` four sets of five. Where `4 × 30 s` goes with
 * a rest *between sets* only, it is four sets of one hold. A second rest (`rests 3 s and 2 min`) is
 * the one between sets. Times may be in seconds or minutes and are kept in seconds. A percentage
 * with no basis keeps none. Order after the holds is free; `x`, `×`, hyphens, en dashes and decimal
 * commas are all read.
 *
 * @throws CallError (a `WrittenFormError`) that points at the place in the text, says what was
 *   expected there, and gives an example
 * @example parsePrescription("4 x 30 s at 70-75 %, rest 15 s, 3/week, 12 weeks, long").weeks // 12
 */
export const parsePrescription = (text: string): Prescription => {
  const r: Reader = {
    text,
    tokens: writtenTokens(text),
    index: 0,
    draft: {},
    places: new Map(),
    oneLevel: false,
  };
  work(r);
  while (look(r).kind !== "end") {
    while (take(r, ...separators) !== undefined);
    if (look(r).kind !== "end") clause(r);
  }
  settleLevels(r);
  if (r.draft.effortRating !== undefined && r.draft.intensityBasis === undefined)
    r.draft.intensityBasis = "effort rating 0–10";
  // The work has set the three fields every prescription has.
  const prescription = r.draft as Prescription;
  const [issue] = prescriptionIssues(prescription);
  if (issue !== undefined)
    fail(
      r,
      `a sound ${fieldWords[issue.column as keyof Prescription]} (this is ${issue.message})`,
      issue.mend,
      r.places.get(issue.column as keyof Prescription) ?? r.tokens[0],
      issue.code,
    );
  return prescription;
};
