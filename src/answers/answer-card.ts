/** The card of an answer: a picture to share, with everything inside to ask the question again and compare. */
import type { NamedCard } from "../figures/figure-list.js";
import { unframed } from "../figures/frame.js";
import { CallError } from "../errors.js";
import { cautionTitles } from "../tables/cautions-block.js";
import type { Table } from "../tables/table.js";
import type { Answer } from "./answer.js";
import { questionIdOf } from "./ask.js";
import { figureRecipe, type FigureRecipe, type ReadRecipe } from "./figure-recipe.js";
import { defaultOf, isAskedOnce } from "./option.js";
import type { Question } from "./question.js";
import { questionList } from "./question-list.js";
import { holdbookVersion } from "./version.js";

/** Sentences that a card carries; those for which there is room stand in its picture. */
const mostSentences = 4;

/** A cell that is a number, as one, so that another machine's last digit makes no difference. */
const plainCell = (cell: string): string | number =>
  /^-?\d+(?:\.\d+)?(?:e[+-]?\d+)?$/.test(cell) ? Number(cell) : cell;

/** Rows of a table, each under the name of its first column. */
const numbersOf = ({ columns: [first], rows }: Table) =>
  rows.map((row) => ({
    name: row[first?.key ?? ""] ?? "",
    ...Object.fromEntries(Object.entries(row).map(([key, cell]) => [key, plainCell(cell)])),
  }));

/** Where a card is from: the question without the options that have their defaults, the file, and how to check it. */
const sourceOf = async ({
  question: { id, options },
  file,
  holdbook,
}: Pick<ReadRecipe, "file" | "holdbook"> & Pick<FigureRecipe, "question">): Promise<string> => {
  const { options: shape } = (await questionList[questionIdOf(id)].load()) as unknown as Question;
  const given = Object.entries(options).filter(
    ([name, value]) => JSON.stringify(value) !== JSON.stringify(defaultOf(shape[name] as never)),
  );
  const asked = { id, ...(given.length === 0 ? {} : { options: Object.fromEntries(given) }) };
  return [
    `Question: ${JSON.stringify(asked)}`,
    file === null ? "Rests on no file." : `File: ${file.name}, SHA-256 ${file.fingerprint}`,
    isAskedOnce(shape)
      ? `Holdbook ${holdbook}. No one can check this card: what was told of the person is kept nowhere.`
      : `Holdbook ${holdbook}. To check this card: holdbook verify CARD.svg${file === null ? "" : ` ${file.name}`}`,
  ].join("\n");
};

/**
 * The card of an answer.
 *
 * It holds what it shows and, unseen, every number of the answer's tables and of the figure on it, so that all are
 * compared when the card is checked.
 */
export const answerCard = async (answer: Answer): Promise<NamedCard> => {
  const { headline, sentences, tables, cautions, data } = answer;
  const [first = null] = answer.figures;
  // What single trials compared stands beside most answers, and is long.
  const figure = answer.figures.find(({ name }) => name !== "single-trials") ?? first;
  return {
    name: "card",
    data: {
      id: `card-${figure?.data.id ?? data.question.id}`,
      headline,
      sentences: sentences.slice(0, mostSentences),
      cautions: cautions === null ? "" : cautionTitles(cautions),
      figure:
        figure === null
          ? null
          : ({ name: figure.name, data: unframed(figure.data) } as typeof figure),
      // A log can be invented where the file is not.
      ...(data.file?.invented === true || figure?.data.invented === true ? { invented: true } : {}),
      numbers: Object.fromEntries(
        tables
          .filter(({ place }) => place === undefined)
          .map((table) => [table.id, numbersOf(table)]),
      ),
      source: await sourceOf({ ...data, holdbook: holdbookVersion }),
    },
  };
};

/** The card that a recipe draws. */
export const cardOfRecipe = async (recipe: ReadRecipe): Promise<NamedCard> =>
  ({
    name: "card",
    data: { ...recipe.figure.data, source: await sourceOf(recipe) },
  }) as unknown as NamedCard;

/** How a card's file is known. */
export const cardMark = '<metadata id="holdbook-recipe">';
const signs = { "&": "&amp;", "<": "&lt;", ">": "&gt;" } as const;

/** The drawing of a card with its recipe inside; another program shows the one and keeps the other. */
export const cardWithRecipe = (svg: string, answer: Answer, card: NamedCard): string => {
  const recipe = JSON.stringify(figureRecipe(answer, card)).replace(
    /[&<>]/g,
    (sign) => signs[sign as keyof typeof signs],
  );
  return svg.replace(/<\/desc>/, () => `</desc>${cardMark}${recipe}</metadata>`);
};

const plain = (text: string): string =>
  text
    .replace(/&lt;/g, "<")
    .replace(/&gt;/g, ">")
    .replace(/&quot;/g, '"')
    .replace(/&(?:apos|#39);/g, "'")
    .replace(/&amp;/g, "&");

/** The words of a picture without spaces, which drawings break differently; with `seen`, without those for who hears it. */
export const pictureWords = (svg: string, { seen = false } = {}): string => {
  const unsaid = seen
    ? /<(metadata|style|title|desc)\b[\s\S]*?<\/\1>/g
    : /<(metadata|style)\b[\s\S]*?<\/\1>/g;
  return plain(svg.replace(unsaid, "").replace(/<[^>]*>/g, "")).replace(/\s/g, "");
};

/**
 * The recipe inside a card, as its text.
 *
 * @param svg the text of the card's file
 * @throws {CallError} "not-a-card"
 */
export const recipeInCard = (svg: string): string => {
  const refused = (got: string, hint?: string): CallError =>
    new CallError({
      code: "not-a-card",
      where: "reading a card",
      needs: "an answer card as Holdbook saved it (.svg)",
      got,
      ...(hint === undefined ? {} : { try: hint }),
    });
  if (!/<svg[\s>]/.test(svg))
    throw refused(
      "a file that is no SVG picture",
      "a card saved as PNG holds no recipe: use the SVG it came with",
    );
  const [, recipe] = /<metadata\s+id="holdbook-recipe"[^>]*>([\s\S]*?)<\/metadata>/.exec(svg) ?? [];
  if (recipe === undefined)
    throw refused(
      "an SVG picture without a recipe",
      "figures have theirs beside them (figures/….recipe.json, for holdbook reproduce); a program that saved the card anew may have taken it out",
    );
  return plain(recipe).trim();
};
