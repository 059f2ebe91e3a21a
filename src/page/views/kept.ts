import type { VNode } from "preact";
import { useMemo } from "preact/hooks";

/** A part of the screen that is drawn again only when one of the things it is made of changes. */
export const Kept = ({
  of,
  draw,
}: Readonly<{ of: readonly unknown[]; draw: () => VNode }>): VNode => useMemo(draw, [...of]);
