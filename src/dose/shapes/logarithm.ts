import { fractionalPower } from "./fractional-polynomial.js";
import type { Shape } from "./shape.js";

/** Every doubling of the dose adds the same. */
export const logarithm: Shape = {
  name: "logarithm",
  label: "logarithm",
  meaning: "every doubling of the dose adds the same",
  columns: () => 1,
  basis: (dose, context) => fractionalPower(dose, [0], context),
};
