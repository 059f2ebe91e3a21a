import type { CollinearPair } from "../dose/collinearity.js";
import type { DoseAxis } from "../dose/dose-axes.js";
import { CallError } from "../errors.js";
import { kebabName } from "../tables/dose-table.js";
import type { Figure } from "./figure.js";
import { panelDrawing, plainFrame, type Words } from "./layer.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, roughTextWidth, wrapText } from "./wrap-text.js";

export type CollinearityInput = Readonly<{
  id?: string;
  title?: string;
  /** Outcome family, for the words. */
  family: string;
  pairs: readonly CollinearPair[];
}>;

const cell = 58;
const topRoom = 26;

/** Shades by the size of r: under 0.2, 0.4, 0.6 (hardly told apart from here), 0.8 (not told apart), 1. */
const shadeOf = (r: number): number => Math.min(5, 1 + Math.floor(Math.abs(r) / 0.2 + 1e-9));

const signed = (r: number): string => `${r < 0 ? "−" : ""}${Math.abs(r).toFixed(2)}`;

/**
 * How doses move together: each pair's correlation inside studies below the diagonal, between studies above it.
 *
 * @throws {CallError} "no-pairs"
 */
export const collinearityFigure = (input: CollinearityInput): Figure => {
  const { pairs, family } = input;
  if (pairs.length === 0) {
    throw new CallError({
      code: "no-pairs",
      where: "collinearityFigure",
      needs: "at least one pair of doses",
      got: "none",
    });
  }
  const axes: DoseAxis[] = [];
  for (const { first, second } of pairs) {
    for (const axis of [first, second]) {
      if (!axes.some(({ name }) => name === axis.name)) axes.push(axis);
    }
  }
  const left = 22 + Math.max(...axes.map(({ label }) => roughTextWidth(label, 11) + 30));
  const title =
    input.title ?? `Which doses move together? ${family.charAt(0).toUpperCase()}${family.slice(1)}`;
  const size = axes.length * cell;
  const width = Math.max(left + size, 460);
  const draw = panelDrawing("doses", plainFrame(width, topRoom + size + 8));
  const place = (axis: DoseAxis): number => axes.findIndex(({ name }) => name === axis.name);
  const cells = pairs.flatMap((pair) => {
    const [a, b] = [place(pair.first), place(pair.second)];
    const [early, late] = [Math.min(a, b), Math.max(a, b)];
    return [
      { row: late, column: early, correlation: pair.within, where: "inside studies", pair },
      { row: early, column: late, correlation: pair.between, where: "between studies", pair },
    ];
  });
  const boxOf = (row: number, column: number) => ({
    x: left + column * cell + 1.5,
    x2: left + (column + 1) * cell - 1.5,
    y: topRoom + row * cell + 1.5,
    y2: topRoom + (row + 1) * cell - 1.5,
  });
  const middle = (row: number, column: number) => ({
    x: left + (column + 0.5) * cell,
    y: topRoom + (row + 0.5) * cell,
  });
  const shades = [1, 2, 3, 4, 5].filter((shade) =>
    cells.some(({ correlation }) => correlation !== undefined && shadeOf(correlation.r) === shade),
  );
  const wordsIn = (
    shade: number,
    dy: number,
    text: (c: (typeof cells)[number]) => string,
  ): Words[] =>
    cells
      .filter(({ correlation }) => correlation !== undefined && shadeOf(correlation.r) === shade)
      .map((each) => {
        const { x, y } = middle(each.row, each.column);
        return { x, y: y + dy, text: text(each), full: oneLine(each.pair.words) };
      });
  const empty = cells.filter(({ correlation }) => correlation === undefined);
  const together = pairs.filter(({ toldApart }) => toldApart === "no");
  const verdict =
    together.length === 0
      ? "No two of these doses move together so closely that their parts cannot be told apart."
      : `Cannot be told apart: ${together.map(({ first, second }) => `${first.label} and ${second.label}`).join("; ")}.`;
  const description = oneLine(`${title}. ${pairs.map(({ words }) => words).join(". ")}.`);
  return {
    id: input.id ?? `doses-together-${kebabName(family)}`,
    title,
    caption:
      `${verdict} Below the diagonal: correlation of the arms' distances from their study's mean, which decides what comparisons inside studies can tell apart; above it: correlation of studies' means. ` +
      "Small numbers are studies. From 0.6 on parts can hardly be told apart, from 0.8 on not at all. Empty cells: one of the two does not vary in three studies.",
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width, fontSize: 16, lines: 5 })],
        subtitle: [...wrapText(verdict, { width, fontSize: 11.5, lines: 4 })],
      },
      spacing: 0,
      vconcat: [
        draw.panel([
          draw.words(
            "rows",
            "text-body",
            axes.map((axis, i) => ({
              x: left - 10,
              y: topRoom + (i + 0.5) * cell,
              text: `${axis.label} (${i + 1})`,
            })),
            { align: "right" },
          ),
          draw.words(
            "columns",
            "text-heading",
            axes.map((_, i) => ({
              x: left + (i + 0.5) * cell,
              y: topRoom - 10,
              text: String(i + 1),
            })),
            { align: "center" },
          ),
          draw.boxes(
            "diagonal",
            "band",
            axes.map((_, i) => boxOf(i, i)),
          ),
          draw.boxes(
            "not studied",
            "cell-empty",
            empty.map(({ row, column }) => boxOf(row, column)),
          ),
          ...shades.flatMap((shade) => [
            draw.boxes(
              `shade ${shade}`,
              `cell-${shade}`,
              cells
                .filter(
                  ({ correlation }) =>
                    correlation !== undefined && shadeOf(correlation.r) === shade,
                )
                .map(({ row, column }) => boxOf(row, column)),
            ),
            draw.words(
              `correlations ${shade}`,
              `cell-strong-${shade}`,
              wordsIn(shade, -6, ({ correlation }) => signed(correlation!.r)),
              { align: "center" },
            ),
            draw.words(
              `studies ${shade}`,
              `cell-small-${shade}`,
              wordsIn(shade, 13, ({ correlation }) => String(correlation!.studies)),
              { align: "center" },
            ),
          ]),
        ]),
      ],
      config: themeConfig("light"),
    },
    data: cells.map(({ pair, where, correlation }) => ({
      first: pair.first.label,
      second: pair.second.label,
      comparison: where,
      correlation: correlation?.r ?? null,
      studies: correlation?.studies ?? null,
      toldApart: pair.toldApart,
    })),
  };
};
