/**
 * What stands beside the marks of the estimates figure: names at the left, sessions drawn to scale, numbers at the
 * right. Longer than most: the columns share their rows.
 */
import { type ShownEstimates, estimatesInputDefaults } from "./estimates-input.js";
import { sharedPieces, type EstimatesLayout } from "./estimates-layout.js";
import { type StripScale, holdStrip, holdStripLayers } from "./hold-strip.js";
import { type Panel, type Stroke, panelDrawing, plainFrame } from "./layer.js";
import { shownClock, shownDuration } from "../tables/shown-duration.js";
import { oneLine, roughTextWidth } from "./wrap-text.js";

/** The soft grounds that hold the rows of every second study together, from one edge of a panel to the other. */
export const studyBands = (
  layout: EstimatesLayout,
  left: number,
  right: number,
): readonly Stroke[] =>
  layout.studies
    .filter((_study, place) => place % 2 === 0)
    .map(({ top, bottom }) => ({ x: left, x2: right, y: top, y2: bottom }));

/** The middle of a place, where there is one. */
const placed = ({ rowHeight }: EstimatesLayout, place: number | undefined): readonly number[] =>
  place === undefined ? [] : [(place + 0.5) * rowHeight];

/** A label that fits: what all rows of its study share gives way first, as that does not tell them apart. */
const fitting = (
  label: string,
  shared: readonly string[],
  fits: (text: string) => boolean,
): string => {
  let pieces = oneLine(label).split(", ");
  for (const piece of pieces.filter((one) => shared.includes(one)).reverse()) {
    if (fits(pieces.join(", ")) || pieces.length === 1) break;
    pieces = pieces.filter((one) => one !== piece);
  }
  return pieces.join(", ");
};

/** The names of studies, and of each effect in them, at the left of the estimates figure. */
export const namesPanel = (
  layout: EstimatesLayout,
  hasPooled: boolean,
  labelHeading = "Arm and outcome",
): Panel => {
  const { studyWidth, labelWidth, fontSize, height } = layout;
  const width = studyWidth + labelWidth;
  const draw = panelDrawing("names", plainFrame(width, height));
  const names = layout.studies.flatMap(({ study, nameLines }) =>
    nameLines.map(({ text, y }) => ({ x: 8, y, text, full: oneLine(study) })),
  );
  const labels = layout.studies.flatMap(({ rows }) => {
    const shared = sharedPieces(rows.map(({ row: { label } }) => label));
    return rows.map(({ row, middle }) => ({
      x: studyWidth,
      y: middle,
      text: fitting(row.label, shared, (text) => roughTextWidth(text, fontSize) <= labelWidth - 8),
      full: oneLine(row.label),
    }));
  });
  const headings = [
    { x: 8, y: 10, text: "Study" },
    ...(labelWidth > 0 ? [{ x: studyWidth, y: 10, text: labelHeading }] : []),
  ];
  return draw.panel([
    draw.boxes("study bands", "band", studyBands(layout, 0, width)),
    draw.words("headings", "text-heading", headings),
    draw.words("study names", "text-strong", names, { limit: studyWidth - 14, fontSize }),
    ...(labelWidth > 0
      ? [draw.words("labels", "text-body", labels, { limit: labelWidth - 8, fontSize })]
      : []),
    ...(hasPooled
      ? [
          draw.words("pooled names", "text-pooled-strong", [
            ...placed(layout, layout.averagePlace).map((y) => ({
              ...{ x: 8, y, text: "Average over such studies" },
            })),
            ...placed(layout, layout.furtherPlace).map((y) => ({
              ...{ x: 8, y, text: "A further study like these" },
            })),
          ]),
        ]
      : []),
  ]);
};

/** Width of one strip, and of the panel that holds them, in drawing units. */
export const stripWidth = 104;
export const stripPanelWidth = stripWidth + 22;

