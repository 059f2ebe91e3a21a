import type { Range, ThreeRanges } from "../projection/three-ranges.js";
import type { Layer, panelDrawing, Stroke } from "./layer.js";
import { nestedRanges } from "./projection-course.js";

/** Half the thickness of the bar of each range; the narrower the range, the thicker its bar. */
const halfThickness = { person: 2.5, newGroup: 5, average: 9 } as const satisfies Record<
  keyof ThreeRanges,
  number
>;

export type RangeBarsPlace = Readonly<{
  ranges: ThreeRanges;
  /** Middle of the bars across. */
  across: number;
}>;

/**
 * Three nested bars for each projection: a thin one for a single person, a thicker one for a new group, the thickest for
 * the average, with its middle cut out.
 *
 * @param along  from the log ratio to drawing units
 * @param direction whether values run along the width or up the height
 */
export const rangeBarLayers = (
  name: string,
  places: readonly RangeBarsPlace[],
  along: (logRatio: number) => number,
  draw: ReturnType<typeof panelDrawing>,
  direction: "along" | "up" = "along",
): readonly Layer[] => {
  const turned = (from: number, to: number, across: number, half: number): Stroke => {
    const [low, high] = [Math.min(from, to), Math.max(from, to)];
    return direction === "along"
      ? { x: low, x2: high, y: across - half, y2: across + half }
      : { x: across - half, x2: across + half, y: low, y2: high };
  };
  const bar = ({ low, high }: Range, across: number, half: number): Stroke =>
    turned(along(low), along(high), across, half);
  return [
    ...nestedRanges.map(({ key, style }) =>
      draw.boxes(
        `${name}, ${style}`,
        `range-${style}`,
        places.map(({ ranges, across }) => bar(ranges[key], across, halfThickness[key])),
      ),
    ),
    draw.boxes(
      `${name}, middle`,
      "range-tick",
      places.map(({ ranges, across }) => {
        const at = along(ranges.average.estimate);
        return turned(at - 0.9, at + 0.9, across, halfThickness.average);
      }),
    ),
  ];
};
