/** Gains along a dose, weeks or angles, as encodings of data that any editor of such specifications can restyle. */
import { highest, lowest } from "./extremes.js";
import type { Room } from "./frame.js";
import { arms, layerOf, panelLayers, type GainPanel, type GainPoint } from "./gain-panel.js";
import { figureTheme } from "./theme.js";
import { roughTextWidth, wrapText } from "./wrap-text.js";

export type GainChart = Readonly<{
  panels: readonly GainPanel[];
  /** Further gains that are inside the axis. */
  inside?: readonly number[];
  /** Whether further curves are drawn at every size. */
  thinAlways?: boolean;
  gainTitle: string;
  x: Readonly<{
    title: string;
    domain: readonly [number, number];
    scale?: "linear" | "sqrt";
    /** Names of the places 0 and 1. */
    levels?: readonly [string, string];
    sign?: string;
    whole?: boolean;
  }>;
  /** What the curve and its two bands are called at their ends. */
  names?: Readonly<{ curve: string; each: string; whole?: string }>;
  /** Whether points that would hide each other stand side by side. */
  sideBySide?: boolean;
  /** Below the marks of the axis: texts at places along. */
  below?: readonly Readonly<{ x: number; lines: readonly string[] }>[];
}>;

/** What a key says where a band is cut. */
export const runsOutWords = "Triangle: the band runs out of the drawing.";

const type = figureTheme.sizes.small;
const apartBy = 14;
/** How near two points hide each other, and so how far apart they are set. */
const pointWide = 8;

/** A panel whose points stand side by side where one would hide another, those of a series on one side throughout. */
const apartAlong = (
  panel: GainPanel,
  { across, upright }: Readonly<Record<"across" | "upright", (value: number) => number>>,
): GainPanel => {
  const series = [...new Set(panel.points.map((one) => one.series))];
  const unit = across(1) - across(0);
  const hides = (one: GainPoint, other: GainPoint): boolean =>
    Math.abs(across(one.x) - across(other.x)) < pointWide &&
    Math.abs(upright(one.gain) - upright(other.gain)) < pointWide;
  // A point that hides one that hides a third stands in one row with both.
  const rowOf = (from: GainPoint): readonly GainPoint[] => {
    const row = [from];
    for (const one of row)
      for (const other of panel.points)
        if (!row.includes(other) && hides(one, other)) row.push(other);
    return row.sort((a, b) => series.indexOf(a.series) - series.indexOf(b.series));
  };
  return {
    ...panel,
    points: panel.points.map((point) => {
      const row = rowOf(point);
      const place = row.indexOf(point) - (row.length - 1) / 2;
      return place === 0 ? point : { ...point, x: point.x + (place * pointWide) / unit };
    }),
  };
};

/** Round numbers along a scale that have room for their labels. */
const marksOf = (
  { domain: [low, high], scale, whole }: GainChart["x"],
  plot: number,
): readonly number[] => {
  const along = (value: number): number =>
    scale === "sqrt" ? Math.sqrt(Math.max(0, value)) : value;
  const unit = plot / (along(high) - along(low));
  if (scale !== "sqrt") {
    const rough = (52 * (high - low)) / plot;
    const power = 10 ** Math.floor(Math.log10(rough));
    const step = Math.max(
      whole === true ? 1 : 0,
      [1, 2, 5, 10].find((one) => one * power >= rough)! * power,
    );
    const first = Math.ceil(low / step - 1e-9);
    return Array.from({ length: Math.max(0, Math.floor(high / step + 1e-9) - first + 1) }, (_, i) =>
      Number(((first + i) * step).toPrecision(12)),
    );
  }
  const marks: number[] = [];
  // The roundest first; the others where there is room between them.
  for (const lead of [1, 5, 2, 3, 7, 4])
    for (let power = 10 ** Math.floor(Math.log10(high) - 3); power <= high; power *= 10) {
      const value = Number((lead * power).toPrecision(12));
      const fits = marks.every((mark) => Math.abs(along(value) - along(mark)) * unit >= 34);
      if (value >= low && value <= high && fits && (whole !== true || Number.isInteger(value)))
        marks.push(value);
    }
  marks.sort((a, b) => a - b);
  return marks;
};

/** Places of labels so far apart that none touches the next, in their order, within a height. */
const spread = <T extends Readonly<{ at: number }>>(
  labels: readonly T[],
  height: number,
): readonly T[] => {
  const out: T[] = [];
  for (const label of [...labels].sort((a, b) => a.at - b.at)) {
    const before = out.at(-1);
    out.push({ ...label, at: Math.max(label.at, before === undefined ? 0 : before.at + apartBy) });
  }
  for (let i = out.length - 1; i >= 0; i--) {
    const most = i === out.length - 1 ? height : out[i + 1]!.at - apartBy;
    if (out[i]!.at > most) out[i] = { ...out[i]!, at: most };
  }
  return out;
};

