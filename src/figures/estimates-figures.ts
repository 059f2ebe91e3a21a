import { effectDomain } from "./estimates-axis.js";
import { estimatesFigure } from "./estimates-figure.js";
import {
  estimatesInputDefaults,
  type EstimateRow,
  type EstimatesInput,
} from "./estimates-input.js";
import { groupedByStudy } from "./estimates-layout.js";
import type { Figure } from "./figure.js";

export type EstimatesPagesOptions = Readonly<{
  /** Most rows on one figure; a study with more rows than this is parted. */
  rowsPerFigure?: number;
}>;

export const estimatesPagesDefaults = { rowsPerFigure: 40 } as const;

/** Effects in pages of whole studies. */
const pagesOf = (
  effects: readonly EstimateRow[],
  rowsPerFigure: number,
): readonly (readonly EstimateRow[])[] => {
  const pages: EstimateRow[][] = [[]];
  for (const [, rows] of groupedByStudy(effects)) {
    for (let from = 0; from < rows.length; from += rowsPerFigure) {
      const piece = rows.slice(from, from + rowsPerFigure);
      const page = pages.at(-1) ?? [];
      if (page.length > 0 && page.length + piece.length > rowsPerFigure) pages.push([...piece]);
      else page.push(...piece);
    }
  }
  return pages;
};

/**
 * The estimates figure in as many pages as it needs to stay readable, all on one axis.
 *
 * Each page repeats the pooled answer, which is of all effects, and says which page it is. Studies stay
 * whole on a page unless one alone has more rows than a page holds.
 *
 * @param input  as for `estimatesFigure`
 * @throws {CallError} as `estimatesFigure`
 */
export const estimatesFigures = (
  input: EstimatesInput,
  options: EstimatesPagesOptions = {},
): readonly Figure[] => {
  const { rowsPerFigure } = { ...estimatesPagesDefaults, ...options };
  const pages = pagesOf(input.effects, Math.max(1, Math.floor(rowsPerFigure)));
  if (pages.length === 1) return [estimatesFigure(input)];
  const domain = effectDomain(input);
  const studies = groupedByStudy(input.effects).length;
  const id = input.id ?? estimatesInputDefaults.id;
  return pages.map((effects, index) =>
    estimatesFigure(
      {
        ...input,
        id: `${id}-${index + 1}`,
        title: `${input.title} (${index + 1} of ${pages.length})`,
        effects,
      },
      { domain, partOf: { effects: input.effects.length, studies } },
    ),
  );
};
