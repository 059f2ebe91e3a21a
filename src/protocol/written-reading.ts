/** What a text has said so far, and the small moves every phrase is read with. */
import type { IssueCode } from "../errors.js";
import { fieldWords, rangeFields, type Prescription, type RangeField } from "./prescription.js";
import { WrittenFormError } from "./written-error.js";
import {
  letters,
  rangeIn,
  readTwoWays,
  secondsIn,
  type NumberForms,
  type Range,
} from "./written-numbers.js";

export type Span = Readonly<{ start: number; stop: number }>;
export type RestField = "restBetweenRepetitionsSeconds" | "restBetweenSetsSeconds";

/** A phrase found in a text: its place, its words, and the parts its pattern names. */
export type Match = Span &
  Readonly<{
    text: string;
    has: (name: string) => boolean;
    /** The words of the first of these parts to the last; empty where the first is absent. */
    said: (name: string, to?: string) => string;
    asWritten: (name: string) => string;
    range: (name: string) => Range;
    seconds: (name: string) => Range;
    part: (name: string) => Span;
  }>;

export type Reading = {
  readonly text: string;
  readonly draft: { -readonly [Field in keyof Prescription]?: Prescription[Field] };
  /** Where each field was read, for errors found once all is read. */
  readonly places: Map<keyof Prescription, Span>;
  /** What was assumed, in words. */
  readonly taken: string[];
  /** A count of holds whose level the sets and the rests decide. */
  count?: Readonly<{ value: Range; at: Span; named: boolean }>;
  /** `4 x 30` or `4 x 10`: seconds or holds, settled when all is read. */
  pair?: Readonly<{ a: Range; b: Range; at: Span; said: string }>;
  /** Rest as a multiple of the hold. */
  ratio?: Readonly<{ value: number; at: Span; said: string }>;
  setsByWord: boolean;
};

export const fail = (
  r: Reading,
  at: Span,
  expected: string,
  example: string,
  code: IssueCode = "unexpected",
): never => {
  throw new WrittenFormError(r.text, {
    code,
    place: at.start,
    length: at.stop - at.start,
    expected,
    example,
  });
};

/** Says what something was taken as. */
export const take = (r: Reading, said: string, as: string): void => {
  r.taken.push(`“${said.trim()}” taken as ${as}`);
};

export const put = <Field extends keyof Prescription>(
  r: Reading,
  field: Field,
  value: Reading["draft"][Field],
  at: Span,
): void => {
  if (r.draft[field] === value && typeof value === "string") return;
  if (r.draft[field] !== undefined)
    fail(r, at, `one ${fieldWords[field]}, not a second`, "each thing said once", "said-twice");
  r.draft[field] = value;
  r.places.set(field, at);
};

export const putRange = (r: Reading, field: RangeField, { low, high }: Range, at: Span): void => {
  put(r, field, low, at);
  if (high !== undefined) put(r, rangeFields[field], high, at);
};

/** A rest that does not say where it lies is the one between holds, a second one that between sets. */
export const putRest = (
  r: Reading,
  field: RestField | undefined,
  seconds: Range,
  at: Span,
): void => {
  const free =
    r.draft.restBetweenRepetitionsSeconds === undefined ||
    r.draft.restBetweenSetsSeconds !== undefined;
  putRange(
    r,
    field ?? (free ? "restBetweenRepetitionsSeconds" : "restBetweenSetsSeconds"),
    seconds,
    at,
  );
};

/** The match of a pattern at a place of the plain text. */
export const matchAt = (
  text: string,
  plain: string,
  pattern: RegExp,
  place: number,
): Match | undefined => {
  pattern.lastIndex = place;
  const found = pattern.exec(plain);
  if (found === null || found[0].trim() === "") return undefined;
  const groups = found.groups ?? {};
  const said = (name: string): string => groups[name] ?? "";
  const span = (name: string): Span => {
    const [start, stop] = found.indices?.groups?.[name] ?? [place, place];
    return { start, stop };
  };
  const words = found[0].trimEnd();
  return {
    start: place,
    stop: place + words.length,
    text: words,
    has: (name) => said(name) !== "",
    said: (name, to = name) =>
      said(name) === "" ? "" : plain.slice(span(name).start, span(to).stop),
    asWritten: (name) => text.slice(span(name).start, span(name).stop),
    range: (name) => rangeIn(said(name)),
    seconds: (name) => secondsIn(said(name)),
    part: span,
  };
};

/** A number that can be read two ways is refused before anything is read. */
export const refuseTwoWays = (r: Reading, plain: string): void => {
  const number = readTwoWays(plain);
  if (number === undefined) return;
  const start = plain.indexOf(number);
  fail(
    r,
    { start, stop: start + number.length },
    "a number that can be read one way",
    `${number.replace(",", "")} or ${number.replace(",", ".")}`,
    "ambiguous-number",
  );
};

/** A pattern and what it says. */
export type Phrase = Readonly<{
  pattern: (forms: NumberForms) => RegExp;
  say: (r: Reading, m: Match) => void;
}>;

/** What may not follow a bare number, lest a percentage or an angle be read as seconds. */
export const inner = String.raw`(?! (?:%|percent|°|deg|rm~|\/|kg|bw|'|"|x))`;
/**
 * A phrase from its pattern. In it a space stands for any space or none, `~` for the end of a word,
 * `{name:R}` for a number or a range of them, `{name:N}` for one number, `{name:T}` for a time,
 * `{name:B}` and `{name:Q}` for a time or a bare number.
 */
export const phrase = (source: string, say: Phrase["say"]): Phrase => {
  // Made when the first text is read: a command that reads none does not wait for a hundred patterns.
  const made = new Map<NumberForms, RegExp>();
  return {
    pattern: (forms) => {
      const pattern = made.get(forms) ?? patternOf(source, forms);
      made.set(forms, pattern);
      return pattern;
    },
    say,
  };
};

const patternOf = (source: string, { number, range, time }: NumberForms): RegExp =>
  new RegExp(
    source
      .replace(/\{(\w+):R\}/gu, `(?<$1>${range})`)
      .replace(/\{(\w+):N\}/gu, `(?<$1>${number})`)
      .replace(/\{(\w+):T\}/gu, `(?<$1>${time})`)
      .replace(/\{(\w+):B\}/gu, `(?<$1>${time}|${range}${inner})`)
      .replace(/\{(\w+):Q\}/gu, `(?<$1>${time}|${range}(?!\\s*(?:%|percent|°|deg)))`)
      .replace(/~/gu, `(?![${letters}])`)
      .replace(/ /gu, String.raw`\s*`),
    "duy",
  );
