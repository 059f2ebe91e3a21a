import { useEffect, useRef, useState } from "preact/hooks";
import type { FigureSize } from "../../figures/frame.js";
import type { FigureMode } from "../../figures/theme.js";
import { sizeOf } from "../../host/figure-svg.js";
import { useApp } from "../app.js";
import { failureOf } from "../failure.js";
import type { Drawable, DrawnFigure } from "../jobs/draw-job.js";

/** A page of a figure with its picture: an address for an image, and the size it was drawn at. */
export type Drawing = DrawnFigure & Readonly<{ address: string; width: number; height: number }>;

const addressOf = (svg: string): string =>
  URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));

/** What is to be drawn, and how. */
type Wish = Readonly<{
  figure: Drawable;
  mode: FigureMode;
  size: FigureSize;
  points?: number | undefined;
}>;

type State = Readonly<{
  drawings?: readonly Drawing[];
  /** The figure they are of: the last one that was asked for, or the one before while it is drawn. */
  of?: Drawable;
  /** The size and the room they were asked for in, and the size they were drawn in, which the room may have decided. */
  asked?: Readonly<{ size: FigureSize; points?: number | undefined }>;
  size?: FigureSize;
  failure?: string;
}>;

/**
 * The drawings of a figure in a mode, one a page. While a changed figure is drawn the one before stays, and of
 * several changes that come meanwhile only the last is drawn.
 *
 * @param points the room a page has; null while that is not known, and nothing is drawn
 */
export const useDrawing = (
  figure: Drawable,
  mode: FigureMode,
  size: FigureSize,
  points?: number | null,
): State => {
  const { drawer } = useApp();
  const [state, setState] = useState<State>({});
  const wanted = useRef<Wish | undefined>(undefined);
  const busy = useRef(false);
  const shown = useRef<readonly Drawing[]>([]);
  const gone = useRef(false);
  const letGo = (): void => {
    for (const { address } of shown.current) URL.revokeObjectURL(address);
  };
  const show = (next: State): void => {
    letGo();
    shown.current = next.drawings ?? [];
    setState(next);
  };
  const drawNext = async (): Promise<void> => {
    busy.current = true;
    while (wanted.current !== undefined && !gone.current) {
      const next = wanted.current;
      wanted.current = undefined;
      try {
        const drawn = await drawer.draw(next.figure, next.mode, next.size, next.points);
        if (gone.current) break;
        show({
          of: next.figure,
          asked: { size: next.size, points: next.points },
          size: drawn[0]?.size ?? next.size,
          drawings: drawn.map((one) => ({
            ...one,
            address: addressOf(one.svg),
            ...sizeOf(one.svg),
          })),
        });
      } catch (error) {
        if (!gone.current) show({ of: next.figure, failure: failureOf(error).message });
      }
    }
    busy.current = false;
  };
  useEffect(() => {
    if (points === null) return;
    wanted.current = { figure, mode, size, points };
    if (!busy.current) void drawNext();
  }, [figure, mode, size, points]);
  useEffect(() => {
    gone.current = false;
    return () => {
      gone.current = true;
      letGo();
    };
  }, []);
  return state;
};
