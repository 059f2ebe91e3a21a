import { useEffect, useRef, useState } from "preact/hooks";
import type { Figure } from "../../figures/figure.js";
import type { FigureMode } from "../../figures/theme.js";
import { useApp } from "../app.js";
import { failureOf } from "../failure.js";

/** A figure's picture: an address for an image, with the size it was drawn at. */
export type Drawing = Readonly<{ svg: string; address: string; width: number; height: number }>;

const sizeOf = (svg: string): Readonly<{ width: number; height: number }> => {
  const [, width = "600", height = "400"] =
    /^<svg[^>]* width="([\d.]+)" height="([\d.]+)"/.exec(svg) ?? [];
  return { width: Number(width), height: Number(height) };
};

type State = Readonly<{ drawing?: Drawing; failure?: string }>;

/**
 * The drawing of a figure in a mode. While a changed figure is drawn the one before stays, and of
 * several changes that come meanwhile only the last is drawn.
 */
export const useDrawing = (figure: Figure, mode: FigureMode): State => {
  const { drawer } = useApp();
  const [state, setState] = useState<State>({});
  const wanted = useRef<Readonly<{ figure: Figure; mode: FigureMode }> | undefined>(undefined);
  const busy = useRef(false);
  const shown = useRef<string | undefined>(undefined);
  const gone = useRef(false);
  const show = (next: State): void => {
    if (shown.current !== undefined) URL.revokeObjectURL(shown.current);
    shown.current = next.drawing?.address;
    setState(next);
  };
  const drawNext = async (): Promise<void> => {
    busy.current = true;
    while (wanted.current !== undefined && !gone.current) {
      const { figure: next, mode: nextMode } = wanted.current;
      wanted.current = undefined;
      try {
        const svg = await drawer.draw(next, nextMode);
        if (gone.current) break;
        const blob = new Blob([svg], { type: "image/svg+xml" });
        show({ drawing: { svg, address: URL.createObjectURL(blob), ...sizeOf(svg) } });
      } catch (error) {
        if (!gone.current) show({ failure: failureOf(error).message });
      }
    }
    busy.current = false;
  };
  useEffect(() => {
    wanted.current = { figure, mode };
    if (!busy.current) void drawNext();
  }, [figure, mode]);
  useEffect(() => {
    gone.current = false;
    return () => {
      gone.current = true;
      if (shown.current !== undefined) URL.revokeObjectURL(shown.current);
    };
  }, []);
  return state;
};
