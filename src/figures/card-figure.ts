/** An answer as one picture to share: its headline, its figure in short, how it was asked, and of which file. */
import type { Figure } from "./figure.js";
import { framed, roomOf, type FrameWords } from "./frame.js";
import { panelDrawing, plainFrame } from "./layer.js";
import { themeConfig } from "./theme-config.js";

/** What a card says, in the order it is read; its source is the question, the file and how to check it, a line each. */
export type CardWords = FrameWords &
  Readonly<{
    id: string;
    headline: string;
    /** What the answer says of how sure it is. */
    sentences: readonly string[];
    /** Cautions by their titles, where the answer names a protocol. */
    cautions: string;
  }>;

/** What stands where an answer draws nothing. */
const nothingDrawn = (): Pick<Figure, "specification" | "data"> => {
  const draw = panelDrawing("card", plainFrame(roomOf("slide").width, 1));
  return {
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      hconcat: [draw.panel([draw.words("nothing", "text-small", [{ x: 0, y: 0, text: "" }])])],
      config: themeConfig("light"),
    },
    data: [],
  };
};

/**
 * The card of an answer around the drawing of its first figure.
 *
 * @param drawn that figure as a slide would draw it, without its frame; undefined where there is none
 */
export const cardFigure = (
  { id, headline, sentences, cautions, source, invented }: CardWords,
  drawn: Figure | undefined,
): Figure => {
  const { specification, data, width, height } = {
    width: undefined,
    height: undefined,
    ...(drawn ?? nothingDrawn()),
  };
  return framed(
    {
      id,
      title: headline,
      caption: [cautions, drawn?.caption ?? ""].join(" ").trim(),
      description: [headline, ...sentences, drawn?.description ?? ""].join(" ").trim(),
      specification: {
        ...specification,
        title: { text: headline, subtitle: sentences.join(" ") },
      },
      ...(width === undefined ? {} : { width }),
      ...(height === undefined ? {} : { height }),
      data,
    },
    { size: "card", invented, source },
  );
};
