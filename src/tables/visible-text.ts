/**
 * A text without control characters, on one line.
 *
 * Cells come from files that strangers wrote: an escape sequence must not reach a terminal, and
 * characters that reverse the direction of reading must not disguise a value.
 */
export const visibleText = (text: string): string =>
  text
    .replace(/[\t\n\v\f\r\u0085\u2028\u2029]+/g, " ")
    .replace(/[\p{Cc}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, "")
    .trim();
