import { CallError } from "../errors.js";
import type { TimelinePart } from "../protocol/session-timeline.js";
import type { Layer, panelDrawing, Stroke } from "./layer.js";

/** One stretch of a session; effort may be left out where the source does not state it. */
export type SessionSegment = Readonly<
  Pick<TimelinePart, "kind" | "startSeconds" | "endSeconds" | "set"> & {
    intensityPercent?: number | undefined;
  }
>;

export type StripPart = "whole session" | "one set" | "beginning of one set";

export type StripPlace = Readonly<{
  left: number;
  top: number;
  width: number;
  height: number;
  /** Seconds the full width stands for; the drawn part's own length where left out. */
  secondsAcross?: number;
  /** What to draw; the most that can be told apart at this width where left out. */
  part?: StripPart;
}>;

/** The shapes of one strip, in drawing units; effort the source does not state is drawn apart. */
export type HoldStrip = Readonly<{
  part: StripPart;
  /** Length of the drawn part. */
  seconds: number;
  holds: readonly Stroke[];
  holdsWithoutEffort: readonly Stroke[];
  rests: readonly Stroke[];
  restsBetweenSets: readonly Stroke[];
}>;

/** Effort that fills the strip's height; more than this (a test above the day's best) fills it too. */
const fullEffortPercent = 100;
/** Narrowest hold, and narrowest gap, that eyes tell apart in print, in drawing units. */
const narrowestHold = 1.1;
const narrowestGap = 0.7;

const checked = (timeline: readonly SessionSegment[]): void => {
  if (timeline.length === 0) {
    throw new CallError({
      code: "empty-timeline",
      where: "holdStrip",
      needs: "a timeline with at least one hold",
      got: "none",
    });
  }
  for (const { startSeconds, endSeconds, intensityPercent } of timeline) {
    const finite = Number.isFinite(startSeconds) && Number.isFinite(endSeconds);
    const effort = intensityPercent === undefined || Number.isFinite(intensityPercent);
    if (!finite || !effort || startSeconds < 0 || endSeconds < startSeconds) {
      throw new CallError({
        code: "timeline-not-in-order",
        where: "holdStrip",
        needs: "finite seconds with each end after its start, and finite intensity",
        got: `start ${startSeconds}, end ${endSeconds}, intensity ${intensityPercent ?? "not stated"}`,
      });
    }
  }
};

/** The stretches that belong to a part of the session. */
export const segmentsOf = (
  timeline: readonly SessionSegment[],
  part: StripPart,
): readonly SessionSegment[] => {
  if (part === "whole session") return timeline;
  const first = timeline[0]?.set ?? 1;
  return timeline.filter(({ set, kind }) => set === first && kind !== "rest between sets");
};

const lengthOf = (segments: readonly SessionSegment[]): number =>
  segments.reduce((longest, { endSeconds }) => Math.max(longest, endSeconds), 0);

/** Whether every hold and gap of a part stays apart when drawn at this width. */
const resolves = (
  timeline: readonly SessionSegment[],
  part: StripPart,
  width: number,
  secondsAcross: number,
): boolean =>
  segmentsOf(timeline, part).every(({ kind, startSeconds, endSeconds }) => {
    const drawn = ((endSeconds - startSeconds) / secondsAcross) * width;
    return endSeconds === startSeconds || drawn >= (kind === "hold" ? narrowestHold : narrowestGap);
  });

export type StripScale = Readonly<{ part: StripPart; secondsAcross: number | null }>;

/**
 * One time scale for several strips, so that they can be compared by eye.
 *
 * Whole sessions are drawn when every hold of every session can be told apart on the scale of the
 * longest; else one set each, on the scale of the longest set; else each strip on its own scale
 * (`secondsAcross` null), which its length in words must then say.
 *
 * @param timelines  sessions, each with at least one stretch
 * @param width  width of a strip in drawing units
 */
export const commonStripScale = (
  timelines: readonly (readonly SessionSegment[])[],
  width: number,
): StripScale => {
  for (const part of ["whole session", "one set"] as const) {
    const longest = Math.max(...timelines.map((line) => lengthOf(segmentsOf(line, part))), 0);
    if (longest > 0 && timelines.every((line) => resolves(line, part, width, longest))) {
      return { part, secondsAcross: longest };
    }
  }
  return { part: "one set", secondsAcross: null };
};

/**
 * A session drawn to scale: time along, effort up, holds as blocks and rests as gaps.
 *
 * Where the whole session would blur, one set is drawn; where even that would, the set's beginning.
 * The result says which, and the caller must say so beside it.
 *
 * @param timeline  stretches in order of time, as `sessionTimeline` gives them
 * @param place  where to draw, in drawing units
 * @throws {CallError} "empty-timeline", "timeline-not-in-order"
 */
