import { CallError } from "../errors.js";

/** The written form could not be read: a `CallError` that also says where. */
export class WrittenFormError extends CallError {
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
      where: "parsePrescription",
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

export type WrittenFormFailure = Readonly<{
  code: string;
  place: number;
  length: number;
  expected: string;
  example: string;
}>;

/** The text with a second line of carets under the characters that do not fit. */
export const caretLines = (text: string, place: number, length: number): string =>
  `  ${text.replace(/\s/gu, " ")}\n  ${" ".repeat(place)}${"^".repeat(length)}`;

/** The error for a place in a written prescription. */
export const writtenFormError = (text: string, failure: WrittenFormFailure): WrittenFormError =>
  new WrittenFormError(text, failure);
