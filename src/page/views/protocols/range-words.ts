import type { ProjectData } from "../../../answers/project.js";
import { rangeLimits, rangeMiddle } from "../../../tables/range-cells.js";

/** The three ranges of a projection, and one of them. */
export type Ranges = NonNullable<ProjectData["answer"]>["ranges"];
type Range = Ranges["average"];

/** The class by which each range is drawn. */
export const rangeClasses: Readonly<Record<keyof Ranges, string>> = {
  average: "on-average",
  newGroup: "new-group",
  person: "one-person",
};

/** A mark on an axis of percentages. */
export const tickText = (tick: number): string => `${String(tick).replace("-", "−")}%`;

/** A range as people read it: "4.2% (1.0 to 7.5)". */
export const rangeText = (range: Pick<Range, "estimate" | "low" | "high">): string =>
  `${rangeMiddle(range)}% (${rangeLimits(range)})`;
