import { harmlessText, visibleText } from "./visible-text.js";

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** A text that is only ever text in HTML, with its lines and spaces as they stand, as code needs them. */
export const escapeLines = (text: string): string =>
  harmlessText(text).replace(/[&<>"']/g, (character) => entities[character] ?? "");

/** The same on one line, in an element or between quotes of an attribute. */
export const escapeHtml = (text: string): string => escapeLines(visibleText(text));
