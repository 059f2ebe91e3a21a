import { useMemo } from "preact/hooks";
import { variableAddress } from "../address.js";
import type { Figure } from "../../figures/figure.js";
import { withoutType } from "../../host/figure-svg.js";
import { capital } from "../../tables/number-format.js";
import { useAppState } from "../app.js";
import type { Drawable } from "../jobs/draw-job.js";

type Box = Readonly<{ top: number; bottom: number }>;

/** Where the ranges of a chart of rows stand in its drawing, from top to bottom, as shares of its height. */
const rangesIn = (svg: string): readonly Box[] => {
  const holder = document.createElement("div");
  holder.className = "unseen";
  holder.append(new DOMParser().parseFromString(withoutType(svg), "image/svg+xml").documentElement);
  document.body.append(holder);
  const whole = holder.firstElementChild!.getBoundingClientRect();
  const boxes = [...holder.querySelectorAll(".ranges_marks > path")].map((mark) => {
    const { top, bottom } = mark.getBoundingClientRect();
    return { top: (top - whole.top) / whole.height, bottom: (bottom - whole.top) / whole.height };
  });
  holder.remove();
  return boxes;
};

/** A range with what stands beside it, or in a column above it: as tall as the way to its neighbour, at most. */
const rowsAround = (ranges: readonly Box[], above: boolean): readonly Box[] => {
  const ways = ranges.slice(1).map(({ top }, at) => top - ranges[at]!.top);
  const step = ways.length === 0 ? 0 : Math.min(...ways);
  return ranges.map(({ top, bottom }) => {
    const around = Math.max(0, step - (bottom - top));
    // Under a range in a column stands little air, and the next label.
    const below = above ? Math.min(around, 0.4 * (bottom - top)) : around / 2;
    return { top: top - around + below, bottom: bottom + below };
  });
};

/** Links over the rows of a figure of variables, each to what is behind it; none over other figures. */
export const FigureRows = ({
  of,
  page,
  svg,
  column,
}: Readonly<{ of: Drawable; page: Figure; svg: string; column: boolean }>) => {
  const choices = useAppState((state) => state.address.choices);
  const boxes = useMemo(() => rowsAround(rangesIn(svg), column), [svg, column]);
  if (!("name" in of) || of.name !== "variables") return null;
  const { family, table } = of.data;
  return (
    <>
      {page.data.map(({ variable }, at) => {
        const row = table.rows.find((one) => one.family === family && one.axis.label === variable);
        const box = boxes[at];
        return row === undefined || box === undefined ? null : (
          <a
            key={row.axis.name}
            class="figure-row"
            href={variableAddress(choices, { family, axis: row.axis.name })}
            style={{ top: `${100 * box.top}%`, height: `${100 * (box.bottom - box.top)}%` }}
          >
            <span class="unseen">
              {capital(String(variable))}: the curve and what single trials compared
            </span>
          </a>
        );
      })}
    </>
  );
};