/** Every arm, the curve and zero are inside; bands may run out by a third of that, and are cut there with a mark. */
const gainDomain = ({ panels, inside: also = [] }: GainChart): readonly [number, number] => {
  const inside = [
    0,
    ...also,
    ...panels.flatMap(({ points, curve }) => [...points, ...curve].map(({ gain }) => gain)),
  ];
  const [least, most] = [lowest(inside), highest(inside)];
  const limits = panels.flatMap(({ points, curve }) =>
    [...points, ...curve].flatMap(({ low, high }) =>
      low === undefined || high === undefined ? [] : [low, high],
    ),
  );
  const reach = most - least || 1;
  const low = Math.max(least - 0.35 * reach, lowest([least, ...limits]));
  const high = Math.min(most + 0.35 * reach, highest([most, ...limits]));
  return [low - 0.04 * reach, high + 0.04 * reach];
};

/**
 * The drawing of a gain chart in a room, as a view, and how wide and high it comes out.
 *
 * Panels stand side by side on one axis of gains, in a column one above the other. Lines are named at their ends
 * where there is room beside the plot; a triangle marks where a band runs out of the drawing.
 */
export const gainChart = (chart: GainChart, room: Room) => {
  const { panels, x: along, names, below = [] } = chart;
  const [column, slide] = [room.size === "column", room.size === "slide"];
  const thins = chart.thinAlways === true || room.size === "page";
  const axisWidth = slide ? 44 : 52;
  const count = column ? 1 : panels.length;
  const gap = slide ? 16 : 22;
  const labelsOf = ({ thin = [], curve }: GainPanel) => {
    const last = curve.filter(({ reached }) => reached).at(-1);
    if (column || names === undefined) return [];
    return [
      ...(last === undefined
        ? []
        : [
            { text: names.curve, gain: last.gain, strong: true },
            { text: names.each, gain: last.high, strong: false },
            ...(names.whole === undefined || last.wholeHigh === undefined
              ? []
              : [{ text: names.whole, gain: last.wholeHigh, strong: false }]),
          ]),
      ...(!thins
        ? []
        : thin.flatMap(({ label, places }) =>
            label === "" ? [] : [{ text: label, gain: places.at(-1)!.gain, strong: false }],
          )),
    ];
  };
  const beside = Math.max(
    0,
    ...panels.flatMap((panel) =>
      labelsOf(panel).map(
        ({ text, strong }) => 12 + (strong ? 1.1 : 1.04) * roughTextWidth(text, type),
      ),
    ),
  );
  const plot = Math.floor(
    (room.width - axisWidth - (column ? 14 : 4) - gap * (count - 1)) / count - beside,
  );
  const words = panels.map(({ lines = [], briefly = [] }) =>
    (slide ? briefly : lines).flatMap((line) =>
      wrapText(line, { width: plot, fontSize: type, lines: 6 }),
    ),
  );
  const headed = panels.some(({ heading }) => heading !== undefined);
  const most = Math.max(...words.map(({ length }) => length));
  const headHeight = headed ? 22 + 14 * (column ? 0 : most) : 0;
  const found = new Set(panels.flatMap(({ points }) => points.map((one) => one.spread)));
  const spreads = (Object.keys(arms) as (keyof typeof arms)[]).filter((one) => found.has(one));
  // Filled alone needs no key.
  const keyed = spreads.some((spread) => spread !== "own");
  const height = slide
    ? 150 - (headed ? headHeight : 0) - (keyed ? 22 : 0)
    : column
      ? 200
      : count > 2
        ? 230
        : 320;
  const [bottom, top] = gainDomain(chart);
  const upright = (gain: number): number => ((top - gain) / (top - bottom)) * height;
  const [from, to] = along.domain;
  const bent = (value: number): number =>
    along.scale === "sqrt" ? Math.sqrt(Math.max(0, value)) : value;
  const across = (value: number): number =>
    (plot * (bent(value) - bent(from))) / (bent(to) - bent(from));
  /** Where the names of lines begin: at the end of the curve where nothing else stands there, else beside the plot. */
  const namesFrom = ({ curve, points }: GainPanel, texts: readonly string[]): number => {
    const end = across(curve.at(-1)?.x ?? to) + 10;
    const wide = 1.1 * Math.max(0, ...texts.map((text) => roughTextWidth(text, type)));
    const isFree = points.every(({ x: place }) => {
      const at = across(place);
      return at < end - 6 || at > end + wide + 6;
    });
    return end + wide + 6 < plot && isFree ? end : plot + 10;
  };
  const marks = along.levels === undefined ? marksOf(along, plot) : [0, 1];
  const x = {
    field: "x",
    type: "quantitative" as const,
    scale: { type: along.scale ?? "linear", domain: [...along.domain], nice: false, zero: false },
    axis: {
      title: along.title,
      values: [...marks],
      grid: false,
      domain: true,
      labelOverlap: true,
      // As it is: a format of so many places would round 0.7 to 1.
      ...(along.levels === undefined
        ? { labelExpr: `format(datum.value, '~r') + '${along.sign ?? ""}'` }
        : { labelExpr: `datum.value === 0 ? '${along.levels[0]}' : '${along.levels[1]}'` }),
    },
  };
  const yOf = (first: boolean) => ({
    field: "gain",
    type: "quantitative" as const,
    scale: { domain: [bottom, top], nice: false, zero: false },
    axis: {
      title: first ? chart.gainTitle : null,
      labels: first,
      ticks: false,
      maxExtent: 34,
      tickCount: Math.round(height / 45),
      format: "~f",
      grid: true,
    },
  });
  const key = {
    title: null,
    orient: "top",
    direction: column ? "vertical" : "horizontal",
    symbolType: "circle",
    symbolSize: 50,
    values: [...spreads].map((spread) => arms[spread]),
  };
  // Numbers below the axis, on the same scale.
  const under = [0, 1].flatMap((line) => {
    const rows = below.flatMap(({ x: place, lines }) =>
      lines[line] === undefined ? [] : [{ x: place, text: lines[line] }],
    );
    const mark = {
      type: "text",
      style: line === 0 ? "text-pooled-strong" : "text-pooled",
      baseline: "middle",
    };
    const text = { field: "text", type: "nominal" };
    return rows.length === 0
      ? []
      : [
          layerOf(`below the axis ${line + 1}`, mark, rows, {
            x,
            y: { value: height + 52 + 14 * line },
            text,
          }),
        ];
  });
  const view = (panel: GainPanel, place: number) => {
    const ends = spread(
      labelsOf(panel).map((label) => ({
        ...label,
        at: Math.min(height, Math.max(0, upright(label.gain))),
      })),
      height,
    ).map(({ at: down, text, strong }) => ({
      gain: top - (down / height) * (top - bottom),
      text,
      strong,
    }));
    return {
      name: panel.name,
      width: plot,
      height,
      ...(panel.heading === undefined
        ? {}
        : {
            title: {
              text: slide ? (panel.short ?? panel.heading) : panel.heading,
              subtitle: [
                ...words[place]!,
                ...(column ? [] : Array.from({ length: most - words[place]!.length }, () => " ")),
              ],
              fontSize: 12.5,
              lineHeight: 15,
              subtitleFontSize: type,
              subtitleLineHeight: 14,
              offset: 8,
            },
          }),
      layer: [
        ...under,
        ...panelLayers(chart.sideBySide === true ? apartAlong(panel, { across, upright }) : panel, {
          x,
          y: yOf(column || place === 0),
          bottom,
          top,
          plot,
          thins,
          legend: keyed ? key : null,
          ends,
          endsFrom: namesFrom(
            panel,
            ends.map(({ text }) => text),
          ),
        }),
      ],
    };
  };
  const drawn = panels.map(view);
  // Axes are drawn into a margin of its own, so that the words of the frame begin where the axis does.
  const besideMargin = (
    views: readonly Readonly<{ name: string; height: number }>[],
    spacing: number,
  ) => {
    const name = `margin of ${views[0]!.name}`;
    const nothing = layerOf(`${name}: nothing`, { type: "rule", style: "grid" }, [], {});
    const wide = axisWidth - spacing;
    const margin = { name, width: wide, height: views[0]!.height, layer: [nothing] };
    return { spacing, bounds: "flush", hconcat: [margin, ...views] };
  };
  const rows = column ? panels.length : 1;
  const headRows = column
    ? words.reduce((sum, { length }) => sum + 22 + 14 * length, 0) * (headed ? 1 : 0)
    : headHeight;
  const total =
    rows * (height + (slide ? 39 : 40)) +
    headRows +
    (keyed ? (column ? 62 : slide ? 22 : 26) : 0) +
    (below.length === 0 ? 0 : 36);
  return {
    view: column
      ? { spacing: 16, vconcat: drawn.map((one) => besideMargin([one], 0)) }
      : besideMargin(drawn, panels.length === 1 ? 0 : gap),
    width: axisWidth + count * (plot + beside) + gap * (count - 1),
    height: total,
    runsOut: drawn.some(({ layer }) => layer.some(({ name }) => name.includes("runs on"))),
  };
};
