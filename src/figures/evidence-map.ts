import { CallError } from "../errors.js";
import { capital, counted, formatCount } from "../tables/number-format.js";
import {
  notStated,
  type EvidenceCell,
  type EvidenceCounts,
  type EvidenceMap,
} from "./evidence-map-cells.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { layerOf } from "./gain-panel.js";
import { drawnChart } from "./row-chart.js";
import { figureTheme } from "./theme.js";
import { oneLine, roughTextWidth, wrapText } from "./wrap-text.js";

export type EvidenceMapInput = Readonly<{
  id?: string;
  title?: string;
  map: EvidenceMap;
}>;

export const evidenceMapDefaults = { id: "evidence-map" } as const;

const type = figureTheme.sizes.small;
/** A family studied in no more combinations is told in a sentence and not drawn. */
const mostInWords = 2;
const onSlide = 2;
const shades = ["1 study", "2", "3 to 4", "5 to 9", "10 and more"] as const;
const shadeOf = (studies: number): (typeof shades)[number] =>
  shades[studies < 3 ? studies - 1 : studies < 5 ? 2 : studies < 10 ? 3 : 4]!;

const peopleText = ({ people, armsWithoutPeople }: EvidenceCounts): string =>
  armsWithoutPeople > 0 && people === 0
    ? "?"
    : `${formatCount(people)}${armsWithoutPeople > 0 ? "+" : ""}`;

const totalText = (counts: EvidenceCounts): string =>
  `${counted(counts.studies, "study", "studies")}, ${counted(counts.arms, "arm")}, ${peopleText(counts)} people`;

/** Bands in words: 60% and over, 15 to 30 s, 60 s and over. */
const intensityWords = (band: string): string =>
  band === notStated ? "an intensity not stated" : band;
const holdWords = (band: string): string =>
  band === notStated
    ? "a hold not stated"
    : band.endsWith(" +")
      ? `${band.slice(0, -2)} s and over`
      : `${band} s`;
const cellWords = ({ effort, hold }: EvidenceCell): string =>
  `${intensityWords(effort)} for ${holdWords(hold)}`;

const isStated = ({ effort, hold }: EvidenceCell): boolean =>
  effort !== notStated && hold !== notStated;

/** What a family has been studied in, and the bands of it that nobody studied. */
const familyOf = (map: EvidenceMap, family: string) => {
  const cells = map.cells.filter(({ outcomeFamily }) => outcomeFamily === family);
  const studied = cells.filter(({ studies }) => studies > 0);
  const bands = (all: readonly string[], key: "effort" | "hold") => ({
    kept: all.filter((band) => studied.some((cell) => cell[key] === band)),
    left: all.filter((band) => band !== notStated && studied.every((cell) => cell[key] !== band)),
    of: all.filter((band) => band !== notStated).length,
  });
  const efforts = bands(map.efforts, "effort");
  const holds = bands(map.holds, "hold");
  const left = [
    ...(efforts.left.length === 0
      ? []
      : [`${efforts.left.length} of ${efforts.of} intensities (${efforts.left.join(", ")})`]),
    ...(holds.left.length === 0
      ? []
      : [
          `${holds.left.length} of ${holds.of} hold lengths (${holds.left.map(holdWords).join(", ")})`,
        ]),
  ];
  return {
    name: capital(oneLine(family)),
    cells,
    studied,
    efforts: efforts.kept,
    holds: holds.kept,
    unstudied: left.length === 0 ? "" : `nobody studied ${left.join(" and ")}.`,
    total: map.totals.find(({ outcomeFamily }) => outcomeFamily === family)!,
    // Of combinations that are stated.
    most: studied
      .filter(isStated)
      .reduce<EvidenceCell | undefined>(
        (most, cell) => (cell.studies > (most?.studies ?? 0) ? cell : most),
        undefined,
      ),
    combinations: cells.filter(isStated).length,
    none: cells.filter((cell) => isStated(cell) && cell.studies === 0).length,
  };
};
type Family = ReturnType<typeof familyOf>;

const familiesOf = (map: EvidenceMap): readonly Family[] =>
  map.families.map((family) => familyOf(map, family));
const isDrawn = ({ studied }: Family): boolean => studied.length > mostInWords;

const inWords = ({ name, studied }: Family): string =>
  `${name} was studied only at ${studied.map((cell) => `${cellWords(cell)} (${counted(cell.studies, "study", "studies")})`).join(" and at ")}.`;

/** What a map says in sentences where it has too little to draw; undefined where a figure is worth its room. */
export const evidenceMapWords = (map: EvidenceMap): readonly string[] | undefined => {
  const families = familiesOf(map);
  return families.some(isDrawn) ? undefined : families.map(inWords);
};

