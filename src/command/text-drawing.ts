import type { NamedFigure } from "../figures/figure-list.js";
import type { TimelinePart } from "../protocol/session-timeline.js";
import { doseCurveText } from "../tables/dose-curve-text.js";
import { holdStripText } from "../tables/hold-strip-text.js";

/** A figure drawn with letters, where it has such a form. */
export const textDrawing = (figure: NamedFigure, width: number): readonly string[] => {
  switch (figure.name) {
    case "dose-curve":
      return [doseCurveText(figure.data.answer, { width })];
    case "sessions":
      return figure.data.sessions.map(({ label, timeline }) => {
        const parts = timeline as readonly TimelinePart[];
        return figure.data.sessions.length === 1
          ? holdStripText(parts, { width })
          : `${label}\n${holdStripText(parts, { width, height: 2 })}`;
      });
    default:
      return [];
  }
};
