/** Rows of ranges over one axis, as encodings of data that any editor of such specifications can restyle. */
import type { Figure } from "./figure.js";
import type { Room } from "./frame.js";
import type { Panel } from "./layer.js";
import { roughTextWidth, wrapText } from "./wrap-text.js";
import { figureTheme } from "./theme.js";
import { themeConfig } from "./theme-config.js";

export type ChartRow = Readonly<{
  /** Rows of one group stand together under its name; none where left out. */
  group?: string;
  label: string;
  low: number;
  estimate: number;
  high: number;
  /** Further middles on the same range. */
  more?: readonly number[];
  /** A number that stands beside the range, as a dot of the first kind. */
  dot?: number;
  /** Which of the two kinds of mark it has. */
  kind: string;
  /** Whether it is left out of what is computed from the others, and hollow. */
  apart?: boolean;
  /** A word or two at the right. */
  word: string;
  /** Whether the word is set apart from the others. */
  strong?: boolean;
  /** A number after the word, e.g. of trials. */
  aside?: string;
}>;

/** Most rows of a slide. */
export const slideRows = 12;

export type RowChart = Readonly<{
  rows: readonly ChartRow[];
  /** Kinds of mark: the first filled, the second hollow and dashed unless it is computed from the others. */
  kinds: readonly string[];
  /** The kind that is computed from the others. */
  pooled?: string;
  axisTitle: string;
  /** What lies within so much of no change does not count. */
  zone?: Readonly<{ amount: number; words: string }>;
  /** Whether any row is apart, what the two are called. */
  apart?: readonly [inside: string, apart: string];
  /** What stands between the names and the ranges on a page, where it has room. */
  beside?: Readonly<{
    width: number;
    /** Drawn from the tops of the rows, each so high. */
    panel: (tops: readonly number[], step: number, height: number) => Panel;
  }>;
  /** How far rows of a page stand apart, in drawing units. */
  step?: number;
}>;

const leastPlot = 120;
const type = figureTheme.sizes.small;
const widest = (texts: readonly string[], strong = 1.04): number =>
  Math.ceil(Math.max(0, ...texts.map((text) => strong * roughTextWidth(text, type))));

/** Where ranges that run very far are cut: every middle and the zone are inside. */
const domainOf = ({ rows, zone }: RowChart): readonly [number, number] => {
  const inside = [0, ...rows.flatMap(({ estimate, dot = estimate }) => [estimate, dot])];
  if (zone !== undefined) inside.push(-1.4 * zone.amount, 1.4 * zone.amount);
  const [least, most] = [Math.min(...inside), Math.max(...inside)];
  const halves = rows.map(({ low, high }) => (high - low) / 2).sort((a, b) => a - b);
  const usual = 1.5 * (halves[Math.floor((halves.length - 1) * 0.75)] ?? 0);
  const low = Math.max(least - usual, Math.min(least, ...rows.map((row) => row.low)));
  const high = Math.min(most + usual, Math.max(most, ...rows.map((row) => row.high)));
  return [low, high];
};

type Place = Readonly<{ place: number; text: string }>;

/**
 * The drawing of a row chart in a room, as a layered view, and how wide and high it comes out.
 *
 * On a page and a slide a row is one line: label, range, word. In a column its label and word stand above its range.
 */
