/** Labels along an axis of the page, fewer of them where it is too narrow for all. */
import { useLayoutEffect, useRef } from "preact/hooks";

export type AxisMark = Readonly<{
  /** Share of the axis before it. */
  at: number;
  text: string;
  /** Stays where others must go. */
  first?: boolean;
}>;

/** Least air between two labels, in pixels. */
const air = 6;

/** Hides what would touch a label that stays: those that are first, then from the left. */
const makeRoom = (marks: HTMLElement, first: readonly boolean[]): void => {
  const spans = [...marks.children] as HTMLElement[];
  const kept: DOMRect[] = [];
  const order = [...spans.keys()].sort((a, b) => Number(first[b]) - Number(first[a]));
  for (const place of order) {
    const span = spans[place]!;
    const box = span.getBoundingClientRect();
    const fits = kept.every((one) => box.left > one.right + air || box.right < one.left - air);
    span.style.visibility = fits ? "" : "hidden";
    if (fits) kept.push(box);
  }
};

/** The labels of an axis, of which no two touch at any width. */
export const AxisMarks = ({ marks }: Readonly<{ marks: readonly AxisMark[] }>) => {
  const row = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const drawn = row.current;
    if (drawn === null) return undefined;
    const look = (): void => {
      makeRoom(
        drawn,
        marks.map(({ first }) => first === true),
      );
    };
    const watcher = new ResizeObserver(look);
    watcher.observe(drawn);
    look();
    return () => {
      watcher.disconnect();
    };
  });
  return (
    <div class="range-marks" aria-hidden="true" ref={row}>
      {marks.map(({ at, text }) => (
        <span key={text} style={{ left: `${100 * at}%` }}>
          {text}
        </span>
      ))}
    </div>
  );
};
