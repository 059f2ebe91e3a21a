/** Sentences set as a picture, for a slide whose message is no drawing: a name at the left, what is said of it at the right. */
import type { Figure } from "./figure.js";
import type { Room } from "./frame.js";
import { panelDrawing, plainFrame, type Words } from "./layer.js";
import { themeConfig } from "./theme-config.js";
import { figureTheme } from "./theme.js";
import { wrapText } from "./wrap-text.js";

/** A line of the picture. */
export type NamedText = Readonly<{ name: string; text: string }>;

export type LinesInput = Readonly<{
  id: string;
  title: string;
  rows: readonly NamedText[];
  caption: string;
}>;

/** Sizes of type tried on a slide, the largest first. */
const slideTypes = [16, 15, 14, 13, 12, figureTheme.sizes.body] as const;

/** What a heading of two lines and a source leave of a slide, in drawing units. */
const slideHeight = 218;

/**
 * Rows of a name and a text, set as large as the room allows.
 *
 * On a slide as many rows as fit, and how many do not; elsewhere all of them.
 */
export const linesFigure = ({ id, title, rows, caption }: LinesInput, room?: Room): Figure => {
  const { size = "page", width = 880 } = room ?? {};
  const named = rows.some(({ name }) => name !== "");
  const isNarrow = size === "column";
  const left = named && !isNarrow ? Math.round(width * 0.25) : 0;
  const setIn = (type: number) => {
    const line = type * 1.32;
    return rows.map(({ name, text }) => {
      const wrap = (words: string, wide: number) =>
        words === "" ? [] : wrapText(words, { width: 0.95 * wide, fontSize: type, lines: 40 });
      const names = wrap(name, left === 0 ? width : left - 12);
      const texts = wrap(text, width - left);
      const lines = isNarrow ? names.length + texts.length : Math.max(names.length, texts.length);
      return { names, texts, height: lines * line + type * 0.7 };
    });
  };
  const heightOf = (some: ReturnType<typeof setIn>): number =>
    some.reduce((sum, { height }) => sum + height, 0);
  const type =
    size === "slide"
      ? (slideTypes.find((one) => heightOf(setIn(one)) <= slideHeight) ?? figureTheme.sizes.body)
      : figureTheme.sizes.body;
  const all = setIn(type);
  const fits = (count: number): boolean =>
    size !== "slide" ||
    heightOf(all.slice(0, count)) <= slideHeight - (count < all.length ? 16 : 0);
  const count = all.findLastIndex((_, at) => fits(at + 1)) + 1;
  const more = all.length - count;
  const placed: (Words & Readonly<{ style: string }>)[] = [];
  const rules: number[] = [];
  let y = 0;
  const put = (style: string, x: number, texts: readonly string[], from: number) =>
    texts.forEach((text, at) =>
      placed.push({ style, x, y: from + type * 0.8 + at * type * 1.32, text }),
    );
  for (const { names, texts, height } of all.slice(0, count)) {
    if (y > 0) rules.push(y);
    put("text-strong", 0, names, y + type * 0.2);
    put("text-body", left, texts, y + type * 0.2 + (isNarrow ? names.length * type * 1.32 : 0));
    y += height;
  }
  if (more > 0) put("text-quiet", left, [`and ${more} more`], y + 2);
  const height = Math.ceil(y + (more > 0 ? 16 : 0));
  const draw = panelDrawing("lines", plainFrame(width, Math.max(1, height)));
  const styles = [...new Set(placed.map(({ style }) => style))];
  return {
    id,
    title,
    caption,
    description: [title, ...rows.map(({ name, text }) => `${name} ${text}`.trim())].join(" "),
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      title: { text: title },
      hconcat: [
        draw.panel([
          draw.lines(
            "rules",
            "grid",
            rules.map((at) => ({ x: 0, x2: width, y: at, y2: at })),
          ),
          ...styles.map((style) =>
            draw.words(
              style,
              style,
              placed.filter((one) => one.style === style).map(({ style: _, ...one }) => one),
              { fontSize: type },
            ),
          ),
        ]),
      ],
      config: themeConfig("light"),
    },
    width,
    height,
    data: rows.map(({ name, text }) => ({ name, text })),
  };
};
