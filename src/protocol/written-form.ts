/**
 * The short written form of a prescription, read; one grammar, its words and its clauses in one place.
 *
 *     prescription := work { [","] clause }
 *     work         := n × time | n × (n × time) | n × n × time | n sets of … | time
 *     clause       := effort | rests | frequency | weeks | length | place | action | intent | n sets
 */
import { prescriptionIssues } from "./prescription.js";
import type { Action, Joint, MuscleLength, Prescription } from "./prescription.js";
import {
  isRating,
  maximal,
  percentage,
  rating,
  restByTime,
  rests,
  setWords,
  settleLevels,
  work,
} from "./written-parts.js";
import {
  fail,
  fieldWords,
  isAny,
  look,
  number,
  secondsIn,
  set,
  take,
  takeRun,
} from "./written-reader.js";
import type { Reader } from "./written-reader.js";
import { writtenTokens } from "./written-tokens.js";

export { writePrescription } from "./write-prescription.js";

const weekWords = ["week", "wk", "w"];
const weeksWords = ["weeks", "week", "wks", "wk"];
const timesWords = ["times", "time", "sessions", "session", "days", "day", "×"];
const perWords = ["a", "per", "each", "/", "every"];
const separators = [",", ";", ".", ":", "and", "for", "with", "in"];
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
    "70%, rest 15 s, 3/week, 12 weeks, knee 90°",
    token,
  );
};

/** What may follow `at`: an effort, a length or an angle. */
const afterAt = (r: Reader): void => {
  const token = look(r);
  if (token.kind === "number" || isAny(token, ["-"])) return isAngle(r) ? angles(r) : numberAt(r);
  if (wordClause(r)) return undefined;
  return fail(r, "an intensity", "at 70%, at effort 7 or at maximal effort", token);
};
const numberAt = (r: Reader): void => {
  if (isRating(r, 0)) return rating(r);
  return percentage(r);
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
    "an intensity, a rest, a frequency, weeks, a muscle length, an angle, an action or an intent",
    "4 × 20 s at 70–75%, rest 60 s, 3/week, 12 weeks, long, knee 90°, pushing",
  );
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
 * @example parsePrescription("4 x 20 s at 70-75%, rest 60 s, 3/week, 12 weeks, long").weeks // 12
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