type Sheet = Readonly<{
  plot: number;
  margin: number;
  cell: number;
  /** Whether cells have room for arms and people too. */
  numbers: boolean;
  /** Whether arms, people and what nobody studied are told above the cells; on a slide there is no room. */
  told: boolean;
}>;

/** One family: a cell for each combination of the bands that somebody studied. */
const familyView = (
  { name, cells, efforts, holds, total, unstudied }: Family,
  place: number,
  { plot: most, margin, cell: cellHeight, numbers, told }: Sheet,
) => {
  const plot = Math.min(most, holds.length * (numbers ? 62 : 44));
  const short = (band: string): string =>
    numbers
      ? band
      : band === notStated
        ? "?"
        : band.replace(" to ", "–").replace("under ", "<").replace(" and over", " +");
  const axis = { ticks: false, domain: false, labelAngle: 0, labelOverlap: false };
  const x = {
    field: "hold",
    type: "ordinal",
    scale: { domain: holds.map(short), padding: 0.06 },
    axis: { ...axis, title: "Hold, s" },
  };
  const y = {
    field: "effort",
    type: "ordinal",
    // Intensity runs up; what is not stated stands below all.
    scale: {
      domain: [
        ...efforts.filter((band) => band !== notStated).toReversed(),
        ...efforts.filter((band) => band === notStated),
      ].map(short),
      padding: 0.08,
    },
    axis: {
      ...axis,
      title: "Intensity",
      titleAngle: 0,
      titleAlign: "left",
      titleAnchor: "end",
      titleBaseline: "bottom",
      titleX: -margin,
      titleY: -6,
    },
  };
  const rows = cells
    .filter(({ effort, hold }) => efforts.includes(effort) && holds.includes(hold))
    .map((cell) => ({
      effort: short(cell.effort),
      hold: short(cell.hold),
      studies: cell.studies,
      arms: cell.arms,
      people: cell.people,
      text: formatCount(cell.studies),
      more: `${formatCount(cell.arms)} \u00b7 ${peopleText(cell)}`,
      full: `${cellWords(cell)}: ${cell.studies === 0 ? "no study" : totalText(cell)}`,
    }));
  const studied = rows.filter(({ studies }) => studies > 0);
  const layer = (layerName: string, mark: object, values: readonly object[], more: object) =>
    layerOf(`family ${place + 1}: ${layerName}`, mark, values, { x, y, ...more });
  const text = (field: string) => ({ field, type: "nominal" });
  const lines = (told ? [totalText(total), capital(unstudied)] : [])
    .filter((line) => line !== "")
    .flatMap((line) =>
      wrapText(line, { width: most + margin - 8, fontSize: 1.04 * type, lines: 6 }),
    );
  const empty = (name: string, width: number) => ({
    name: `${name} ${place + 1}`,
    width,
    height,
    layer: [layerOf(`${name} ${place + 1}: nothing`, { type: "rule", style: "grid" }, [], {})],
  });
  const height = efforts.length * cellHeight;
  return {
    lines: lines.length,
    height: height + 15 + 14 * lines.length + (told ? 37 : 46),
    view: (high: number) => ({
      spacing: 0,
      bounds: "flush",
      title: {
        text: told ? name : `${name}: ${counted(total.studies, "study", "studies")}`,
        ...(high === 0
          ? {}
          : { subtitle: [...lines, ...Array.from({ length: high - lines.length }, () => " ")] }),
        frame: "group",
        anchor: "start",
        fontSize: 12.5,
        lineHeight: 15,
        subtitleFontSize: type,
        subtitleLineHeight: 14,
        offset: 18,
      },
      hconcat: [
        empty("margin", margin),
        {
          name: `family ${place + 1}`,
          width: plot,
          height,
          layer: [
            layer(
              "nobody",
              { type: "rect", style: "cell-empty" },
              rows.filter(({ studies }) => studies === 0),
              { tooltip: text("full") },
            ),
            layer(
              "studied",
              { type: "rect", style: "cell-studied" },
              studied.map((row) => ({ ...row, shade: shadeOf(row.studies) })),
              {
                fillOpacity: {
                  field: "shade",
                  type: "ordinal",
                  scale: {
                    type: "ordinal",
                    domain: [...shades],
                    range: [0.08, 0.2, 0.32, 0.44, 0.56],
                  },
                  legend: null,
                },
                tooltip: text("full"),
              },
            ),
            layer(
              "studies",
              {
                type: "text",
                style: "text-strong",
                align: "center",
                baseline: "middle",
                ...(numbers ? { dy: -7 } : {}),
              },
              studied,
              { text: text("text") },
            ),
            ...(numbers
              ? [
                  layer(
                    "arms and people",
                    {
                      type: "text",
                      style: "text-body",
                      align: "center",
                      baseline: "middle",
                      dy: 8,
                    },
                    studied,
                    { text: text("more") },
                  ),
                ]
              : []),
          ],
        },
        ...(plot < most ? [empty("beside", most - plot)] : []),
      ],
    }),
  };
};

