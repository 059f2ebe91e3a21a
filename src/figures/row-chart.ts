/** Rows of ranges over one axis, as encodings of data that any editor of such specifications can restyle. */
import type { Room } from "./frame.js";
import { domainOf, runsOn, widest, type ChartRow, type RowChart } from "./row-chart-rows.js";
export { drawnChart } from "./drawn-chart.js";
export { slideRows, type ChartRow, type RowChart } from "./row-chart-rows.js";
import { narrowest, wrapText } from "./wrap-text.js";
import { figureTheme } from "./theme.js";
import { insideEnds } from "./theme-config.js";

const leastPlot = 120;
/** Of groups that a slide names at the left. */
export const groupWidths = [58, 73, 88, 103, 118] as const;
const type = figureTheme.sizes.small;

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
  const groups = [...new Set(rows.map(({ group = "" }) => group))];
  const named = groups.some((group) => group !== "");
  const wordOf = ({ word, aside }: ChartRow): string =>
    aside === undefined || room.size !== "page" ? word : `${word}, ${aside}`;
  const linesOf = (label: string, width: number, lines: number): readonly string[] =>
    wrapText(label, { width, fontSize: type * 1.04, lines });
  const widestLabel = (chart.widestLabel ?? Infinity) * room.width;
  const labelLines = (label: string): readonly string[] =>
    widestLabel === Infinity ? [label] : linesOf(label, widestLabel, 3);
  const oneLine = rows.every(({ label }) => labelLines(label).length === 1);
  // Few rows of a slide are drawn larger, so that they fill it.
  const places = rows.length + (zone === undefined ? 0 : 1);
  const slideStep = oneLine ? Math.floor(126 / places) : rows.length > 9 ? 12 : 13;
  const step = slide ? Math.max(12, Math.min(40, slideStep)) : column ? 17 : (chart.step ?? 19);
  const ownWidth = column ? 0 : widest(rows.flatMap(({ label }) => labelLines(label))) + 16;
  const wordWidth = column ? 0 : widest(rows.map(wordOf), 1.08) + 14;
  // A slide has no line for a group's name, and names it at the left where there is room, beside the group's rows.
  const groupLines = (group: string, width: number): readonly string[] =>
    wrapText(group, { width: width - 12, fontSize: 1.18 * type, lines: 9 });
  const rowsOf = (group: string): readonly ChartRow[] =>
    rows.filter((row) => (row.group ?? "") === group);
  const groupName =
    slide && named
      ? (narrowest(
          groups.map((text) => ({ text, lines: rowsOf(text).length })),
          groupWidths,
          1.18 * type,
        ) ?? widest(groups, 1.18) + 2) + 12
      : 0;
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
  const isCut = rows.some(({ low, high }) => low < least || high > most);

  let next = zone === undefined ? 0 : 1;
  const headings: Place[] = [];
  const labels: Place[] = [];
  const words: (Place & { strong: boolean })[] = [];
  const ranges = groups.flatMap((group) => {
    if (group !== "" && (!slide || groupWidth > 0)) {
      if (!slide && labels.length > 0) next += 1;
      const lines = slide ? groupLines(group, groupWidth) : [group];
      lines.forEach((text, line) => headings.push({ place: next + line, text }));
      if (!slide) next += 1;
    }
    return rowsOf(group).map((row) => {
      const text = wordOf(row);
      let further = 0;
      if (column) {
        const lines = linesOf(row.label, plot / 1.04, 3);
        for (const line of lines) labels.push({ place: next++, text: line });
        const room_ = plot - widest([lines.at(-1) ?? ""]) - widest([text], 1.08);
        words.push({ place: room_ > 10 ? next - 1 : next++, text, strong: row.strong === true });
      } else {
        const [first = "", ...others] = labelLines(row.label);
        words.push({ place: next, text, strong: row.strong === true });
        labels.push({ place: next, text: first });
        others.forEach((line, at) => labels.push({ place: next + at + 1, text: line }));
        further = others.length;
      }
      const { label, low, estimate, high, kind, word, dot, claim, bare = false, more = [] } = row;
      const place = next;
      next += 1 + further;
      return {
        label,
        low,
        estimate,
        high,
        kind,
        word,
        more,
        bare,
        ...(dot === undefined ? {} : { dot }),
        ...(apart === undefined ? {} : { stands: apart[row.apart === true ? 1 : 0] }),
        ...(claim === undefined ? {} : { claim }),
        place,
        from: cut(low),
        to: cut(high),
      };
    });
  });
  const height = next * step;
  const y = {
    field: "place",
    type: "ordinal" as const,
    scale: {
      type: "band" as const,
      domain: Array.from({ length: next }, (_, place) => place),
      padding: 0,
    },
    axis: null,
  };
  const axis = {
    title: isCut
      ? runsOn(axisTitle, slide ? Infinity : plot + 2 * Math.min(labelWidth, wordWidth))
      : axisTitle,
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
    above = true,
  ) => ({
    name,
    data: { values: [...values] },
    mark: {
      type: "text" as const,
      style,
      align,
      baseline: "middle" as const,
      // Nearer to the range they stand above than to the one before.
      ...(column && above ? { dy: 3 } : {}),
    },
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
  const middles = (
    name: string,
    look: Readonly<Record<string, unknown>>,
    of: (range: (typeof ranges)[number]) => boolean,
  ) =>
    mark(
      name,
      look,
      ranges
        .filter(of)
        .flatMap(({ more, ...range }) =>
          [range.estimate, ...more].map((estimate) => ({ ...range, estimate })),
        ),
      { x: x("estimate"), y },
    );
  const tick = { type: "tick", orient: "vertical", thickness: 2, size: step * 0.62 };
  const open = { type: "point", style: "open-point", filled: false, size: 0.2 * step * step };
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
      : mark(name, { type: "rule", style }, across({ value }), {
          x: x("value"),
          // The words of the zone stand clear of its edges.
          ...(zone === undefined ? {} : { y: { value: step }, y2: { value: height } }),
        });
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
            {
              x: x("low"),
              x2: { field: "high" },
              ...(column ? { y } : { y: { value: step }, y2: { value: height } }),
            },
          ),
          // The grid ends below the words of the zone.
          ...(column
            ? []
            : [
                mark("behind the words of the zone", { type: "rect", style: "ground" }, [{}], {
                  x: { value: 0 },
                  x2: { value: plot },
                  y: { value: 0 },
                  y2: { value: step - 0.5 },
                }),
              ]),
          upright("less that counts", "zone-edge", -zone.amount),
          upright("more that counts", "zone-edge", zone.amount),
          texts(
            "words of the zone",
            "text-small",
            [{ place: 0, text: zone.words }],
            wordsAt(zone.amount, zone.words),
          ),
        ];
  // An edge stands where a claim ends; an open end runs on.
  const claims = ranges.flatMap(({ place, claim }) =>
    claim === undefined
      ? []
      : [{ place, low: claim.low ?? domain[0], high: claim.high ?? domain[1], claim }],
  );
  const claimed = [
    mark("claims", { type: "bar", style: "zone", height: step * 0.92 }, claims, {
      x: x("low"),
      x2: { field: "high" },
      y,
    }),
    mark(
      "ends of claims",
      { type: "tick", style: "zone-edge", orient: "vertical", thickness: 1.5, size: step * 0.92 },
      claims.flatMap(({ place, claim: { low, high } }) =>
        [low, high].flatMap((value) => (value === null ? [] : [{ place, value }])),
      ),
      { x: x("value"), y },
    ),
  ];
  const drawn = [
    ...zoned,
    ...(claims.length === 0 ? [] : claimed),
    upright("no change", "zero", 0),
    // A dot must be seen on its range.
    mark(
      "ranges",
      {
        type: "bar",
        style: "range",
        height: step * 0.56,
        ...insideEnds,
        ...(dotted ? { fillOpacity: 0.16 } : {}),
      },
      ranges.filter(({ bare }) => !bare),
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
    ...kinds.map((kind, place) => {
      const gap = place === 0 || kind === pooled ? "range-tick" : "hollow-tick";
      const style = dotted ? "computed-mark" : gap;
      const isOf = (range: (typeof ranges)[number]): boolean => range.kind === kind && !range.bare;
      return middles(`middles ${kind}`, { ...tick, style }, isOf);
    }),
    ...(ranges.some(({ bare }) => bare)
      ? [middles("middles without an interval", open, ({ bare }) => bare)]
      : []),
    mark(
      "dots",
      { type: "point", style: "candidate-point", size: step * 3 },
      ranges.flatMap(({ dot, ...range }) =>
        dot === undefined ? [] : [{ ...range, dot, kind: kinds[0] }],
      ),
      { x: x("dot"), y, fill: byKind({ range: "ordinal" }) },
    ),
    texts("cut at the left", "text-strong", cutAt("from", "\u2039"), 0, "left", false),
    texts("cut at the right", "text-strong", cutAt("to", "\u203a"), plot, "right", false),
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
    height: height + (slide ? 40 : 66) + (Array.isArray(axis.title) ? 14 : 0),
    besideDrawn: beside !== undefined,
  };
};
