import type { Interval } from "../synthesis/synthesis-results.js";
import type { CoursePoint } from "../projection/project-protocol.js";
import type { Range, ThreeRanges } from "../projection/three-ranges.js";
import type { Layer, panelDrawing, Point } from "./layer.js";
import { nestedColours, type NestedKind } from "./nested-bars.js";

/** The ranges from the widest to the narrowest, each with the kind it is drawn as. */
export const nestedRanges = [
  { key: "person", kind: "a single person" },
  { key: "newGroup", kind: "a new group" },
  { key: "average", kind: "the average" },
] as const satisfies readonly Readonly<{ key: keyof ThreeRanges; kind: NestedKind }>[];

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

const percentOf = (logRatio: number): number => 100 * Math.expm1(logRatio);

/**
 * Layers that draw three nested ranges over weeks: outlined where weeks were studied, the average filled; broken edges
 * alone where they were not.
 *
 * @param course from the first week to the last
 * @param studied weeks between which the file has tests
 */
export const courseLayers = (
  course: readonly CoursePoint[],
  studied: Interval,
  draw: ReturnType<typeof panelDrawing>,
): readonly Layer[] => {
  const last = course.at(-1)?.weeks ?? 0;
  const inside = placesWithin(course, studied.low, studied.high);
  const outside = [
    placesWithin(course, 0, Math.min(studied.low, last)),
    placesWithin(course, Math.max(studied.high, 0), last),
  ].filter((places) => places.length > 1);
  const path = (
    places: readonly Place[],
    part: string,
    pick: (place: Place) => number,
  ): readonly (Point & { part: string })[] =>
    places.map((place) => ({ x: place.weeks, y: percentOf(pick(place)), part }));
  const byPart = { detail: { field: "part", type: "nominal" } };
  return [
    ...nestedRanges.map(({ key, kind }) =>
      draw.areas(
        `${kind}, weeks with tests`,
        "computed-range",
        inside.map((place) => ({
          x: place.weeks,
          y: percentOf(place[key].high),
          y2: percentOf(place[key].low),
          kind,
        })),
        nestedColours(),
      ),
    ),
    ...nestedRanges.map(({ key, kind }) =>
      draw.paths(
        `${kind}, weeks without tests`,
        "computed-broken",
        outside.flatMap((places, side) => [
          ...path(places, `low ${side}`, (place) => place[key].low),
          ...path(places, `high ${side}`, (place) => place[key].high),
        ]),
        byPart,
      ),
    ),
    draw.paths(
      "middle, weeks with tests",
      "computed-tick",
      path(inside, "middle", ({ average }) => average.estimate),
      byPart,
    ),
    draw.paths(
      "middle, weeks without tests",
      "computed-line",
      outside.flatMap((places, side) =>
        path(places, `middle ${side}`, ({ average }) => average.estimate),
      ),
      byPart,
    ),
  ];
};
