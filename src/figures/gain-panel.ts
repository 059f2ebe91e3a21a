/** The layers of one panel of a gain chart. */
import { figureTheme } from "./theme.js";
import { roughTextWidth } from "./wrap-text.js";

/** Filled; open with its interval; open without one, since it has no weight. */
export const arms = {
  own: "own spread",
  borrowed: "borrowed spread, with its interval",
  none: "no spread, not weighted",
} as const;

/** An arm at a place along, numbers as they are shown. */
export type GainPoint = Readonly<{
  x: number;
  gain: number;
  low?: number;
  high?: number;
  spread: keyof typeof arms;
  /** Points of one series are joined. */
  series: string;
  /** Trained where it was tested. */
  trained?: boolean;
  /** What a pointer held over it shows. */
  full: string;
}>;

/** How an effect is marked: filled, or open with its 95% interval where its spread is borrowed. */
export const spreadOf = (
  {
    effectId,
    estimate,
    variance,
  }: Readonly<{ effectId: string; estimate: number; variance: number }>,
  borrowed: readonly string[],
  shown: (value: number) => number,
): Pick<GainPoint, "spread" | "low" | "high"> => {
  if (!borrowed.includes(effectId)) return { spread: "own" };
  const half = 1.96 * Math.sqrt(variance);
  return { spread: "borrowed", low: shown(estimate - half), high: shown(estimate + half) };
};

/** The computed curve at a place; `whole` is the band that holds all of it at once. */
export type GainPlace = Readonly<{
  x: number;
  gain: number;
  low: number;
  high: number;
  wholeLow?: number;
  wholeHigh?: number;
  /** False where nothing behind the curve reaches. */
  reached: boolean;
}>;

export type GainPanel = Readonly<{
  name: string;
  /** Words above the panel. */
  heading?: string;
  lines?: readonly string[];
  /** The same on a slide. */
  short?: string;
  briefly?: readonly string[];
  points: readonly GainPoint[];
  curve: readonly GainPlace[];
  /** Further curves, each named at its end. */
  thin?: readonly Readonly<{
    label: string;
    places: readonly Readonly<{ x: number; gain: number }>[];
  }>[];
  /** A length along, at a height: a middle with its interval. */
  reach?: Readonly<{ gain: number; low: number; middle: number; high: number }>;
}>;

/** Lines by what they are: all are of the computed colour, and told apart by width and dashes. */
const lineKinds = {
  curve: { width: 2.4, dash: [1, 0] },
  "curve beyond what was compared": { width: 1.8, dash: [2, 4] },
  "interval at each place": { width: 1.1, dash: [1, 0] },
  "band of the whole curve": { width: 1.1, dash: [5, 3] },
  "single shape": { width: 0.7, dash: [1, 0] },
} as const;
type LineKind = keyof typeof lineKinds;

const kinds = Object.values(arms);

export const layerOf = (
  name: string,
  mark: object,
  values: readonly object[],
  encoding: object,
) => ({
  name,
  data: { values: [...values] },
  mark,
  encoding,
});

const byLine = (range: (kind: LineKind) => unknown) => ({
  field: "line",
  type: "ordinal" as const,
  scale: {
    type: "ordinal" as const,
    domain: Object.keys(lineKinds),
    range: (Object.keys(lineKinds) as LineKind[]).map(range),
  },
  legend: null,
});

/** What a panel shares with the chart it stands in. */
export type PanelPlace = Readonly<{
  x: object;
  y: object;
  bottom: number;
  top: number;
  plot: number;
  /** Whether further curves are drawn. */
  thins: boolean;
  /** Key of the points, of one panel of the chart. */
  legend: object | null;
  /** Words at the ends of lines. */
  ends: readonly Readonly<{ gain: number; text: string; strong: boolean }>[];
  /** Where those begin, in drawing units along. */
  endsFrom: number;
}>;

