import { fractionalPower } from "./fractional-polynomial.js";
import type { Shape } from "./shape.js";

/** No relation between dose and gain: the level alone. */
export const noEffect: Shape = {
  name: "none",
  label: "no relation",
  meaning: "the gain is the same at every dose",
  columns: () => 0,
  basis: () => [],
};

/** Every further unit of dose adds the same. */
export const straightLine: Shape = {
  name: "straight line",
  label: "straight line",
  meaning: "every further unit of dose adds the same",
  columns: () => 1,
  basis: (dose, { unit }) => [dose / unit],
};

/** Every doubling of the dose adds the same. */
export const logarithm: Shape = {
  name: "logarithm",
  label: "logarithm",
  meaning: "every doubling of the dose adds the same",
  columns: () => 1,
  basis: (dose, context) => fractionalPower(dose, [0], context),
};

/** Further dose adds less and less, but never nothing. */
export const squareRoot: Shape = {
  name: "square root",
  label: "square root",
  meaning: "further dose adds less and less",
  columns: () => 1,
  basis: (dose, context) => fractionalPower(dose, [0.5], context),
};

/** A parabola: it can turn once, the same on both sides of the turn. */
export const quadratic: Shape = {
  name: "quadratic",
  label: "quadratic",
  meaning: "a parabola, which can turn once",
  columns: () => 2,
  basis: (dose, { unit }) => [dose / unit, (dose / unit) ** 2],
};
