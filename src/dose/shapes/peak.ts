import { evenSteps } from "./dose-candidates.js";
import type { Shape } from "./shape.js";

/** Rises to a peak and falls, more slowly than it rose: u e^(1 − u), u = dose / dose of the peak, both above zero. */
export const peak: Shape = {
  name: "peak",
  label: "peak",
  meaning: "rises to a best dose and falls beyond it",
  columns: () => 1,
  rises: true,
  parameter: {
    label: "dose of the peak",
    kind: "dose",
    candidates: ({ low, high }) => evenSteps(low, high, 19),
  },
  basis: (dose, { shift }, top) => {
    const u = (dose + shift) / (top + shift);
    return [u * Math.exp(1 - u)];
  },
};
