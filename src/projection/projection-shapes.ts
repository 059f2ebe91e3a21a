/** The shapes in which a dose enters a projection, as columns that can be weighed against each other. */
import { shapeContext, type Shape, type ShapeName } from "../dose/shapes/shape.js";
import { shapes } from "../dose/shapes/shapes.js";

export const projectionShapes = [
  "logarithm",
  "straight line",
  "plateau",
  "peak",
] as const satisfies readonly ShapeName[];
export type ProjectionShape = (typeof projectionShapes)[number];

/** One shape, at one place where it bends, with its share of the prior. */
export type ShapedColumn = Readonly<{
  shape: ProjectionShape;
  weight: number;
  column: (dose: number) => number;
}>;

/** Places tried for the bend of a plateau or a peak, evenly on the logarithm inside what was studied. */
const placesEach = 5;

/**
 * Columns of a dose, one for each shape and place of its bend, with prior weights that add up to 1.
 *
 *   s(x) = (f(x) − f(x₀)) · ln(high/low) / (greatest f − least f, over low to high)
 *
 * f is the shape as `dose` draws it, x₀ the reference. Every column rises or falls by the same over the doses studied, as much
 * as the logarithm does, so that one prior of the coefficient says the same of all: how much lies between the least and the
 * best dose. Were the columns left in their own units, the prior and not the trials would choose among the shapes.
 * Shapes have equal weights; a plateau and a peak share theirs among the places of the bend. The sign is free: a peak
 * may turn out a trough.
 *
 * @param doses of the arms, all above 0
 * @source none: a choice of scale
 */
export const shapedColumns = (
  doses: readonly number[],
  reference: number,
  names: readonly ProjectionShape[] = projectionShapes,
): readonly ShapedColumn[] => {
  const context = shapeContext(doses);
  const { low, high } = context;
  return names.flatMap((name) => {
    const { basis, parameter }: Shape = shapes[name];
    const places =
      parameter === undefined
        ? [low]
        : Array.from(
            { length: placesEach },
            (_, i) => low * (high / low) ** ((i + 1) / (placesEach + 1)),
          );
    return places.map((place): ShapedColumn => {
      const of = (dose: number): number => basis(dose, context, place)[0]!;
      const ends = [low, place, high].map(of);
      const scale = Math.log(high / low) / (Math.max(...ends) - Math.min(...ends));
      const zero = of(reference);
      return {
        shape: name,
        weight: 1 / names.length / places.length,
        column: (dose) => scale * (of(dose) - zero),
      };
    });
  });
};
