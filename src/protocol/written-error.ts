/** What a reader of the written form is told when a text cannot be read, and where. */
import { CallError, type IssueCode } from "../errors.js";

export type WrittenFailure = Readonly<{
  code: IssueCode;
  /** Offset of the first character that does not fit, from 0. */
  place: number;
  /** How many characters do not fit. */
  length: number;
  /** What would fit there. */
  expected: string;
  /** A piece of text that does. */
  example: string;
}>;

/** The text with a second line of carets under the characters that do not fit. */
const caretLines = (text: string, place: number, length: number): string =>
  `  ${text.replace(/\s/gu, " ")}\n  ${" ".repeat(place)}${"^".repeat(length)}`;

/** The written form could not be read: a `CallError` that also says where, and what was meant. */
export class WrittenFormError extends CallError {
  declare readonly code: IssueCode;
  /** The text that was given. */
  readonly text: string;
  readonly place: number;
  /** At least 1. */
  readonly length: number;
  readonly expected: string;
  readonly example: string;
  /** A whole protocol in the written form, near the text, that can be read; absent where none is near. */
  readonly meant?: string;
  constructor(text: string, failure: WrittenFailure, meant?: string) {
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
      try: `for example ${failure.example}\n${caretLines(text, failure.place, length)}${
        meant === undefined ? "" : `\n  Did you mean: ${meant}`
      }`,
    });
    this.text = text;
    this.place = failure.place;
    this.length = length;
    this.expected = failure.expected;
    this.example = failure.example;
    if (meant !== undefined) this.meant = meant;
  }
}
