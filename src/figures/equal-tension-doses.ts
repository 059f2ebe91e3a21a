import type { EqualTensionPair, EqualTensionQuestion } from "../dose/equal-tension-pairs.js";
import { shownDose } from "../tables/shown-dose.js";
import type { EstimatesLayout } from "./estimates-layout.js";
import { commonStripScale, holdStrip, holdStripLayers, type SessionSegment } from "./hold-strip.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";
import { shownDuration } from "./shown-duration.js";
import { studyBands } from "./study-bands.js";

/** Words for the two sides of a pair. */
export const sideWords: Readonly<
  Record<EqualTensionQuestion, Readonly<{ more: string; less: string }>>
> = {
  "hold length": { more: "longer", less: "shorter" },
  effort: { more: "harder", less: "easier" },
};

const stripWidth = 112;
const moreRight = 50;
const lessRight = 100;
const stripLeft = 112;

type Sessions = readonly [more: readonly SessionSegment[], less: readonly SessionSegment[]];

/** What is the same and what differs in each pair: the two doses in numbers, the two sessions one above the other. */
export const equalTensionDoses = (
  question: EqualTensionQuestion,
  pairs: readonly EqualTensionPair[],
  layout: EstimatesLayout,
  timelines: ReadonlyMap<string, readonly SessionSegment[]>,
): Readonly<{ panel: Panel; width: number; strips: boolean; note: string }> => {
  const rows = layout.studies.flatMap(({ rows: own }) => own);
  const sessions = pairs.map(({ more, less }): Sessions | undefined => {
    const [a, b] = [timelines.get(more.effectId), timelines.get(less.effectId)];
    return a === undefined || b === undefined || a.length === 0 || b.length === 0
      ? undefined
      : [a, b];
  });
  const drawable = sessions.flatMap((both) => (both === undefined ? [] : both));
  const scale = drawable.length === 0 ? undefined : commonStripScale(drawable, stripWidth);
  // Strips on scales of their own could not be compared by eye, so then there are none.
  const strips = scale !== undefined && scale.secondsAcross !== null;
  const width = strips ? stripLeft + stripWidth + 26 : lessRight + 16;
  const draw = panelDrawing("doses", plainFrame(width, layout.height));
  const words = sideWords[question];
  const written = (side: EqualTensionPair["more"]): string => {
    const value = question === "hold length" ? side.holdSeconds : side.intensityPercent;
    if (value === undefined) return "";
    return question === "hold length"
      ? shownDose(value, { kind: "number", unit: "s" })
      : `${shownDose(value, { kind: "number", unit: "" })}%`;
  };
  const column = (pick: "more" | "less", x: number) =>
    rows.map(({ middle }, index) => ({ x, y: middle, text: written(pairs[index]![pick]) }));
  const drawn = !strips
    ? []
    : rows.flatMap(({ top }, index) => {
        const both = sessions[index];
        if (both === undefined) return [];
        return both.map((timeline, place) =>
          holdStrip(timeline, {
            left: stripLeft,
            top: top + layout.rowHeight * (place === 0 ? 0.06 : 0.54),
            width: stripWidth,
            height: layout.rowHeight * 0.4,
            part: scale.part,
            secondsAcross: scale.secondsAcross!,
          }),
        );
      });
  const what = scale?.part === "whole session" ? "Sessions" : "One set each";
  const { foot, fontSize } = layout;
  const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
  return {
    width,
    strips,
    note: strips
      ? `Strips show ${scale.part === "whole session" ? "whole sessions" : "one set"}, the ${words.more} above the ${words.less}, all on one time scale; height is effort; blank where rests or effort are not coded.`
      : "",
    panel: draw.panel([
      draw.boxes("study bands", "band", studyBands(layout, 0, width)),
      draw.words(
        "headings of numbers",
        "text-heading",
        [
          { x: moreRight, y: 10, text: capital(words.more) },
          { x: lessRight, y: 10, text: capital(words.less) },
        ],
        { align: "right" },
      ),
      draw.words("more", "text-body", column("more", moreRight), { align: "right", fontSize }),
      draw.words("less", "text-body", column("less", lessRight), { align: "right", fontSize }),
      ...(strips
        ? [
            draw.words("headings of strips", "text-heading", [
              { x: stripLeft, y: 10, text: `${what}, to scale:` },
              { x: stripLeft, y: 24, text: `${words.more} above ${words.less}` },
            ]),
            ...holdStripLayers(drawn, draw),
            draw.lines("strip axis", "grid", [
              { x: stripLeft, x2: stripLeft + stripWidth, y: foot, y2: foot },
              { x: stripLeft, x2: stripLeft, y: foot, y2: foot + 4 },
              { x: stripLeft + stripWidth, x2: stripLeft + stripWidth, y: foot, y2: foot + 4 },
            ]),
            draw.words("strip axis start", "text-small", [
              { x: stripLeft, y: foot + 12, text: "0" },
            ]),
            draw.words(
              "strip axis end",
              "text-small",
              [
                {
                  x: stripLeft + stripWidth,
                  y: foot + 12,
                  text: shownDuration(scale.secondsAcross),
                },
              ],
              { align: "right" },
            ),
          ]
        : []),
    ]),
  };
};
