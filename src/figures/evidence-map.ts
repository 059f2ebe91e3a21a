import { CallError } from "../errors.js";
import { formatCount } from "../tables/number-format.js";
import type { EvidenceCounts, EvidenceMap } from "./evidence-map-cells.js";
import type { Figure } from "./figure.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, wrapText } from "./wrap-text.js";

export type EvidenceMapInput = Readonly<{
  id?: string;
  title?: string;
  map: EvidenceMap;
}>;

export const evidenceMapDefaults = {
  id: "evidence-map",
  title: "What has been studied: intensity and hold length",
} as const;

const cellWidth = 54;
const cellHeight = 36;
const left = 92;
const top = 58;

/** Shades by studies: none, 1, 2, 3–4, 5–9, 10 and more. The number itself always stands in the cell. */
const shadeOf = (studies: number): number =>
  studies === 0
    ? 0
    : studies === 1
      ? 2
      : studies === 2
        ? 3
        : studies < 5
          ? 4
          : studies < 10
            ? 5
            : 6;

const peopleText = ({ people, armsWithoutPeople }: EvidenceCounts): string =>
  armsWithoutPeople > 0 && people === 0
    ? "?"
    : `${formatCount(people)}${armsWithoutPeople > 0 ? "+" : ""}`;

const plural = (count: number, one: string, many: string) =>
  `${formatCount(count)} ${count === 1 ? one : many}`;

const totalText = (counts: EvidenceCounts): string =>
  `${plural(counts.studies, "study", "studies")}, ${plural(counts.arms, "arm", "arms")}, ${peopleText(counts)} people`;

const sentenceCase = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const familyPanel = (map: EvidenceMap, family: string, index: number): Panel => {
  const width = left + map.holds.length * cellWidth + 22;
  const height = top + map.efforts.length * cellHeight + 12;
  const draw = panelDrawing(`family ${index + 1}`, plainFrame(width, height));
  const cells = map.cells
    .filter(({ outcomeFamily }) => outcomeFamily === family)
    .map((cell) => {
      // Effort runs up: the first band stands lowest, "not stated" below all.
      const place = map.efforts.indexOf(cell.effort);
      const stated = map.efforts.filter((effort) => effort !== "not stated").length;
      const row = place < stated ? stated - 1 - place : place;
      const x = left + map.holds.indexOf(cell.hold) * cellWidth;
      const y = top + row * cellHeight;
      return { cell, x, y, shade: shadeOf(cell.studies) };
    });
  const box = ({ x, y }: Readonly<{ x: number; y: number }>) => ({
    x: x + 1.5,
    x2: x + cellWidth - 1.5,
    y: y + 1.5,
    y2: y + cellHeight - 1.5,
  });
  const total = map.totals.find(({ outcomeFamily }) => outcomeFamily === family);
  const shades = [2, 3, 4, 5, 6].filter((shade) => cells.some((each) => each.shade === shade));
  const firstColumn = cells.filter(({ cell }) => cell.hold === map.holds[0]);
  return draw.panel([
    draw.words("family", "text-strong", [{ x: 0, y: 8, text: sentenceCase(oneLine(family)) }], {
      fontSize: 13,
      limit: width * 0.42,
    }),
    draw.words(
      "totals",
      "text-quiet",
      total === undefined ? [] : [{ x: width - 24, y: 8, text: totalText(total) }],
      { align: "right" },
    ),
    draw.words("intensity heading", "text-heading", [{ x: 0, y: 34, text: "Intensity" }]),
    draw.words("hold heading", "text-heading", [{ x: left + 2, y: 34, text: "Hold, seconds" }]),
    draw.words(
      "hold bands",
      "text-small",
      map.holds.map((text, place) => ({ x: left + (place + 0.5) * cellWidth, y: 49, text })),
      { align: "center" },
    ),
    draw.words(
      "intensity bands",
      "text-small",
      firstColumn.map(({ cell, y }) => ({ x: left - 8, y: y + cellHeight / 2, text: cell.effort })),
      { align: "right" },
    ),
    draw.boxes("empty cells", "cell-empty", cells.filter(({ shade }) => shade === 0).map(box)),
    draw.words(
      "empty cell marks",
      "text-empty",
      cells
        .filter(({ shade }) => shade === 0)
        .map(({ x, y }) => ({ x: x + cellWidth / 2, y: y + cellHeight / 2, text: "none" })),
      { align: "center", fontSize: 9 },
    ),
    ...shades.flatMap((shade) => {
      const of = cells.filter((each) => each.shade === shade);
      return [
        draw.boxes(`cells of shade ${shade}`, `cell-${shade}`, of.map(box)),
        draw.words(
          `studies of shade ${shade}`,
          `cell-strong-${shade}`,
          of.map(({ cell, x, y }) => ({
            x: x + cellWidth / 2,
            y: y + 13,
            text: formatCount(cell.studies),
          })),
          { align: "center" },
        ),
        draw.words(
          `arms and people of shade ${shade}`,
          `cell-small-${shade}`,
          of.map(({ cell, x, y }) => ({
            x: x + cellWidth / 2,
            y: y + 26,
            text: `${formatCount(cell.arms)} \u00b7 ${peopleText(cell)}`,
          })),
          { align: "center", limit: cellWidth - 4 },
        ),
      ];
    }),
  ]);
};

