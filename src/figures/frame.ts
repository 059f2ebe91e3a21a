/** The frame that every figure is drawn in: a heading that answers, the drawing, its key in words, and where it is from. */
import type { TopLevelSpec } from "vega-lite";
import type { Figure } from "./figure.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";
import { figureTheme } from "./theme.js";
import { oneLine, sentencesOf, wrapText } from "./wrap-text.js";

/** A column of text or a phone, a page, and a slide to project. */
export const figureSizes = ["column", "page", "slide"] as const;
export type FigureSize = (typeof figureSizes)[number];
export const figureSizeDefault = "page" satisfies FigureSize;

/** What a figure may fill, in drawing units: eleven of them are the smallest type. */
export type Room = Readonly<{
  size: FigureSize;
  width: number;
  /** Most rows, or groups, on one picture. */
  rows: number;
  /** Whether all rows are wanted, on as many pictures as they need, where many would be told in fewer. */
  all?: boolean;
}>;

const smallest = figureTheme.sizes.small;

type Sheet = Readonly<{
  room: Room;
  padding: number;
  /** Points of the picture for one drawing unit: the smallest type is 13 of them, on a slide 36. */
  scale: number;
  /** The whole picture in points; as high and as wide as what is drawn where left out. */
  points?: readonly [number, number];
  headingSizes: readonly number[];
  headingLines: number;
  /** Of a heading too long for those, with a line more. */
  longHeadingSizes?: readonly number[];
  subtitleLines: number;
  captionLines: number;
}>;

/** A card is as wide as a slide and as high as what it says. */
type SheetName = FigureSize | "card";

const sheets: Readonly<Record<SheetName, Sheet>> = {
  column: {
    room: { size: "column", width: 288, rows: 40 },
    padding: 8,
    scale: 13 / smallest,
    headingSizes: [17],
    headingLines: 6,
    subtitleLines: 8,
    captionLines: 60,
  },
  page: {
    room: { size: "page", width: 880, rows: 40 },
    padding: 14,
    scale: 13 / smallest,
    headingSizes: [18],
    headingLines: 4,
    subtitleLines: 5,
    captionLines: 30,
  },
  slide: {
    room: { size: "slide", width: 558, rows: 12 },
    padding: 12,
    scale: 36 / smallest,
    points: [1920, 1080],
    headingSizes: [30, 28, 26, 24, 22, 20, 18],
    headingLines: 2,
    longHeadingSizes: [18, 17, 16, 15, 14, 13, 12],
    subtitleLines: 1,
    captionLines: 1,
  },
  card: {
    room: { size: "slide", width: 558, rows: 8 },
    padding: 16,
    scale: 2,
    headingSizes: [20],
    headingLines: 12,
    subtitleLines: 6,
    captionLines: 4,
  },
};

/** The room that a size gives the drawing inside the frame. */
export const roomOf = (size: SheetName = figureSizeDefault): Room => sheets[size].room;

/** Below so many drawing units a page has no room, and a figure is laid out as in a column of text. */
export const narrowestPage = 500;

/** How wide a page draws what fills so many points, in drawing units; undefined where it is as wide as it ever is. */
export const pageWidthIn = (points: number): number | undefined => {
  const { scale, padding, room } = sheets.page;
  const width = Math.floor(points / scale) - 2 * padding;
  return width < room.width ? width : undefined;
};

/** Points of the smallest type of a figure whose picture is so wide, where it is made to fit so many. */
export const typeWithin = ({ picture }: Figure, width: number, points: number): number =>
  smallest * (picture?.scale ?? 1) * Math.min(1, points / width);

/** What a frame says around a drawing. */
export type FrameWords = Readonly<{
  /** Every number was made up, and the drawing itself says so. */
  invented?: boolean | undefined;
  /** The answer in a sentence, above the figure's own title. */
  sentence?: string | undefined;
  /** File and fingerprint. */
  source?: string | undefined;
}>;

/** What is drawn, without the words around it. */
export const unframed = <T extends FrameWords>({
  sentence: _sentence,
  source: _source,
  ...drawn
}: T) => drawn;

export const inventedWords = "INVENTED DATA: nothing here is evidence.";

type Node = Readonly<Record<string, unknown>>;

/** How wide panels are side by side or one above the other; axes that the drawing library adds are not counted. */
const widthOf = (node: Node): number => {
  const inside = (key: string): readonly Node[] => (node[key] ?? []) as readonly Node[];
  const { spacing = 0, columns = 1, width } = node;
  const gap = typeof spacing === "number" ? spacing : Number((spacing as Node)["column"] ?? 0);
  const beside = (nodes: readonly Node[]): number =>
    nodes.reduce((sum, one) => sum + widthOf(one), gap * Math.max(0, nodes.length - 1));
  if (node["hconcat"] !== undefined) return beside(inside("hconcat"));
  if (node["vconcat"] !== undefined) return Math.max(...inside("vconcat").map(widthOf));
  if (node["concat"] !== undefined) return beside(inside("concat").slice(0, Number(columns)));
  return typeof width === "number" ? width : 0;
};

const textOf = (text: unknown): string =>
  text === undefined ? "" : oneLine(Array.isArray(text) ? text.join(" ") : String(text));

/** Sentences from the first on, as many as fit; a slide takes no more. */
const leading = (
  text: string,
  { width, fontSize, lines }: Parameters<typeof wrapText>[1],
): readonly string[] => {
  const fits = (some: string) =>
    wrapText(some, { width, fontSize, lines: lines + 1 }).length <= lines;
  let kept = "";
  for (const sentence of sentencesOf(text)) {
    const longer = kept === "" ? sentence : `${kept} ${sentence}`;
    if (!fits(longer)) break;
    kept = longer;
  }
  return kept === "" ? [] : wrapText(kept, { width, fontSize, lines });
};

