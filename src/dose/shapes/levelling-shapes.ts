import { evenSteps, ratioSteps } from "./dose-candidates.js";
import type { Shape } from "./shape.js";

/**
 * Rises from nothing at dose zero towards a ceiling: dose / (half + dose).
 *
 * The dose at half the ceiling is looked for between a hundredth of the highest dose and three times it:
 * below, the curve is flat over all doses; above, it is a straight line.
 *
 * @source Michaelis and Menten (1913) Biochemische Zeitschrift 49:333–369
 */
export const saturatingHyperbola: Shape = {
  name: "saturating hyperbola",
  label: "saturating hyperbola",
  meaning: "rises towards a ceiling it never quite reaches",
  columns: () => 1,
  parameter: {
    label: "dose at half of the ceiling",
    kind: "dose",
    candidates: ({ unit }) => ratioSteps(unit / 100, 3 * unit, 15),
  },
  basis: (dose, _context, half) => [dose <= 0 ? dose / half : dose / (half + dose)],
};

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
  corner: true,
  basis: (dose, { unit }, start) => [Math.min(dose, start) / unit],
};

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
