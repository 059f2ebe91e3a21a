import { CallError } from "../errors.js";
import type { Figure } from "../figures/figure.js";
import { figureInMode } from "../figures/theme-config.js";
import type { FigureMode } from "../figures/theme.js";

/** Width of a text in drawing units, in the font figures are laid out with. */
export type TextWidth = (text: string, fontSize: number, strong: boolean) => number;

export type FigureSvgOptions = Readonly<{
  textWidth: TextWidth;
  /** Exchanges the figure's colours; the specification is drawn as it stands where left out. */
  mode?: FigureMode;
  /** Runs the drawing's expressions where no text may be turned into code; same drawing, slower. */
  interpreter?: unknown;
}>;

type MeasuredItem = Readonly<{ fontWeight?: unknown; limit?: number }>;

/** Parts of the drawing library that it offers at run time and leaves out of its declarations. */
type TextMeasuring = Readonly<{
  textMetrics: { width: (item: MeasuredItem, text: unknown) => number };
  fontSize: (item: unknown) => number;
  resetSVGDefIds: () => void;
}>;

const complain =
  (figure: Figure, level: string) =>
  (...words: readonly unknown[]) => {
    throw new CallError({
      code: "figure-does-not-compile",
      where: `drawing figure "${figure.id}"`,
      needs: "a specification that compiles without a warning",
      got: `${level}: ${words.map(String).join(" ")}`,
    });
  };

/** A logger that lets no doubt of the drawing library pass: warnings and errors throw. */
const strictLogger = (figure: Figure) => {
  const logger = {
    level: () => logger,
    error: complain(figure, "error"),
    warn: complain(figure, "warning"),
    info: () => logger,
    debug: () => logger,
  };
  return logger;
};

const escaped = (text: string): string =>
  text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");

/** The same attributes with the picture's size in points; the drawing's own units stay in its view box. */
const sized = (attributes: string, { picture }: Figure): string => {
  if (picture === undefined) return attributes;
  const { scale, points } = picture;
  const rounded = (value: number): number => Number(value.toFixed(2));
  return attributes
    .replace(/ (width|height)="([\d.]+)"/g, (_all, side: string, units: string) => {
      const own = points?.[side === "width" ? 0 : 1] ?? Number(units) * scale;
      return ` ${side}="${rounded(own)}"`;
    })
    .replace(/ viewBox="0 0 ([\d.]+) ([\d.]+)"/, (all, ...own: readonly string[]) =>
      points === undefined
        ? all
        : // What is larger than its sheet is drawn smaller, and never cut.
          ` preserveAspectRatio="xMinYMin" viewBox="0 0 ${points.map((side, at) => rounded(Math.max(side / scale, Number(own[at])))).join(" ")}"`,
    );
};

/** The size a drawing says it has, in drawing units. */
export const sizeOf = (svg: string): Readonly<{ width: number; height: number }> => {
  const [, width = "600", height = "400"] =
    /^<svg[^>]* width="([\d.]+)" height="([\d.]+)"/.exec(svg) ?? [];
  return { width: Number(width), height: Number(height) };
};

/** A drawing that carries its type, so that it looks the same wherever it is opened. */
export const withType = (svg: string, faces: string): string =>
  svg.replace(/^<svg[^>]*>/, (tag) => `${tag}<style>${faces}</style>`);

/** The same drawing without it, for a page that has the type already. */
export const withoutType = (svg: string): string =>
  svg.replace(/<style>@font-face.*?<\/style>/s, "");

/**
 * The drawing made ready to stand among others: ids of its own, and one image with a title and a
 * description for those who hear it, instead of a label for every mark.
 *
 * Only tags are touched, never the text between them, which may be the user's.
 */
const finished = (svg: string, figure: Figure): string => {
  const { id } = figure;
  const tagged = svg.replace(/<[a-z][^>]*>/gi, (tag) =>
    tag
      .replace(/ id="([A-Za-z_]+\d+)"/g, ` id="${id}-$1"`)
      .replace(/url\(#([A-Za-z_]+\d+)\)/g, `url(#${id}-$1)`)
      .replace(/ role="graphics-(?:object|symbol)"/g, "")
      .replace(/ aria-roledescription="[^"]*"/g, "")
      .replace(/ aria-hidden="true"/g, ""),
  );
  return tagged.replace(
    // The ground fills the whole sheet, where that is larger than what is drawn.
    /^<svg([^>]*)>(?:<rect width="[\d.]+" height="[\d.]+")?/,
    (tag, attributes: string) =>
      `<svg${sized(attributes, figure)} role="img" aria-labelledby="${id}-title ${id}-description">` +
      `<title id="${id}-title">${escaped(figure.title)}</title>` +
      `<desc id="${id}-description">${escaped(figure.description)}</desc>${tag.includes("<rect") ? '<rect width="100%" height="100%"' : ""}`,
  );
};

const isStrong = (weight: unknown): boolean =>
  weight === "bold" || (typeof weight === "number" ? weight >= 600 : Number(weight) >= 600);

const draw = async (figure: Figure, options: FigureSvgOptions): Promise<string> => {
  const { textWidth, mode, interpreter } = options;
  if (!/^[a-z][a-z0-9-]*$/.test(figure.id)) {
    throw new CallError({
      code: "figure-id",
      where: "drawFigure",
      needs: "a figure id of lower-case letters, digits and hyphens",
      got: JSON.stringify(figure.id),
    });
  }
  const { specification } = mode === undefined ? figure : figureInMode(figure, mode);
  const [vega, vegaLite] = await Promise.all([import("vega"), import("vega-lite")]);
  const measuring = vega as unknown as TextMeasuring;
  measuring.textMetrics.width = (item, text) =>
    // Text past its limit is shortened when drawn, so it never takes more room than the limit.
    Math.min(
      textWidth(String(text ?? ""), measuring.fontSize(item), isStrong(item.fontWeight)),
      item.limit !== undefined && item.limit > 0 ? item.limit : Infinity,
    );

  const logger = strictLogger(figure);
  const compiled = vegaLite.compile(specification, { logger });
  const parsed =
    interpreter === undefined
      ? vega.parse(compiled.spec)
      : vega.parse(compiled.spec, undefined, { ast: true });
  const view = new vega.View(parsed, {
    renderer: "none",
    logger,
    ...(interpreter === undefined ? {} : { expr: interpreter }),
  });
  try {
    await view.runAsync();
    measuring.resetSVGDefIds();
    return finished(await view.toSVG(), figure);
  } finally {
    view.finalize();
  }
};

/** Drawings wait for each other: the drawing library numbers ids and measures text in shared state. */
let queue: Promise<unknown> = Promise.resolve();

/**
 * A figure as SVG text; the same figure and text widths always give the same bytes.
 *
 * Runs the same in Node, in a page and in a worker; nothing but the drawing library is needed. A
 * specification the drawing library doubts in any way is refused, not drawn with gaps.
 *
 * @param figure  from one of the figure functions
 * @throws {CallError} "figure-does-not-compile", "figure-id"
 */
export const figureSvg = (figure: Figure, options: FigureSvgOptions): Promise<string> => {
  const turn = queue.then(() => draw(figure, options));
  queue = turn.catch(() => undefined);
  return turn;
};
