/**
 * The written form cut into tokens, each with its place in the text. Spelling variants that mean the
 * same (`x`, `X`, `×`, `*`; hyphen, en dash, minus; decimal point or comma) become one here.
 */
import { type IssueCode, CallError } from "../errors.js";

export type Token = Readonly<{
  kind: "number" | "word" | "sign" | "quoted" | "end";
  /** Lower case for words; the canonical sign for signs; the inside for quoted text. */
  text: string;
  /** The number's value; NaN for other kinds. */
  value: number;
  /** Offset of the first character, from 0, and of the one after the last. */
  start: number;
  stop: number;
}>;

const signs: Readonly<Record<string, string>> = {
  x: "×",
  X: "×",
  "×": "×",
  "✕": "×",
  "*": "×",
  "-": "-",
  "‐": "-",
  "‑": "-",
  "–": "-",
  "—": "-",
  "−": "-",
  "/": "/",
  "(": "(",
  ")": ")",
  "%": "%",
  "°": "°",
  "@": "at",
  ",": ",",
  ";": ";",
  ".": ".",
  ":": ":",
};

const numberPattern = /(?:\d+(?:[.,]\d+)?|\.\d+)(?:e[+-]?\d+)?/iuy;
const wordPattern = /\p{L}+/uy;
const quotedPattern = /"([^"\n\r]*)"/uy;

/**
 * The tokens of a text, in order, closed by one of kind `end`.
 *
 * A comma between digits is a decimal comma, unless three digits follow it: `1,200 s` could be two
 * numbers a thousandfold apart and is refused.
 *
 * @throws CallError at a character that belongs to no token
 */
export const writtenTokens = (text: string): readonly Token[] => {
  const tokens: Token[] = [];
  let place = 0;
  const at = (pattern: RegExp): RegExpExecArray | undefined => {
    pattern.lastIndex = place;
    return pattern.exec(text) ?? undefined;
  };
  const push = (kind: Token["kind"], written: string, length: number, value = NaN): void => {
    tokens.push({ kind, text: written, value, start: place, stop: place + length });
    place += length;
  };
  while (place < text.length) {
    const character = text.charAt(place);
    if (/\s/u.test(character)) {
      place += 1;
      continue;
    }
    const number = at(numberPattern)?.[0];
    if (number !== undefined) {
      if (/^\d+,\d{3}$/u.test(number))
        throw new WrittenFormError(text, {
          code: "ambiguous-number",
          place,
          length: number.length,
          expected: "a number that can be read one way",
          example: `${number.replace(",", "")} or ${number.replace(",", ".")}`,
        });
      push("number", number, number.length, Number(number.replace(",", ".")));
      continue;
    }
    const word = at(wordPattern)?.[0];
    if (word !== undefined && word.toLowerCase() !== "x") {
      push("word", word.toLowerCase(), word.length);
      continue;
    }
    const quoted = at(quotedPattern);
    if (quoted !== undefined) {
      push("quoted", quoted[1] ?? "", quoted[0].length);
      continue;
    }
    const sign = signs[character];
    if (sign === undefined)
      throw new WrittenFormError(text, {
        code: "unknown-character",
        place,
        length: 1,
        expected: "words, numbers and the signs × ( ) % ° / @",
        example: "4 × 20 s at 70%, rest 60 s",
      });
    push(sign === "at" ? "word" : "sign", sign, 1);
  }
  tokens.push({ kind: "end", text: "", value: NaN, start: text.length, stop: text.length });
  return tokens;
};

/** The written form could not be read: a `CallError` that also says where. */
export class WrittenFormError extends CallError {
  declare readonly code: IssueCode;
  /** The text that was given. */
  readonly text: string;
  /** Offset of the first character that does not fit, from 0. */
  readonly place: number;
  /** How many characters do not fit; at least 1. */
  readonly length: number;
  /** What would fit there. */
  readonly expected: string;
  /** A piece of text that does. */
  readonly example: string;
  constructor(text: string, failure: WrittenFormFailure) {
    const length = Math.max(1, failure.length);
    const got =
      failure.place >= text.length
        ? "the end of the text"
        : `"${text.slice(failure.place, failure.place + length)}"`;
    super({
      code: failure.code,
      where: "a protocol",
      needs: `${failure.expected} at character ${failure.place + 1}`,
      got,
      try: `for example ${failure.example}\n${caretLines(text, failure.place, length)}`,
    });
    this.text = text;
    this.place = failure.place;
    this.length = length;
    this.expected = failure.expected;
    this.example = failure.example;
  }
}

type WrittenFormFailure = Readonly<{
  code: IssueCode;
  place: number;
  length: number;
  expected: string;
  example: string;
}>;

/** The text with a second line of carets under the characters that do not fit. */
const caretLines = (text: string, place: number, length: number): string =>
  `  ${text.replace(/\s/gu, " ")}\n  ${" ".repeat(place)}${"^".repeat(length)}`;