export const holdStrip = (timeline: readonly SessionSegment[], place: StripPlace): HoldStrip => {
  checked(timeline);
  const { left, top, width, height } = place;
  const ownLength = (part: StripPart) => lengthOf(segmentsOf(timeline, part));
  const across = (part: StripPart) => place.secondsAcross ?? Math.max(ownLength(part), 1e-9);
  const part =
    place.part ??
    (["whole session", "one set"] as const).find((candidate) =>
      resolves(timeline, candidate, width, across(candidate)),
    ) ??
    "beginning of one set";

  let segments = segmentsOf(timeline, part);
  let secondsAcross = across(part);
  if (part !== "whole session" && !resolves(timeline, "one set", width, secondsAcross)) {
    // Only as much of the set as can be told apart: the shortest stretch gets its narrowest width.
    const shortest = Math.min(
      ...segments
        .map(({ startSeconds, endSeconds }) => endSeconds - startSeconds)
        .filter((seconds) => seconds > 0),
    );
    const visible = (shortest / narrowestHold) * width;
    const end = Math.min(visible, secondsAcross);
    segments = segments
      .filter(({ startSeconds }) => startSeconds < end)
      .map((segment) => ({ ...segment, endSeconds: Math.min(segment.endSeconds, end) }));
    if (place.secondsAcross === undefined) secondsAcross = end;
  }
  const shortened = lengthOf(segments) < ownLength(part) - 1e-9;

  const along = (seconds: number): number =>
    left + Math.min(1, Math.max(0, seconds / secondsAcross)) * width;
  const bottom = top + height;
  const block = ({ startSeconds, endSeconds, intensityPercent }: SessionSegment): Stroke => {
    const effort = Math.min(Math.max(intensityPercent ?? 50, 3), fullEffortPercent);
    return {
      x: along(startSeconds),
      x2: along(endSeconds),
      y: bottom - (effort / fullEffortPercent) * height,
      y2: bottom,
    };
  };
  const gap = ({ startSeconds, endSeconds }: SessionSegment): Stroke => ({
    x: along(startSeconds),
    x2: along(endSeconds),
    y: bottom,
    y2: bottom,
  });
  const ofKind = (kind: SessionSegment["kind"]) =>
    segments.filter(
      (segment) => segment.kind === kind && segment.endSeconds > segment.startSeconds,
    );
  const holds = ofKind("hold");
  return {
    part: shortened ? "beginning of one set" : part,
    seconds: lengthOf(segments),
    holds: holds.filter(({ intensityPercent }) => intensityPercent !== undefined).map(block),
    holdsWithoutEffort: holds
      .filter(({ intensityPercent }) => intensityPercent === undefined)
      .map(block),
    rests: ofKind("rest between repetitions").map(gap),
    restsBetweenSets: ofKind("rest between sets").map(gap),
  };
};

/** The same strip with its places along in seconds, to be drawn on an axis; moved down by so many units. */
export const inSeconds = (strip: HoldStrip, secondsPerUnit: number, down = 0): HoldStrip => {
  const moved = (strokes: readonly Stroke[]): readonly Stroke[] =>
    strokes.map(({ x, x2, y, y2 }) => ({
      x: x * secondsPerUnit,
      x2: x2 * secondsPerUnit,
      y: y + down,
      y2: y2 + down,
    }));
  return {
    ...strip,
    holds: moved(strip.holds),
    holdsWithoutEffort: moved(strip.holdsWithoutEffort),
    rests: moved(strip.rests),
    restsBetweenSets: moved(strip.restsBetweenSets),
  };
};

/**
 * The layers that draw strips in a panel measured in drawing units.
 *
 * @param strips  shapes from `holdStrip`
 * @param drawing  the panel's makers of layers
 */
export const holdStripLayers = (
  strips: readonly HoldStrip[],
  drawing: ReturnType<typeof panelDrawing>,
): readonly Layer[] => [
  drawing.lines(
    "rests",
    "rest",
    strips.flatMap(({ rests }) => rests),
  ),
  drawing.lines(
    "rests between sets",
    "rest-between-sets",
    strips.flatMap(({ restsBetweenSets }) => restsBetweenSets),
  ),
  drawing.boxes(
    "holds",
    "hold",
    strips.flatMap(({ holds }) => holds),
  ),
  drawing.boxes(
    "holds with intensity not stated",
    "hold-quiet",
    strips.flatMap(({ holdsWithoutEffort }) => holdsWithoutEffort),
  ),
];