export const rowChart = (chart: RowChart, room: Room) => {
  const { rows, kinds, pooled, axisTitle, zone, apart } = chart;
  const column = room.size === "column";
  const slide = room.size === "slide";
  const dotted = rows.some(({ dot }) => dot !== undefined);
  const step = slide ? (rows.length > 9 ? 12 : 13) : column ? 16 : (chart.step ?? 19);
  const groups = [...new Set(rows.map(({ group = "" }) => group))];
  const named = groups.some((group) => group !== "");
  const wordOf = ({ word, aside }: ChartRow): string =>
    aside === undefined || room.size !== "page" ? word : `${word}, ${aside}`;
  const ownWidth = column ? 0 : widest(rows.map(({ label }) => label)) + 16;
  const wordWidth = column ? 0 : widest(rows.map(wordOf), 1.08) + 14;
  const groupName = slide && named ? widest(groups, 1.18) + 14 : 0;
  // A slide has no line for a group's name, and names it at the left where there is room.
  const groupWidth = groupName + ownWidth + wordWidth + leastPlot <= room.width ? groupName : 0;
  const labelWidth = groupWidth + ownWidth;
  const left = room.width - labelWidth - wordWidth;
  const beside =
    room.size === "page" && chart.beside !== undefined && left - chart.beside.width > leastPlot
      ? chart.beside
      : undefined;
  const plot = Math.max(
    leastPlot,
    Math.min(column ? room.width : 420, left - (beside?.width ?? 0)),
  );
  const [least, most] = domainOf(chart);
  // Marks of what is cut stand in the air at the ends of the axis.
  const air = 0.04 * (most - least || 1);
  const domain = [least - air, most + air] as const;
  const cut = (value: number): number => Math.min(most, Math.max(least, value));

  let next = zone === undefined ? 0 : 1;
  const headings: Place[] = [];
  const labels: Place[] = [];
  const words: (Place & { strong: boolean })[] = [];
  const ranges = groups.flatMap((group) => {
    if (group !== "" && (!slide || groupWidth > 0)) {
      if (!slide && labels.length > 0) next += 1;
      headings.push({ place: next, text: group });
      if (!slide) next += 1;
    }
    return rows
      .filter((row) => (row.group ?? "") === group)
      .map((row) => {
        const text = wordOf(row);
        if (column) {
          const lines = wrapText(row.label, { width: plot, fontSize: type, lines: 3 });
          for (const line of lines) labels.push({ place: next++, text: line });
          const room_ = plot - widest([lines.at(-1) ?? ""]) - widest([text], 1.08);
          words.push({ place: room_ > 10 ? next - 1 : next++, text, strong: row.strong === true });
        } else {
          labels.push({ place: next, text: row.label });
          words.push({ place: next, text, strong: row.strong === true });
        }
        const { label, low, estimate, high, kind, word, dot, more = [] } = row;
        return {
          label,
          low,
          estimate,
          high,
          kind,
          word,
          more,
          ...(dot === undefined ? {} : { dot }),
          ...(apart === undefined ? {} : { stands: apart[row.apart === true ? 1 : 0] }),
          place: next++,
          from: cut(low),
          to: cut(high),
        };
      });
  });
  const places = Array.from({ length: next }, (_, place) => place);
  const height = next * step;
  const y = {
    field: "place",
    type: "ordinal" as const,
    scale: { type: "band" as const, domain: places, padding: 0 },
    axis: null,
  };
  const axis = {
    title: axisTitle,
    tickCount: Math.max(3, Math.round(plot / 70)),
    format: "~f",
    grid: !column,
    labelOverlap: true,
    ...(slide ? { titlePadding: 1, labelPadding: 2, tickSize: 3 } : {}),
  };
  const legend = {
    title: null,
    orient: "top" as const,
    direction: "horizontal" as const,
    ...(slide ? { offset: 3 } : {}),
  };
  const x = (field: string) => ({
    field,
    type: "quantitative" as const,
    scale: { domain: [...domain], zero: false, nice: false },
    axis,
  });
  const byKind = (range: Readonly<Record<string, unknown>>) => ({
    field: "kind",
    type: "ordinal" as const,
    scale: { domain: [...kinds], ...range },
    legend: { ...legend },
  });
  const text = { field: "text", type: "nominal" as const };
  const texts = (
    name: string,
    style: string,
    values: readonly Place[],
    left: number,
    align = "left",
  ) => ({
    name,
    data: { values: [...values] },
    mark: { type: "text" as const, style, align, baseline: "middle" as const },
    encoding: { y, x: { value: left }, text },
  });
  const mark = (
    name: string,
    look: Readonly<Record<string, unknown>>,
    values: object[],
    encoding: object,
  ) => ({
    name,
    data: { values },
    mark: look,
    encoding,
  });
  const middles = (kind: string, style: string) =>
    mark(
      `middles ${kind}`,
      { type: "tick", style, orient: "vertical", thickness: 2, size: step * 0.62 },
      ranges
        .filter((range) => range.kind === kind)
        .flatMap(({ more, ...range }) =>
          [range.estimate, ...more].map((estimate) => ({ ...range, estimate })),
        ),
      { x: x("estimate"), y },
    );
  const cutAt = (side: "from" | "to", sign: string) =>
    ranges
      .filter((range) => (side === "from" ? range.low < range.from : range.high > range.to))
      .map(({ place }) => ({ place, text: sign }));
  // In a column words stand above each range, and nothing may run through them.
  const spots = column ? ranges.map(({ place }) => ({ place })) : [{}];
  const across = (values: Readonly<Record<string, number>>): object[] =>
    spots.map((spot) => ({ ...spot, ...values }));
  const upright = (name: string, style: string, value: number) =>
    column
      ? mark(
          name,
          { type: "tick", style, orient: "vertical", thickness: 1, size: step },
          across({ value }),
          { x: x("value"), y },
        )
      : mark(name, { type: "rule", style }, across({ value }), { x: x("value") });
  // Beside the zone at the right, or as near as it fits.
  const wordsAt = (amount: number, words: string): number => {
    const edge = ((amount - domain[0]) / (domain[1] - domain[0])) * plot;
    return Math.max(0, Math.min(edge + 6, plot - widest([words])));
  };
  const zoned =
    zone === undefined
      ? []
      : [
          mark(
            "no difference that counts",
            column ? { type: "bar", style: "zone", height: step } : { type: "rect", style: "zone" },
            across({ low: -zone.amount, high: zone.amount }),
            { x: x("low"), x2: { field: "high" }, ...(column ? { y } : {}) },
          ),
          upright("less that counts", "zone-edge", -zone.amount),
          upright("more that counts", "zone-edge", zone.amount),
          texts(
            "words of the zone",
            "text-small",
            [{ place: 0, text: zone.words }],
            wordsAt(zone.amount, zone.words),
          ),
        ];
  const drawn = [
    ...zoned,
    upright("no change", "zero", 0),
    // A dot must be seen on its range.
    mark(
      "ranges",
      {
        type: "bar",
        style: "range",
        height: step * 0.56,
        ...(dotted ? { fillOpacity: 0.16 } : {}),
      },
      ranges,
      {
        x: x("from"),
        x2: { field: "to" },
        y,
        fill: byKind({ range: pooled === undefined ? "category" : "ordinal" }),
        ...(pooled === undefined ? {} : { stroke: byKind({ range: "ordinal" }) }),
        strokeDash: byKind({ range: [[1, 0], pooled === undefined ? [3, 2] : [1, 0]] }),
        ...(apart === undefined
          ? {}
          : {
              fillOpacity: {
                field: "stands",
                type: "ordinal",
                scale: { domain: [...apart], range: [1, 0] },
                legend: { ...legend },
              },
            }),
        tooltip: ["label", "low", "estimate", "high", "word"].map((field) => ({ field })),
      },
    ),
    ...kinds.map((kind, place) =>
      middles(
        kind,
        dotted ? "computed-mark" : place === 0 || kind === pooled ? "range-tick" : "hollow-tick",
      ),
    ),
    mark(
      "dots",
      { type: "point", style: "candidate-point", size: step * 3 },
      ranges.flatMap(({ dot, ...range }) =>
        dot === undefined ? [] : [{ ...range, dot, kind: kinds[0] }],
      ),
      { x: x("dot"), y, fill: byKind({ range: "ordinal" }) },
    ),
    texts("cut at the left", "text-strong", cutAt("from", "\u2039"), 0),
    texts("cut at the right", "text-strong", cutAt("to", "\u203a"), plot, "right"),
  ];
  const names = [
    texts("groups", "text-group", headings, 0),
    texts("labels", "text-body", labels, groupWidth),
  ];
  const [wordLeft, wordAlign] = column ? [plot, "right"] : [14, "left"];
  const said = [true, false].map((strong) =>
    texts(
      strong ? "words that stand out" : "words",
      strong ? "text-pooled-strong" : "text-quiet",
      words.filter((word) => word.strong === strong),
      wordLeft,
      wordAlign,
    ),
  );
  const panel = (name: string, width: number, layers: readonly (typeof names)[number][]) => ({
    name,
    width,
    height,
    layer: (layers as readonly { data: { values: readonly unknown[] } }[]).filter(
      ({ data }) => data.values.length > 0,
    ),
  });
  const all = (layers: readonly unknown[]) => layers as typeof names;
  const view = {
    spacing: 0,
    bounds: "flush",
    hconcat: column
      ? [panel("rows", plot, all([...drawn, ...names, ...said]))]
      : [
          panel("names", labelWidth, names),
          ...(beside === undefined
            ? []
            : [
                beside.panel(
                  ranges.map(({ place }) => place * step),
                  step,
                  height,
                ),
              ]),
          panel("rows", plot, all(drawn)),
          panel("words", wordWidth, said),
        ],
  };
  return {
    view,
    width: labelWidth + (beside?.width ?? 0) + plot + wordWidth,
    height: height + (slide ? 54 : 66),
    besideDrawn: beside !== undefined,
  };
};

/** What a figure holds of a chart: the drawing under its title, and how wide and high it is. */
export const drawnChart = (
  { view, width, height }: Readonly<{ view: object; width: number; height: number }>,
  { description, ...title }: Readonly<{ text: string[]; subtitle?: string[]; description: string }>,
): Pick<Figure, "description" | "width" | "height" | "specification"> => ({
  description,
  width,
  height,
  specification: {
    $schema: "https://vega.github.io/schema/vega-lite/v6.json",
    description,
    title,
    ...view,
    config: themeConfig("light"),
  } as unknown as Figure["specification"],
});
