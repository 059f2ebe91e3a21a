/** The marks of the estimates figure as encodings of data: a place for each row down, the shown scale along, a real axis and key. */
import { valueText } from "../tables/scale-display.js";
import { type ShownEstimates, estimatesInputDefaults } from "./estimates-input.js";
import type { EstimatesLayout } from "./estimates-layout.js";
import { arms, layerOf } from "./gain-panel.js";
import type { Panel } from "./layer.js";
import { oneLine } from "./wrap-text.js";

/** Least room, in drawing units, for a word of direction beside the line of no change. */
const directionRoom = 44;

/**
 * Intervals and estimates over the band of the pooled answer, which hangs from its row through all others.
 *
 * @param domain ends of the axis on the analysis scale; intervals that run past them are cut there and marked
 */
export const plotPanel = (
  input: ShownEstimates,
  layout: EstimatesLayout,
  domain: readonly [number, number],
  plotWidth: number,
): Panel => {
  const { display, pooled } = input;
  const { rowHeight, places, headPlaces, averagePlace, furtherPlace } = layout;
  const [low, high] = domain;
  const shown = (value: number): number => display.toShown(Math.min(high, Math.max(low, value)));
  const [from, to] = [shown(low), shown(high)];
  const toLeft = ((0 - from) / (to - from)) * plotWidth;
  const directions = input.directions ?? estimatesInputDefaults.directions;
  const title = [
    ...(from < 0 && toLeft > directionRoom ? [`\u2190 ${directions.low}`] : []),
    display.label,
    ...(to > 0 && plotWidth - toLeft > directionRoom ? [`${directions.high} \u2192`] : []),
  ].join(" \u00b7 ");
  const axis = {
    ...{ title, format: "~f", grid: true, labelOverlap: true, labelFlush: 12 },
    tickCount: Math.max(3, Math.round(plotWidth / 45)),
  };
  const x = (field: string) => ({
    field,
    type: "quantitative",
    scale: { domain: [from, to], zero: false, nice: false },
    axis,
  });
  const x2 = (field: string) => ({ field });
  const y = {
    field: "place",
    type: "ordinal",
    scale: {
      ...{ type: "band", padding: 0 },
      domain: Array.from({ length: places }, (_, place) => place),
    },
    axis: null,
  };
  const at = (name: string, mark: object, values: readonly object[], encoding: object) =>
    layerOf(`effects: ${name}`, mark, values, { y, ...encoding });
  const bar = (style: string, height: number) => ({ type: "bar", style, height });
  const half = Math.min(5, rowHeight * 0.26);
  const rows = layout.studies.flatMap(({ rows: own }) =>
    own.map(({ row, place }) => ({
      place,
      study: oneLine(row.study),
      label: oneLine(row.label),
      estimate: shown(row.estimate),
      low: shown(row.low),
      high: shown(row.high),
      // The bar darkens from its ends to the estimate, so that the eye rests where the values are likeliest.
      innerLow: shown(row.estimate - (2 / 3) * (row.estimate - row.low)),
      innerHigh: shown(row.estimate + (2 / 3) * (row.high - row.estimate)),
      spread: arms[row.spread ?? "own"],
      cutLow: row.low < low,
      cutHigh: row.high > high,
      full: oneLine(`${row.study} ${row.label}: ${valueText(display, row)}`),
    })),
  );
  const filled = rows.filter(({ spread }) => spread === arms.own);
  const open = rows.filter(({ spread }) => spread !== arms.own);
  const grounds = layout.studies.flatMap(({ rows: own }, study) =>
    study % 2 === 0 ? own.map(({ place }) => ({ place, from, to })) : [],
  );
  const heads = Array.from({ length: headPlaces }, (_, place) => ({ place, from, to }));
  const bottom = { value: places * rowHeight };
  const through = (place: number) => ({ y: { value: (place + 0.5) * rowHeight }, y2: bottom });
  const further = pooled?.predictionInterval ?? null;
  const outer =
    further === null || furtherPlace === undefined
      ? []
      : [{ place: furtherPlace, low: shown(further.low), high: shown(further.high) }];
  const inner =
    pooled === undefined || averagePlace === undefined
      ? []
      : [
          {
            place: averagePlace,
            low: shown(pooled.interval.low),
            estimate: shown(pooled.estimate),
            high: shown(pooled.interval.high),
          },
        ];
  const tooltip = { field: "full", type: "nominal" };
  const cut = (side: "Low" | "High", sign: string, edge: number) =>
    at(
      `intervals cut at the ${side === "Low" ? "left" : "right"}`,
      {
        ...{ type: "text", style: "text-strong", baseline: "middle" },
        align: side === "Low" ? "right" : "left",
      },
      rows.filter((row) => row[`cut${side}`]).map(({ place }) => ({ place, at: edge, text: sign })),
      { x: x("at"), text: { field: "text", type: "nominal" } },
    );
  const upright = (style: string) => ({ type: "rule", style });
  const layers = [
    // No grid behind the headings.
    at("head", bar("ground", rowHeight), heads, { x: x("from"), x2: x2("to") }),
    at("study bands", bar("band", rowHeight), grounds, { x: x("from"), x2: x2("to") }),
    ...(furtherPlace === undefined
      ? []
      : [
          at("prediction band", { type: "rect", style: "prediction-band" }, outer, {
            ...{ x: x("low"), x2: x2("high"), ...through(furtherPlace) },
          }),
          ...(["low", "high"] as const).map((end) =>
            at(`prediction edge ${end}`, upright("prediction-edge"), outer, {
              ...{ x: x(end), ...through(furtherPlace) },
            }),
          ),
          at("further study", bar("computed-tint", 10), outer, { x: x("low"), x2: x2("high") }),
        ]),
    ...(averagePlace === undefined
      ? []
      : [
          at("confidence band", { type: "rect", style: "pooled-band" }, inner, {
            ...{ x: x("low"), x2: x2("high"), ...through(averagePlace) },
          }),
          at("pooled interval", bar("pooled-bar", 10), inner, { x: x("low"), x2: x2("high") }),
          at("pooled line", upright("pooled-line"), inner, {
            ...{ x: x("estimate"), ...through(averagePlace) },
          }),
          at(
            "pooled estimate tick",
            { type: "tick", style: "pooled-tick", orient: "vertical", thickness: 2.6, size: 16 },
            inner,
            { x: x("estimate") },
          ),
        ]),
    at("no change", upright("zero"), [{ value: 0 }], {
      ...{ x: x("value"), y: { value: headPlaces * rowHeight }, y2: bottom },
    }),
    at("intervals", bar("effect-outer", half * 1.1), filled, { x: x("low"), x2: x2("high") }),
    at("intervals, inner two thirds", bar("effect-middle", half * 1.6), filled, {
      ...{ x: x("innerLow"), x2: x2("innerHigh") },
    }),
    at(
      "estimates",
      {
        ...{ type: "tick", style: "effect-tick", orient: "vertical" },
        ...{ thickness: 2.6, size: half * 3 },
      },
      filled,
      { x: x("estimate"), tooltip },
    ),
    at(
      "intervals of single effects",
      { type: "rule", style: "pair-interval" },
      open.filter(({ spread }) => spread === arms.borrowed),
      { x: x("low"), x2: x2("high") },
    ),
    at("estimates without a spread of their own", { type: "point", style: "open-point" }, open, {
      ...{ x: x("estimate"), tooltip },
      fill: {
        ...{ field: "spread", type: "nominal" },
        scale: { domain: Object.values(arms), range: "category" },
        legend: {
          ...{ title: null, orient: "top", direction: "horizontal", symbolType: "circle" },
          values: [...new Set(open.map(({ spread }) => spread))],
        },
      },
    }),
    cut("Low", "\u2039", from),
    cut("High", "\u203a", to),
  ].filter(({ data }) => data.values.length > 0);
  return {
    ...{ name: "effects", width: plotWidth, height: places * rowHeight },
    layer: layers,
  } as unknown as Panel;
};
