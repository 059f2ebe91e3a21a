import type { RefObject } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";

/** A window that is drawn wider changes the room many times; figures follow in steps of so many pixels. */
const step = 16;
/** From here on a page of a figure is as wide as it ever is. */
const widest = 1088;
/** A frame on both sides. */
const frame = 2;

/**
 * How wide the room inside an element is, followed while it changes.
 *
 * @returns what holds the element, and pixels; null until it is measured, undefined where it is folded away
 */
export const useRoom = (): readonly [RefObject<HTMLDivElement>, number | undefined | null] => {
  const holder = useRef<HTMLDivElement>(null);
  const [room, setRoom] = useState<number | undefined | null>(null);
  useLayoutEffect(() => {
    const element = holder.current;
    if (element === null) return undefined;
    const look = (): void => {
      const inside = step * Math.floor((element.clientWidth - frame) / step);
      setRoom(inside <= 0 ? undefined : Math.min(widest, inside));
    };
    const watcher = new ResizeObserver(look);
    watcher.observe(element);
    look();
    return () => watcher.disconnect();
  }, []);
  return [holder, room];
};
