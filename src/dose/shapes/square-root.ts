import { fractionalPower } from "./fractional-polynomial.js";
import type { Shape } from "./shape.js";

/** Further dose adds less and less, but never nothing. */
export const squareRoot: Shape = {
  name: "square root",
  label: "square root",
  meaning: "further dose adds less and less",
  columns: () => 1,
  basis: (dose, context) => fractionalPower(dose, [0.5], context),
};
