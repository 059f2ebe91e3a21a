import type { Shape } from "./shape.js";

/** Every further unit of dose adds the same. */
export const straightLine: Shape = {
  name: "straight line",
  label: "straight line",
  meaning: "every further unit of dose adds the same",
  columns: () => 1,
  basis: (dose, { unit }) => [dose / unit],
};