/** Bands below, then arms, and names at the ends of lines; only what there is. */
export const panelLayers = (
  panel: GainPanel,
  { x, y, bottom, top, plot, thins, legend, ends, endsFrom }: PanelPlace,
) => {
  const at = (name: string, mark: object, values: readonly object[], encoding: object = {}) =>
    layerOf(`${panel.name}: ${name}`, mark, values, { x, y, ...encoding });
  const { points, curve, thin = [], reach } = panel;
  const inside = curve.filter(({ reached }) => reached);
  const [from, to] = [inside[0]?.x, inside.at(-1)?.x];
  const outer =
    from === undefined || to === undefined
      ? []
      : [curve.filter((one) => one.x <= from), curve.filter((one) => one.x >= to)].filter(
          ({ length }) => length > 1,
        );
  const line = (
    kind: LineKind,
    series: string,
    values: readonly Readonly<{ x: number; gain: number }>[],
  ) => values.map((value) => ({ x: value.x, gain: value.gain, line: kind, series }));
  const edge = (kind: LineKind, key: "low" | "high" | "wholeLow" | "wholeHigh") =>
    line(
      kind,
      key,
      inside.flatMap((one) => (one[key] === undefined ? [] : [{ x: one.x, gain: one[key] }])),
    );
  const lines = [
    ...(thins
      ? thin.flatMap(({ places }, which) => line("single shape", `shape ${which}`, places))
      : []),
    ...edge("band of the whole curve", "wholeLow"),
    ...edge("band of the whole curve", "wholeHigh"),
    ...edge("interval at each place", "low"),
    ...edge("interval at each place", "high"),
    ...outer.flatMap((part, side) =>
      line("curve beyond what was compared", `beyond ${side}`, part),
    ),
    ...line("curve", "curve", inside),
  ];
  // In the middle of every stretch over which an edge lies outside the drawing.
  const runsOn = (high: boolean) => {
    const out = inside.map(({ low, high: up, wholeLow = low, wholeHigh = up }) =>
      high ? Math.max(up, wholeHigh) > top : Math.min(low, wholeLow) < bottom,
    );
    return inside.flatMap((one, i) => {
      if (!out[i] || out[i - 1]) return [];
      let end = i;
      while (out[end + 1]) end += 1;
      return [{ x: (one.x + inside[end]!.x) / 2, gain: high ? top : bottom }];
    });
  };
  // Arms of one study at one dose are joined to the others at their mean.
  const joined = [...new Set(points.map(({ series }) => series))].flatMap((series) => {
    const own = points.filter((one) => one.series === series);
    const places = [...new Set(own.map((one) => one.x))];
    return places.length < 2
      ? []
      : places.map((x) => {
          const gains = own.filter((one) => one.x === x).map(({ gain }) => gain);
          return { x, gain: gains.reduce((sum, gain) => sum + gain, 0) / gains.length, series };
        });
  });
  return [
    at(
      "beyond what was compared",
      { type: "rect", style: "zone" },
      outer.map((part) => ({ x: part[0]!.x, x2: part.at(-1)!.x })),
      { x2: { field: "x2" }, y: undefined },
    ),
    at("no change", { type: "rule", style: "zero" }, [{ gain: 0 }], { x: undefined }),
    at(
      "interval",
      { type: "area", style: "pooled-band", clip: true },
      inside.map((one) => ({ x: one.x, gain: one.low, high: one.high })),
      { y2: { field: "high" } },
    ),
    at("arms of one study", { type: "line", style: "arm-line" }, joined, {
      detail: { field: "series", type: "nominal" },
    }),
    at("lines", { type: "line", style: "curve-line", clip: true }, lines, {
      detail: { field: "series", type: "nominal" },
      strokeDash: byLine((kind) => lineKinds[kind].dash),
      strokeWidth: byLine((kind) => lineKinds[kind].width),
    }),
    at(
      "intervals of single effects",
      { type: "rule", style: "pair-interval", clip: true },
      points
        .filter(({ low, high }) => low !== undefined && high !== undefined)
        .map((one) => ({ x: one.x, gain: one.low, high: one.high })),
      { y2: { field: "high" } },
    ),
    at(
      "trained where tested",
      { type: "point", style: "trained-ring" },
      points.filter(({ trained }) => trained === true).map((one) => ({ x: one.x, gain: one.gain })),
    ),
    at(
      "arms",
      { type: "point", style: "arm-point" },
      points.map((one) => ({
        x: one.x,
        gain: one.gain,
        spread: arms[one.spread],
        full: one.full,
      })),
      {
        fill: {
          field: "spread",
          type: "nominal",
          scale: { domain: [...kinds], range: "category" },
          legend,
        },
        tooltip: { field: "full", type: "nominal" },
      },
    ),
    ...(reach === undefined
      ? []
      : [
          at(
            "where half is left",
            { type: "rule", style: "reach-line" },
            [{ x: reach.low, gain: reach.gain, x2: reach.high }],
            { x2: { field: "x2" } },
          ),
          at(
            "half",
            { type: "tick", style: "reach-tick", orient: "vertical", thickness: 3, size: 15 },
            [{ x: reach.middle, gain: reach.gain }],
          ),
        ]),
    at("runs on above", { type: "point", style: "runs-on", shape: "triangle-up" }, runsOn(true)),
    at("runs on below", { type: "point", style: "runs-on", shape: "triangle-down" }, runsOn(false)),
    // Lines of the grid end at the words that stand among them.
    ...(endsFrom < plot
      ? ends.map(({ gain, text }, place) =>
          at(
            `behind name ${place + 1}`,
            { type: "rect", style: "ground", height: 13 },
            [{ gain }],
            {
              x: { value: endsFrom - 2 },
              x2: { value: endsFrom + 2 + 1.1 * roughTextWidth(text, figureTheme.sizes.small) },
            },
          ),
        )
      : []),
    ...[true, false].map((strong) =>
      at(
        strong ? "name of the curve" : "names of lines",
        {
          type: "text",
          style: strong ? "text-pooled-strong" : "text-pooled",
          align: "left",
          baseline: "middle",
        },
        ends.filter((end) => end.strong === strong),
        { x: { value: endsFrom }, text: { field: "text", type: "nominal" } },
      ),
    ),
  ].filter(({ data }) => data.values.length > 0);
};