const lineHeight = 14;
/** What a slide needs beside its heading, its drawing, and further lines of its key. */
const slideTaken = 54;

/** Key and source under the drawing. */
const foot = (
  lines: readonly string[],
  width: number,
  { tight }: Readonly<{ tight: boolean }>,
): Panel => {
  const draw = panelDrawing(
    "frame",
    plainFrame(width, (tight ? 6 : 12) + lineHeight * lines.length),
  );
  const placed = lines.map((text, line) => ({ x: 0, y: 14 + lineHeight * line, text }));
  return draw.panel([
    draw.lines("rule", "grid", [{ x: 0, x2: width, y: 4, y2: 4 }]),
    draw.words("caption", "text-small", placed),
  ]);
};

/**
 * A figure in its frame, at one of three sizes.
 *
 * The heading is the answer where one is handed in, and the figure's own title otherwise; under the drawing stand its
 * key in words and its source, so that a copied picture explains itself. A slide keeps the sentences that have room.
 */
export const framed = (
  figure: Figure,
  {
    size = figureSizeDefault,
    invented = false,
    sentence,
    source = "",
    width: wished,
  }: FrameWords & Readonly<{ size?: SheetName; width?: number | undefined }> = {},
): Figure => {
  const sheet = sheets[size];
  const { $schema, description, title, config, ...body } = figure.specification as unknown as Node &
    Readonly<{ title?: Readonly<{ text?: unknown; subtitle?: unknown }> }>;
  const drawn = figure.width ?? widthOf(body);
  const width =
    size === "page" || size === "card"
      ? Math.max(drawn, size === "card" ? sheet.room.width : 420)
      : Math.max(sheet.room.width, wished ?? 0);
  // A drawing that needs more room than was wished is made smaller as a whole.
  const share = wished === undefined ? 1 : Math.min(1, wished / width);
  // Widths of letters are rough, and a slide and a column have no room beside them.
  const inside = size === "slide" || size === "column" ? 0.97 * width : width;
  const own = textOf(title?.text);
  const heading = oneLine(sentence ?? own);
  const left =
    sheet.points === undefined || figure.height === undefined
      ? Infinity
      : sheet.points[1] / sheet.scale - 2 * sheet.padding - figure.height - slideTaken;
  const { headingSizes, headingLines, longHeadingSizes = [] } = sheet;
  const largest = (most: number, sizes: readonly number[], lines = headingLines) =>
    sizes.find((one) => {
      const { length } = wrapText(heading, { width: inside, fontSize: one, lines: 9 });
      return length <= lines && length * Math.round(one * 1.18) <= most;
    });
  // Room for a line of the key goes before the largest heading, and the heading before a second line.
  const fontSize =
    largest(left - lineHeight, headingSizes) ??
    largest(left, headingSizes) ??
    largest(left, longHeadingSizes, headingLines + 1) ??
    [...headingSizes, ...longHeadingSizes].at(-1)!;
  const subtitle = [
    ...(heading === own ? [] : [`${own.replace(/[.?!]$/u, "")}.`]),
    textOf(title?.subtitle),
  ].join(" ");
  const told = (text: string, lines: number, type: number) =>
    text.trim() === ""
      ? []
      : (size === "slide" || size === "card" ? leading : wrapText)(text, {
          width: inside,
          fontSize: type,
          lines,
        });
  const headed = wrapText(heading, {
    width: inside,
    fontSize,
    lines: headingLines + (longHeadingSizes.length > 0 ? 1 : 0),
  });
  const headHeight = headed.length * Math.round(fontSize * 1.18);
  // A slide says where the numbers are from before anything else, and as much of the key as the drawing leaves room for.
  const lines = Number.isFinite(left)
    ? Math.max(1, 1 + Math.floor((left - headHeight) / lineHeight))
    : 1;
  const keyed = [figure.brief ?? "", figure.caption].join(" ").trim();
  const both = told(`${keyed} ${source}`, lines, smallest);
  const [caption, from] =
    size !== "slide"
      ? [
          told(figure.caption, sheet.captionLines, smallest),
          size === "card"
            ? source
                .split("\n")
                .flatMap((text) => wrapText(text, { width, fontSize: smallest, lines: 9 }))
            : told(source, 2, smallest),
        ]
      : both.join(" ").endsWith(source)
        ? [both, []]
        : [told(keyed, lines - 1, smallest), told(source, 1, smallest)];
  const under = [...caption, ...from];
  // What is left of a slide stands around the drawing.
  const spare = Number.isFinite(left)
    ? Math.max(0, left - headHeight - lineHeight * (under.length - 1) - 4)
    : 0;
  const says = invented ? [inventedWords] : [];
  const specification = {
    $schema,
    description: [...says, description].join(" "),
    padding: sheet.padding,
    title: {
      text: [...headed],
      subtitle: [
        ...says,
        ...told(
          subtitle,
          sheet.subtitleLines - (size === "slide" ? says.length : 0),
          figureTheme.sizes.subtitle,
        ),
      ],
      fontSize,
      lineHeight: Math.round(fontSize * 1.18),
      ...(size === "slide" ? { offset: 8 + spare / 2 } : {}),
    },
    spacing: 6 + spare / 2,
    vconcat: [body, foot(under, width, { tight: size === "slide" })],
    config,
  } as unknown as TopLevelSpec;
  return {
    ...figure,
    caption: [...says, figure.caption].join(" "),
    description: [...says, figure.description].join(" "),
    specification,
    picture: {
      scale: sheet.scale * share,
      ...(sheet.points === undefined ? {} : { points: sheet.points }),
    },
  };
};
