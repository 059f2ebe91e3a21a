/**
 * The rests: `rest 15 s`, `rests 3 s and 2 min`, `60 s between sets`, `15 s rest`.
 */
import { duration, fail, isAny, isTime, look, set, take } from "./written-reader.js";
import type { Reader } from "./written-reader.js";
import { holdWords, repetitionWords, setWords } from "./written-work.js";

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
