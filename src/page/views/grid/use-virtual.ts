import {
  elementScroll,
  observeElementOffset,
  observeElementRect,
  Virtualizer,
  type VirtualItem,
} from "@tanstack/virtual-core";
import type { RefObject } from "preact";
import { useLayoutEffect, useReducer, useState } from "preact/hooks";

/** Which rows or columns of a scrolled box are in sight, and how to bring one there. */
export type Virtual = Readonly<{
  items: readonly VirtualItem[];
  size: number;
  show: (index: number) => void;
}>;

/**
 * The items of a scrolled box that are in sight, followed while it is scrolled.
 *
 * @param box    what scrolls
 * @param count  of all items
 * @param sizeOf an item in pixels
 * @param before pixels that stay covered at the beginning: the header, the columns kept in sight
 */
export const useVirtual = (
  box: RefObject<HTMLElement>,
  count: number,
  sizeOf: (index: number) => number,
  {
    horizontal = false,
    before = 0,
    of = "",
  }: Readonly<{ horizontal?: boolean; before?: number; of?: string }>,
): Virtual => {
  const [, draw] = useReducer((drawn: number) => drawn + 1, 0);
  const options = {
    count,
    horizontal,
    overscan: horizontal ? 2 : 6,
    scrollPaddingStart: before,
    getScrollElement: () => box.current,
    estimateSize: sizeOf,
    scrollToFn: elementScroll,
    observeElementRect,
    observeElementOffset,
    onChange: () => draw(undefined),
  };
  const [virtual] = useState(() => new Virtualizer<HTMLElement, HTMLElement>(options));
  virtual.setOptions({ ...virtual.options, ...options });
  useLayoutEffect(() => virtual._didMount(), []);
  useLayoutEffect(() => virtual._willUpdate());
  // Sizes are remembered; other columns have others.
  useLayoutEffect(() => virtual.measure(), [of]);
  return {
    items: virtual.getVirtualItems(),
    size: virtual.getTotalSize(),
    show: (index) => virtual.scrollToIndex(index, { align: "auto" }),
  };
};
