/**
 * The holds: `4 × 30 s`, `4 × (5 × 3 s)`, `3 sets of 10 × 6 s`, `30 s`.
 */
import { duration, fail, isAny, look, number, set, take } from "./written-reader.js";
import type { Reader } from "./written-reader.js";
import type { Token } from "./written-tokens.js";

export const holdWords = ["hold", "holds", "contraction", "contractions", "each"];
export const repetitionWords = ["rep", "reps", "repetition", "repetitions", "hold", "holds"];
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
