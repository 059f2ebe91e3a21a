import { escapeHtml } from "../tables/escape-html.js";
import { show } from "./show-on.js";

/**
 * Nothing; shows sentences below the cell, one a line, wrapped to the width of the page.
 *
 * @param sentences text, which stays text whatever file it came from
 * @source none: a layout
 */
export const showSentences = (sentences: readonly string[]): void => {
  const lines = sentences.map(
    (sentence) => `<p style="max-width:46em;margin:0.4em 0">${escapeHtml(sentence)}</p>`,
  );
  show("text/html", lines.join("\n"));
};
