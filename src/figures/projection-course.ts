import type { Interval } from "../synthesis/synthesis-results.js";
import type { CoursePoint } from "../projection/project-protocol.js";
import type { Range, ThreeRanges } from "../projection/three-ranges.js";
import type { Layer, panelDrawing, Reach, Stroke } from "./layer.js";

/** Where a course is drawn: weeks along, the log ratio up. */
export type CourseFrame = Readonly<{
  along: (weeks: number) => number;
  up: (logRatio: number) => number;
}>;

/** The ranges from the widest to the narrowest, each with its name in styles and the space between its hatches. */
export const nestedRanges = [
  { key: "person", style: "person", every: 7 },
  { key: "newGroup", style: "group", every: 4.5 },
  { key: "average", style: "average", every: 2.5 },
] as const satisfies readonly Readonly<{
  key: keyof ThreeRanges;
  style: string;
  every: number;
}>[];

const between = (first: number, second: number, share: number): number =>
  first + (second - first) * share;

const rangeBetween = (
  a: Range,
  b: Range,
  share: number,
): Readonly<{ estimate: number; low: number; high: number }> => ({
  estimate: between(a.estimate, b.estimate, share),
  low: between(a.low, b.low, share),
  high: between(a.high, b.high, share),
});

type Place = Readonly<{ weeks: number }> &
  Readonly<Record<keyof ThreeRanges, Readonly<{ estimate: number; low: number; high: number }>>>;

/** The course at a week between two of its points, along the straight line that joins them. */
const placeAt = (course: readonly CoursePoint[], weeks: number): Place | undefined => {
  const next = course.findIndex((point) => point.weeks >= weeks);
  const after = course[next];
  if (after === undefined) return undefined;
  const before = course[Math.max(0, next - 1)] ?? after;
  const span = after.weeks - before.weeks;
  const share = span === 0 ? 0 : (weeks - before.weeks) / span;
  return {
    weeks,
    average: rangeBetween(before.average, after.average, share),
    newGroup: rangeBetween(before.newGroup, after.newGroup, share),
    person: rangeBetween(before.person, after.person, share),
  };
};

/** The places of a course inside two weeks, with the two themselves where the course reaches them. */
const placesWithin = (
  course: readonly CoursePoint[],
  low: number,
  high: number,
): readonly Place[] => {
  const last = course.at(-1)?.weeks ?? 0;
  const [from, to] = [Math.max(low, course[0]?.weeks ?? 0), Math.min(high, last)];
  if (!(from < to)) return [];
  const inner = course.filter(({ weeks }) => weeks > from && weeks < to);
  return [placeAt(course, from), ...inner, placeAt(course, to)].filter(
    (place): place is Place => place !== undefined,
  );
};

/**
 * Layers that draw three nested ranges over weeks: filled where weeks were studied, hatched with dotted edges where
 * they were not.
 *
 * @param course from the first week to the last
 * @param studied weeks between which the file has tests
 */
export const courseLayers = (
  course: readonly CoursePoint[],
  studied: Interval,
  frame: CourseFrame,
  draw: ReturnType<typeof panelDrawing>,
): readonly Layer[] => {
  const last = course.at(-1)?.weeks ?? 0;
  const inside = placesWithin(course, studied.low, studied.high);
  const outside = [
    placesWithin(course, 0, Math.min(studied.low, last)),
    placesWithin(course, Math.max(studied.high, 0), last),
  ].filter((places) => places.length > 1);
  const lines = (places: readonly Place[], pick: (place: Place) => number): readonly Stroke[] =>
    places.slice(1).map((place, index) => {
      const before = places[index] ?? place;
      return {
        x: frame.along(before.weeks),
        x2: frame.along(place.weeks),
        y: frame.up(pick(before)),
        y2: frame.up(pick(place)),
      };
    });
  const filled = (key: keyof ThreeRanges): readonly Reach[] =>
    inside.map((place) => ({
      x: frame.along(place.weeks),
      y: frame.up(place[key].high),
      y2: frame.up(place[key].low),
    }));
  const hatched = (key: keyof ThreeRanges, every: number): readonly Stroke[] =>
    outside.flatMap((places) => {
      const [from, to] = [places[0]?.weeks ?? 0, places.at(-1)?.weeks ?? 0];
      const unit = frame.along(1) - frame.along(0);
      const count = Math.floor(((to - from) * unit) / every);
      return Array.from({ length: Math.max(0, count) }, (_, index) => {
        const place = placeAt(course, from + ((index + 0.5) * every) / unit);
        if (place === undefined) return undefined;
        const x = frame.along(place.weeks);
        return { x, x2: x, y: frame.up(place[key].high), y2: frame.up(place[key].low) };
      }).filter((stroke): stroke is Stroke => stroke !== undefined);
    });
  return [
    ...nestedRanges.flatMap(({ key, style, every }) => [
      draw.areas(`${style} range`, `range-${style}`, filled(key)),
      draw.lines(`${style} range, not studied`, `range-hatch-${style}`, hatched(key, every)),
      draw.lines(
        `${style} edges, not studied`,
        "range-edge",
        outside.flatMap((places) => [
          ...lines(places, (place) => place[key].low),
          ...lines(places, (place) => place[key].high),
        ]),
      ),
    ]),
    draw.lines(
      "middle",
      "range-middle",
      lines(inside, ({ average }) => average.estimate),
    ),
  ];
};