/**
 * Which combinations of effort and hold length have any data, by outcome family, and how much.
 *
 * Every combination has a cell, so that gaps are as visible as evidence. The large number counts
 * studies, the small ones arms and people; the shade repeats the number of studies.
 *
 * @param input  the counted map from `evidenceMapCells`
 * @throws {CallError} "no-arms"
 */
export const evidenceMap = (input: EvidenceMapInput): Figure => {
  const { map } = input;
  if (map.families.length === 0) {
    throw new CallError({
      code: "no-arms",
      where: "evidenceMap",
      needs: "at least one arm with an outcome family",
      got: "none",
    });
  }
  const title = input.title ?? evidenceMapDefaults.title;
  const empty = map.cells.filter(({ studies }) => studies === 0).length;
  const columns = map.families.length === 1 ? 1 : 2;
  const width = (left + map.holds.length * cellWidth + 22) * columns;
  const description =
    `${oneLine(title)}. ` +
    map.totals
      .map((each) => `${sentenceCase(oneLine(each.outcomeFamily))}: ${totalText(each)}`)
      .join("; ") +
    `. Of ${plural(map.cells.length, "combination", "combinations")}, ${formatCount(empty)} ${empty === 1 ? "has" : "have"} no study.`;
  const unknownPeople = map.totals.some(({ armsWithoutPeople }) => armsWithoutPeople > 0);
  return {
    id: input.id ?? evidenceMapDefaults.id,
    title,
    caption:
      "Large number: studies. Small numbers: arms · people. Cells marked none have no study; darker cells have more studies (1, 2, 3 to 4, 5 to 9, 10 and more). " +
      "A value on the boundary of two bands counts in the higher one; a range counts at its midpoint. An arm measured in several outcomes counts once in each family." +
      (unknownPeople
        ? " A plus sign or question mark says that some arms do not state their people."
        : ""),
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width, fontSize: 16, lines: 3 })],
        subtitle: [
          ...wrapText("Large number: studies. Small numbers: arms \u00b7 people.", {
            width,
            fontSize: 11.5,
            lines: 2,
          }),
        ],
      },
      columns,
      spacing: { row: 26, column: 18 },
      concat: map.families.map((family, index) => familyPanel(map, family, index)),
      config: themeConfig("light"),
    },
    data: map.cells.map(
      ({ outcomeFamily, effort, hold, studies, arms, people, armsWithoutPeople }) => ({
        outcomeFamily,
        effort,
        hold,
        studies,
        arms,
        people,
        armsWithoutPeople,
      }),
    ),
  };
};
