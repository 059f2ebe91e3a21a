import { visibleText } from "./visible-text.js";

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** A text that is only ever text in HTML, in an element or between quotes of an attribute. */
export const escapeHtml = (text: string): string =>
  visibleText(text).replace(/[&<>"']/g, (character) => entities[character] ?? "");
