import type { Stroke } from "./layer.js";

type Place = Readonly<{ x: number; y: number }>;

/** Neighbouring points of a curve, each joined to the next. */
export const joinedPoints = (points: readonly Place[]): readonly Stroke[] =>
  points.slice(1).map((point, i) => ({
    x: points[i]!.x,
    y: points[i]!.y,
    x2: point.x,
    y2: point.y,
  }));

/** Points of each series joined from left to right. */
export const joinedSeries = (
  points: readonly Readonly<{ series: string; x: number; y: number }>[],
): readonly Stroke[] => {
  const members = new Map<string, Place[]>();
  for (const { series, x, y } of points) {
    const list = members.get(series) ?? [];
    list.push({ x, y });
    members.set(series, list);
  }
  return [...members.values()].flatMap((list) => joinedPoints([...list].sort((a, b) => a.x - b.x)));
};