/** Each effect's session drawn to scale; blank where no timeline is known. */
export const stripPanel = (layout: EstimatesLayout, scale: StripScale): Panel => {
  const frame = plainFrame(stripPanelWidth, layout.height);
  const draw = panelDrawing("hold strips", frame);
  const own = scale.secondsAcross === null;
  const drawn = layout.studies.flatMap(({ rows }) =>
    rows.flatMap(({ row, top, middle }) => {
      if (row.timeline === undefined || row.timeline.length === 0) return [];
      const strip = holdStrip(row.timeline, {
        left: 8,
        top: top + layout.rowHeight * 0.14,
        width: stripWidth - (own ? 34 : 0),
        height: layout.rowHeight * 0.72,
        ...(scale.secondsAcross === null
          ? {}
          : { secondsAcross: scale.secondsAcross, part: scale.part }),
      });
      const more = strip.part === "beginning of one set" ? "…" : "";
      return [{ strip, middle, length: `${shownClock(strip.seconds)}${more}` }];
    }),
  );
  const heading = own
    ? ["Session, or one set", "each to its own scale"]
    : scale.part === "whole session"
      ? ["Session, to scale"]
      : ["One set, to scale"];
  const foot = layout.foot;
  return draw.panel([
    draw.boxes("study bands", "band", studyBands(layout, 0, frame.width)),
    draw.words(
      "headings",
      "text-heading",
      heading.map((text, line) => ({ x: 8, y: 10 + line * 14, text })),
    ),
    ...holdStripLayers(
      drawn.map(({ strip }) => strip),
      draw,
    ),
    ...(own
      ? [
          draw.words(
            "strip lengths",
            "text-small",
            drawn.map(({ middle, length }) => ({ x: stripWidth - 22, y: middle, text: length })),
            { limit: 40 },
          ),
        ]
      : [
          draw.lines("strip axis", "grid", [
            { x: 8, x2: 8 + stripWidth, y: foot, y2: foot },
            { x: 8, x2: 8, y: foot, y2: foot + 4 },
            { x: 8 + stripWidth, x2: 8 + stripWidth, y: foot, y2: foot + 4 },
          ]),
          draw.words("strip axis start", "text-small", [{ x: 8, y: foot + 12, text: "0" }]),
          draw.words(
            "strip axis end",
            "text-small",
            [{ x: 8 + stripWidth, y: foot + 12, text: shownDuration(scale.secondsAcross ?? 0) }],
            { align: "right" },
          ),
        ]),
    draw.words("intensity key", "text-small", [
      { x: 8, y: foot + 26, text: "height: intensity to 100%" },
    ]),
  ]);
};

/** Every estimate and interval in numbers, in columns that line up with the marks. */
export const numbersPanel = (input: ShownEstimates, layout: EstimatesLayout): Panel => {
  const draw = panelDrawing("numbers", plainFrame(layout.numbers.width, layout.height));
  const percent = input.confidencePercent ?? estimatesInputDefaults.confidencePercent;
  const { display, pooled } = input;
  const { fontSize } = layout;
  const at = layout.numbers;
  const rows = layout.studies.flatMap((study) => study.rows);
  const told = rows.filter(({ row }) => row.spread !== "none");
  const column = (pick: (row: (typeof rows)[number]["row"]) => number, x: number, of = told) =>
    of.map(({ row, middle }) => ({ x, y: middle, text: display.write(pick(row)) }));
  const pooledRows =
    pooled === undefined
      ? []
      : [
          ...placed(layout, layout.averagePlace).map((y) => ({
            ...{ y, estimate: pooled.estimate, ...pooled.interval },
          })),
          ...placed(layout, layout.furtherPlace).map((y) => ({
            ...{ y, estimate: null, ...pooled.predictionInterval! },
          })),
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
      column((row) => row.estimate, at.estimate, rows),
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
      [...told.map(({ middle }) => middle), ...pooledRows.map(({ y }) => y)].map((y) => ({
        x: at.to,
        y,
        text: "to",
      })),
      { align: "center", fontSize },
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
      { fontSize },
    ),
    draw.words(
      "pooled estimate",
      "text-pooled-strong",
      pooledRows.flatMap(({ y, estimate }) =>
        estimate === null ? [] : [{ x: at.estimate, y, text: display.write(estimate) }],
      ),
      pooledRight,
    ),
    draw.words(
      "pooled low",
      "text-pooled",
      pooledRows.map(({ y, low }) => ({ x: at.low, y, text: display.write(low) })),
      pooledRight,
    ),
    draw.words(
      "pooled high",
      "text-pooled",
      pooledRows.map(({ y, high }) => ({ x: at.high, y, text: display.write(high) })),
      pooledRight,
    ),
  ]);
};
