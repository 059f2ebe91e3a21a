/**
 * The reader of the written form: where it stands, what it has understood, and the small moves every
 * clause is read with. Each move either goes forward or points at the token that does not fit.
 */
import type { IssueCode } from "../errors.js";
import type { Prescription } from "./prescription.js";
import { WrittenFormError, type Token } from "./written-tokens.js";

export type Draft = { -readonly [Field in keyof Prescription]?: Prescription[Field] };
export type Range = Readonly<{ low: number; high?: number }>;

/** A reader standing at a place in the tokens; `draft` is what it has understood so far. */
export type Reader = {
  readonly text: string;
  readonly tokens: readonly Token[];
  index: number;
  readonly draft: Draft;
  /** Token at which each field was read, for errors found once all is read. */
  readonly places: Map<keyof Prescription, Token>;
  /** True while the work is one level deep (`4 x 30 s`), so that rests decide what the 4 counts. */
  oneLevel: boolean;
};

export const secondsIn: Readonly<Record<string, number>> = {
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
export const fieldWords: Readonly<Record<keyof Prescription, string>> = {
  sets: "number of sets",
  repetitions: "number of repetitions",
  holdSeconds: "length of hold",
  holdSecondsHigh: "length of hold",
  intensityPercent: "intensity",
  intensityPercentHigh: "intensity",
  effortRating: "effort",
  intensityBasis: "basis of the intensity",
  restBetweenRepetitionsSeconds: "rest between holds",
  restBetweenSetsSeconds: "rest between sets",
  sessionsPerWeek: "number of sessions a week",
  weeks: "number of weeks",
  muscleLength: "muscle length",
  trainingAngleDegrees: "list of angles",
  action: "action",
  effortIntent: "intent",
  joint: "joint",
};

export const look = (r: Reader, ahead = 0): Token =>
  r.tokens[Math.min(r.index + ahead, r.tokens.length - 1)] as Token;
export const isAny = (token: Token, words: readonly string[]): boolean =>
  token.kind !== "quoted" && token.kind !== "number" && words.includes(token.text);
export const take = (r: Reader, ...words: readonly string[]): Token | undefined => {
  const token = look(r);
  if (!isAny(token, words)) return undefined;
  r.index += 1;
  return token;
};
/** Takes a whole run of words, or nothing. */
export const takeRun = (r: Reader, run: string): boolean => {
  const words = run.split(" ");
  if (!words.every((word, ahead) => isAny(look(r, ahead), [word]))) return false;
  r.index += words.length;
  return true;
};
export const fail = (
  r: Reader,
  expected: string,
  example: string,
  token: Token = look(r),
  code: IssueCode = "unexpected",
): never => {
  throw new WrittenFormError(r.text, {
    code,
    place: token.start,
    length: token.stop - token.start,
    expected,
    example,
  });
};
export const set = <Field extends keyof Prescription>(
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

export const number = (r: Reader, expected: string, example: string): Token => {
  const token = look(r);
  if (token.kind !== "number") fail(r, expected, example);
  r.index += 1;
  return token;
};
/** `70`, `70-75`, `70 to 75`; what follows the numbers is left to the caller. */
export const range = (r: Reader, expected: string, example: string): Range => {
  const low = number(r, expected, example).value;
  if (look(r, 1).kind !== "number" || take(r, "-", "to") === undefined) return { low };
  return { low, high: number(r, expected, example).value };
};
/** `30 s`, `2 min`, `1 min 30 s`, `3-5 s`. */
export const duration = (r: Reader): Range => {
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
export const isTime = (r: Reader, ahead: number): boolean =>
  look(r, ahead).kind === "word" && secondsIn[look(r, ahead).text] !== undefined;