/**
 * Which combinations of intensity and hold length have any data, by outcome family, and how much.
 *
 * Bands that no arm of a family is in are named in a sentence and not drawn; a cell without a number is a combination
 * that nobody studied. The large number counts studies, the small ones of a page arms and people; the shade repeats the
 * number of studies. A family studied in one or two combinations is told in words.
 *
 * @param input  the counted map from `evidenceMapCells`
 * @throws {CallError} "no-arms"
 */
export const evidenceMap = (input: EvidenceMapInput, room: Room = roomOf()): Figure => {
  const { map } = input;
  if (map.families.length === 0) {
    throw new CallError({
      code: "no-arms",
      where: "evidenceMap",
      needs: "at least one arm with an outcome family",
      got: "none",
    });
  }
  const page = room.size === "page";
  const all = familiesOf(map);
  const worth = all.some(isDrawn) ? all.filter(isDrawn) : all;
  const bySize = worth.toSorted((a, b) => b.total.studies - a.total.studies);
  const drawn = room.size === "slide" ? bySize.slice(0, onSlide) : bySize;
  const columns = room.size === "column" || drawn.length === 1 ? 1 : 2;
  const gap = page ? 36 : 18;
  const labels = drawn.flatMap(({ efforts }) => efforts);
  const margin = Math.ceil(
    Math.max(
      page ? 0 : 50,
      ...labels.map((band) => 10 + 1.04 * roughTextWidth(page ? band : "40–60%", type)),
    ),
  );
  const plot = Math.min(
    page ? 360 : 300,
    Math.floor((room.width - gap * (columns - 1)) / columns - margin - 4),
  );
  const sheet = {
    plot,
    margin,
    cell: page ? 36 : room.size === "slide" ? 18 : 24,
    numbers: page,
    told: room.size !== "slide",
  };
  const views = drawn.map((family, place) => familyView(family, place, sheet));
  const rows = Array.from({ length: Math.ceil(views.length / columns) }, (_, row) =>
    views.slice(row * columns, (row + 1) * columns),
  );
  const first = bySize[0]!;
  const title =
    input.title ??
    `${first.name}: ${first.most === undefined ? "no study states both intensity and hold length" : `most studied at ${cellWords(first.most)}, by ${first.most.studies} of ${counted(first.total.studies, "study", "studies")}; ${formatCount(first.none)} of ${formatCount(first.combinations)} combinations by none`}`;
  const told = all.filter((family) => !drawn.includes(family));
  const words = told.map((family) =>
    isDrawn(family)
      ? `Not drawn: ${family.name.toLowerCase()}, ${totalText(family.total)}.`
      : inWords(family),
  );
  const description = [
    `${oneLine(title)}.`,
    ...all.map((family) => `${family.name}: ${totalText(family.total)}.`),
    ...drawn.map(({ name, unstudied }) => (unstudied === "" ? "" : `${name}: ${unstudied}`)),
    ...told.filter((family) => !isDrawn(family)).map(inWords),
  ]
    .filter((line) => line !== "")
    .join(" ");
  const unknownPeople = map.totals.some(({ armsWithoutPeople }) => armsWithoutPeople > 0);
  return {
    id: input.id ?? evidenceMapDefaults.id,
    title,
    caption: [
      page
        ? "Large number: studies; below it arms · people."
        : labels.includes(notStated) || drawn.some(({ holds }) => holds.includes(notStated))
          ? "Numbers: studies; ?: not stated."
          : "Numbers: studies.",
      ...(room.size === "slide"
        ? drawn.flatMap(({ name, unstudied }) => (unstudied === "" ? [] : `${name}: ${unstudied}`))
        : []),
      ...words,
      "A cell without a number was studied by nobody; the stronger its colour, the more studies (1, 2, 3 to 4, 5 to 9, 10 and more).",
      "A value on the boundary of two bands counts in the higher one; a range counts at its midpoint. An arm measured in several outcomes counts once in each family.",
      ...(unknownPeople
        ? ["A plus sign or question mark says that some arms do not state their people."]
        : []),
    ].join(" "),
    ...drawnChart(
      {
        view: {
          spacing: 20,
          vconcat: rows.map((row) => ({
            spacing: gap,
            hconcat: row.map(({ view }) => view(Math.max(...row.map(({ lines }) => lines)))),
          })),
        },
        width: columns * (plot + margin) + gap * (columns - 1),
        height: rows.reduce(
          (sum, row) => sum + 20 + Math.max(...row.map(({ height }) => height)),
          0,
        ),
      },
      { text: [title], description },
    ),
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
