import type { Shape } from "./shape.js";

/** A parabola: it can turn once, the same on both sides of the turn. */
export const quadratic: Shape = {
  name: "quadratic",
  label: "quadratic",
  meaning: "a parabola, which can turn once",
  columns: () => 2,
  basis: (dose, { unit }) => [dose / unit, (dose / unit) ** 2],
};
