/**
 * A text without what makes a terminal do anything but show it: escape sequences and other control characters, and
 * those that reverse the direction of reading. Tabs and ends of lines stay.
 */
export const harmlessText = (text: string): string =>
  text.replace(/(?![\t\n]|\r\n)[\p{Cc}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, "");

/**
 * A text on one line, without control characters.
 *
 * Cells come from files that strangers wrote: what reverses the direction of reading must not disguise a value, and
 * an end of a line must not break a table.
 */
export const visibleText = (text: string): string =>
  harmlessText(text.replace(/[\t\n\v\f\r\u0085\u2028\u2029]+/g, " ")).trim();
