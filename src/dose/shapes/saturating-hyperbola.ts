import { ratioSteps } from "./dose-candidates.js";
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
