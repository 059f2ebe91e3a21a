import {
  fractionalPolynomial,
  fractionalPolynomialOfSecondDegree,
} from "./fractional-polynomial.js";
import { logarithm, noEffect, quadratic, squareRoot, straightLine } from "./power-shapes.js";
import { peak, plateau, saturatingHyperbola } from "./levelling-shapes.js";
import { restrictedCubicSpline } from "./restricted-cubic-spline.js";
import type { Shape, ShapeName } from "./shape.js";

/** Every shape by name. A new one is a file and a line here. */
export const shapes = {
  none: noEffect,
  "straight line": straightLine,
  logarithm,
  "square root": squareRoot,
  "fractional polynomial": fractionalPolynomial,
  "fractional polynomial of second degree": fractionalPolynomialOfSecondDegree,
  quadratic,
  "restricted cubic spline": restrictedCubicSpline,
  "saturating hyperbola": saturatingHyperbola,
  plateau,
  peak,
} as const satisfies Record<ShapeName, Shape>;

/** Shapes compared unless others are asked for. */
export const usualShapes: readonly ShapeName[] = [
  "none",
  "straight line",
  "logarithm",
  "square root",
  "fractional polynomial",
  "quadratic",
  "restricted cubic spline",
  "saturating hyperbola",
  "plateau",
  "peak",
];
