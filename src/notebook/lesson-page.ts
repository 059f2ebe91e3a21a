/** A lesson as a page to read: its words, its cells, and what they showed when it was last run. */
import { documentHtml } from "../course/paper.js";
import { escapeLines } from "../tables/escape-html.js";

/** A notebook as far as it is read: cells with their words, and what they showed. */
export type Lesson = Readonly<{
  cells: readonly Readonly<{
    cell_type: string;
    source: readonly string[];
    outputs?: readonly Readonly<{
      text?: readonly string[];
      data?: Readonly<Record<string, unknown>>;
    }>[];
  }>[];
}>;

export const readLesson = (text: string): Lesson => JSON.parse(text) as Lesson;

/** Words of a line with what is set apart in it: code, strong words, others. */
export const inlineHtml = (text: string): string =>
  text
    .split(/(`[^`]*`)/)
    .map((part) =>
      part.startsWith("`")
        ? `<code>${escapeLines(part.slice(1, -1))}</code>`
        : escapeLines(part)
            .replace(/\*\*([^*]+)\*\*/g, "<strong>$1</strong>")
            .replace(/\*([^*]+)\*/g, "<em>$1</em>"),
    )
    .join("");

const blockHtml = (block: string): string => {
  const heading = /^(#{1,3}) (.*)$/.exec(block);
  if (heading !== null) {
    const [, marks = "", words = ""] = heading;
    return `<h${marks.length}>${inlineHtml(words)}</h${marks.length}>`;
  }
  if (block.startsWith("```"))
    return `<pre>${escapeLines(block.replace(/^```.*\n|\n```$/g, ""))}</pre>`;
  if (block.startsWith("    ")) return `<pre>${escapeLines(block.replace(/^ {4}/gm, ""))}</pre>`;
  if (block.startsWith("- "))
    return `<ul>${block
      .slice(2)
      .split("\n- ")
      .map((item) => `<li>${inlineHtml(item)}</li>`)
      .join("")}</ul>`;
  return `<p>${inlineHtml(block)}</p>`;
};

/** What one cell showed; the specification beside a drawing is left to notebooks. */
const shownHtml = ({ text, data }: NonNullable<Lesson["cells"][number]["outputs"]>[number]) => {
  if (text !== undefined) return [`<pre class="printed">${escapeLines(text.join(""))}</pre>`];
  const html = data?.["text/html"];
  return Array.isArray(html) ? [`<figure class="shown">${html.join("")}</figure>`] : [];
};

const style = `
body { margin: 0 auto; max-width: 60em; padding: 1.5em 1em 4em; color: #1b2530; background: #fff; font: 1em/1.5 Inter, "Helvetica Neue", Arial, sans-serif; overflow-wrap: break-word; }
h1, h2 { font-family: "Source Serif 4", Georgia, serif; line-height: 1.2; }
h2 { border-top: 1px solid #1b2530; padding-top: 0.7em; margin-top: 1.6em; }
pre { overflow-x: auto; padding: 0.6em 0.8em; margin: 0.6em 0; background: #f4f1ea; font-size: 0.88em; line-height: 1.4; }
pre.printed { background: none; border-left: 3px solid #d3dae1; }
.shown { margin: 0.6em 0; }
table { border-collapse: collapse; font-size: 0.9em; } th, td { padding: 0.15em 0.6em; border-bottom: 1px solid #d3dae1; vertical-align: top; }
img { max-width: 100%; height: auto; }
`;

/**
 * The page of a lesson; it makes no request and runs nothing.
 *
 * @param lesson with what its cells showed
 */
export const lessonPage = (lesson: Lesson): string => {
  const [first] = lesson.cells;
  const title = (first?.source[0] ?? "A lesson").replace(/^# |\n/g, "");
  return documentHtml(
    title,
    lesson.cells.flatMap(({ cell_type: type, source, outputs = [] }) => {
      const text = source.join("");
      return type === "code"
        ? [`<pre class="code">${escapeLines(text)}</pre>`, ...outputs.flatMap(shownHtml)]
        : text.split(/\n{2,}/).map(blockHtml);
    }),
    { css: style },
  );
};
