import { estimatesInputDefaults, type EstimatesInput } from "./estimates-input.js";
import type { EstimatesLayout } from "./estimates-layout.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";
import { studyBands } from "./study-bands.js";
import { written } from "./value-text.js";

/** Every estimate and interval in numbers, in columns that line up with the marks. */
export const numbersPanel = (input: EstimatesInput, layout: EstimatesLayout): Panel => {
  const draw = panelDrawing("numbers", plainFrame(layout.numbers.width, layout.height));
  const percent = input.confidencePercent ?? estimatesInputDefaults.confidencePercent;
  const { display, pooled } = input;
  const { fontSize } = layout;
  const at = layout.numbers;
  const rows = layout.studies.flatMap((study) => study.rows);
  const column = (pick: (row: (typeof rows)[number]["row"]) => number, x: number) =>
    rows.map(({ row, middle }) => ({ x, y: middle, text: written(display, pick(row)) }));
  const pooledRows =
    pooled === undefined
      ? []
      : [
          { y: layout.pooledTop + 11, estimate: pooled.estimate, ...pooled.interval },
          ...(pooled.predictionInterval === null
            ? []
            : [{ y: layout.pooledTop + 33, estimate: null, ...pooled.predictionInterval }]),
        ];
  const right = { align: "right" as const, fontSize };
  const pooledRight = { align: "right" as const };
  return draw.panel([
    draw.boxes("study bands", "band", studyBands(layout, 0, layout.numbers.width)),
    draw.words("heading estimate", "text-heading", [{ x: at.estimate, y: 10, text: "Estimate" }], {
      align: "right",
    }),
    draw.words(
      "heading interval",
      "text-heading",
      [{ x: at.high, y: 10, text: `${percent}% interval` }],
      { align: "right" },
    ),
    draw.words(
      "estimate numbers",
      "text-strong",
      column((row) => row.estimate, at.estimate),
      right,
    ),
    draw.words(
      "low numbers",
      "text-body",
      column((row) => row.low, at.low),
      right,
    ),
    draw.words(
      "high numbers",
      "text-body",
      column((row) => row.high, at.high),
      right,
    ),
    draw.words(
      "between numbers",
      "text-quiet",
      [...rows.map(({ middle }) => middle), ...pooledRows.map(({ y }) => y)].map((y) => ({
        x: at.to,
        y,
        text: "to",
      })),
      { align: "center", fontSize: Math.min(fontSize, 10) },
    ),
    draw.words(
      "note marks",
      "text-small",
      rows
        .filter(({ mark }) => mark !== "")
        .map(({ mark, top, row }) => ({
          x: at.estimate + 2,
          y: top + layout.rowHeight * 0.34,
          text: mark,
          full: row.note ?? "",
        })),
      { fontSize: fontSize - 2 },
    ),
    draw.words(
      "pooled estimate",
      "text-pooled-strong",
      pooledRows.flatMap(({ y, estimate }) =>
        estimate === null ? [] : [{ x: at.estimate, y, text: written(display, estimate) }],
      ),
      pooledRight,
    ),
    draw.words(
      "pooled low",
      "text-pooled",
      pooledRows.map(({ y, low }) => ({ x: at.low, y, text: written(display, low) })),
      pooledRight,
    ),
    draw.words(
      "pooled high",
      "text-pooled",
      pooledRows.map(({ y, high }) => ({ x: at.high, y, text: written(display, high) })),
      pooledRight,
    ),
  ]);
};
