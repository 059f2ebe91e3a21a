import type { IntensityBasis } from "./prescription.js";
import {
  duration,
  fail,
  isAny,
  isTime,
  look,
  number,
  range,
  set,
  take,
  takeRun,
  type Reader,
} from "./written-reader.js";
import type { Token } from "./written-tokens.js";

/**
 * The holds: `4 × 30 s`, `4 × (5 × 3 s)`, `3 sets of 10 × 6 s`, `30 s`.
 */

export const holdWords = ["hold", "holds", "contraction", "contractions", "each"];
const repetitionWords = ["rep", "reps", "repetition", "repetitions", "hold", "holds"];
export const setWords = ["set", "sets"];

const hold = (r: Reader): void => {
  const token = look(r);
  const { low, high } = duration(r);
  set(r, "holdSeconds", low, token);
  if (high !== undefined) set(r, "holdSecondsHigh", high, token);
  if (take(r, ...holdWords) !== undefined) take(r, "each");
};
const isTimes = (token: Token): boolean => isAny(token, ["×"]);
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

export const work = (r: Reader): void => {
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

/** Settles what the count of a one-level form counts, now that the rests are known. */
export const settleLevels = (r: Reader): void => {
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
  r.draft.sets = r.draft.repetitions ?? 1;
  r.draft.repetitions = 1;
};

/**
 * The effort: `70–75%`, `80% MVC`, `effort 7`, `7/10`, `maximal`.
 */

const mvcWords = ["mvc", "mvic", "mvt", "mvf", "maximum", "max"];

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
  if (r.index !== start) fail(r, "what the percentage is of, MVC or 1RM,", "70% MVC or 70% of 1RM");
  return undefined;
};
export const percentage = (r: Reader): void => {
  const token = look(r);
  const { low, high } = range(r, "an intensity", "70%");
  if (take(r, "%", "percent") === undefined) fail(r, "a percent sign", "70% or 70–75%");
  set(r, "intensityPercent", low, token);
  if (high !== undefined) set(r, "intensityPercentHigh", high, token);
  const basis = basisAfterPercent(r);
  if (basis !== undefined) set(r, "intensityBasis", basis, token);
};
export const rating = (r: Reader): void => {
  const token = number(r, "a rating from 0 to 10", "effort 7");
  if (take(r, "/") !== undefined || takeRun(r, "out of"))
    if (number(r, "10, the top of the scale,", "7/10").value !== 10)
      fail(r, "10, the top of the scale,", "7/10", r.tokens[r.index - 1]);
  set(r, "effortRating", token.value, token);
};
export const isRating = (r: Reader, ahead: number): boolean =>
  look(r, ahead).kind === "number" &&
  ((isAny(look(r, ahead + 1), ["/"]) && look(r, ahead + 2).kind === "number") ||
    (isAny(look(r, ahead + 1), ["out"]) && isAny(look(r, ahead + 2), ["of"])));

export const maximal = (r: Reader): void => {
  const token = look(r);
  r.index += 1;
  take(r, "effort", "efforts");
  set(r, "intensityBasis", "maximal effort", token);
};

/**
 * The rests: `rest 15 s`, `rests 3 s and 2 min`, `60 s between sets`, `15 s rest`.
 */

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
export const rests = (r: Reader): void => {
  const named = between(r);
  take(r, "of", "for", ":");
  const token = look(r);
  const seconds = restTime(r);
  const field = named ?? between(r);
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
export const restByTime = (r: Reader): void => {
  const token = look(r);
  const seconds = restTime(r);
  const named = take(r, "rest", "rests", "pause") !== undefined;
  const field = between(r);
  if (!named && field === undefined)
    fail(r, "what this time is", "rest 15 s or 60 s between sets", token);
  set(r, field ?? "restBetweenRepetitionsSeconds", seconds, token);
};
