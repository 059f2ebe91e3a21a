import type { EstimatesLayout } from "./estimates-layout.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";
import { studyBands } from "./study-bands.js";
import { oneLine } from "./wrap-text.js";

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
  const labels = layout.studies.flatMap(({ rows }) =>
    rows.map(({ row, middle }) => ({
      x: studyWidth,
      y: middle,
      text: oneLine(row.label),
      full: oneLine(row.label),
    })),
  );
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
            { x: 8, y: layout.pooledTop + 11, text: "Average over such studies" },
            ...(layout.effectsTop - layout.pooledTop > 40
              ? [{ x: 8, y: layout.pooledTop + 33, text: "A further study like these" }]
              : []),
          ]),
        ]
      : []),
  ]);
};
