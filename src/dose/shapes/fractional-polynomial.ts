import type { Shape, ShapeContext } from "./shape.js";

/** Powers a fractional polynomial chooses from; 0 stands for the logarithm. */
export const fractionalPowers = [-2, -1, -0.5, 0, 0.5, 1, 2, 3] as const;

/**
 * Columns of a fractional polynomial at a dose.
 *
 *   t = (dose + shift)/unit;  t^p, ln t for p = 0; a power repeated is t^p, t^p ln t
 *
 * @param powers one or two, ascending
 * @source Royston and Altman (1994) Applied Statistics 43:429–467
 */
export const fractionalPower = (
  dose: number,
  powers: readonly number[],
  { shift, unit }: ShapeContext,
): readonly number[] => {
  // A dose outside the observed range may be at or below zero: the curve stays at its last finite value.
  const t = Math.max((dose + shift) / unit, 1e-6);
  const one = (power: number): number => (power === 0 ? Math.log(t) : t ** power);
  return powers.map((power, i) =>
    i > 0 && powers[i - 1] === power ? one(power) * Math.log(t) : one(power),
  );
};

/** The straight line, the logarithm and the square root are shapes of their own. */
const otherPowers = fractionalPowers.filter((power) => ![0, 0.5, 1].includes(power));

const powerText = (power: number): string => `power ${String(power).replace("-", "−")}`;

/** One power of the dose, the best of those that are not shapes of their own. */
export const fractionalPolynomial: Shape = {
  name: "fractional polynomial",
  label: "fractional polynomial",
  meaning: "one power of the dose, chosen from −2, −1, −0.5, 2 and 3",
  columns: () => 1,
  parameter: { label: "power", kind: "listed", candidates: () => otherPowers, text: powerText },
  basis: (dose, context, power) => fractionalPower(dose, [power], context),
};

const pairs = fractionalPowers.flatMap((first, i) =>
  fractionalPowers.slice(i).map((second) => [first, second] as const),
);

/** Two powers of the dose, the best of the 36 pairs. The parameter is the pair's place in the list. */
export const fractionalPolynomialOfSecondDegree: Shape = {
  name: "fractional polynomial of second degree",
  label: "fractional polynomial of second degree",
  meaning: "two powers of the dose, chosen from the 36 pairs",
  columns: () => 2,
  parameter: {
    label: "powers",
    kind: "listed",
    candidates: () => pairs.map((_, place) => place),
    text: (place) => (pairs[place] ?? [0, 0]).map(powerText).join(" and "),
  },
  basis: (dose, context, place) => fractionalPower(dose, pairs[place] ?? [0, 0], context),
};
