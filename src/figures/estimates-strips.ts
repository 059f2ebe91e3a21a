import type { EstimatesLayout } from "./estimates-layout.js";
import { holdStrip, holdStripLayers, type StripScale } from "./hold-strip.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";
import { shownClock, shownDuration } from "./shown-duration.js";
import { studyBands } from "./study-bands.js";

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
    draw.words("effort key", "text-small", [
      { x: 8, y: foot + 26, text: "height: effort to 100%" },
    ]),
  ]);
};
