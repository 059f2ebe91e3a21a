import { evenSteps } from "./dose-candidates.js";
import type { Shape } from "./shape.js";

/** A straight line up to a dose, level from there on. */
export const plateau: Shape = {
  name: "plateau",
  label: "plateau",
  meaning: "a straight line up to a dose, level from there on",
  columns: () => 1,
  parameter: {
    label: "dose where the plateau begins",
    kind: "dose",
    candidates: ({ low, high }) => evenSteps(low, high, 19),
  },
  basis: (dose, { unit }, start) => [Math.min(dose, start) / unit],
};
