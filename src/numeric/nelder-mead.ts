/** The simplex search of Nelder and Mead: slow, sure-footed, needs no derivative. */
import { CallError } from "../errors.js";

export type NelderMeadOptions = Readonly<{
  /** Bounds; places outside are moved to the nearest one inside before f is asked. */
  lower?: readonly number[];
  upper?: readonly number[];
  /** Spread of values and of places, relative, at which the search stops. */
  tolerance?: number;
  maxIterations?: number;
}>;
export const nelderMeadDefaults = {
  tolerance: 1e-10,
  maxIterations: 4000,
} as const satisfies NelderMeadOptions;

export type SimplexMinimum = Readonly<{
  x: number[];
  value: number;
  iterations: number;
  converged: boolean;
}>;

type Corner = { x: number[]; value: number };

/**
 * A local minimum of f by the simplex search.
 *
 * Serves where derivatives mislead: kinks, noise, regions where f is not a number (taken as infinitely
 * high). Converges when the corners agree in value and place; otherwise `converged` is false.
 *
 * @param f function of `start.length` variables
 * @param start finite numbers
 * @returns the best corner
 * @throws {CallError} "not-finite" when f is not finite at the start
 * @source Nelder JA, Mead R (1965) The Computer Journal 7:308–313; coefficients growing with the number of
 *   variables: Gao F, Han L (2012) Computational Optimization and Applications 51:259–277
 */
export const nelderMead = (
  f: (x: readonly number[]) => number,
  start: readonly number[],
  options: NelderMeadOptions = {},
): SimplexMinimum => {
  const n = start.length;
  const tolerance = options.tolerance ?? nelderMeadDefaults.tolerance;
  const maxIterations = options.maxIterations ?? nelderMeadDefaults.maxIterations;
  const inside = (x: readonly number[]): number[] =>
    x.map((value, i) =>
      Math.min(Math.max(value, options.lower?.[i] ?? -Infinity), options.upper?.[i] ?? Infinity),
    );
  const corner = (place: readonly number[]): Corner => {
    const x = inside(place);
    const value = f(x);
    return { x, value: Number.isNaN(value) ? Infinity : value };
  };
  const first = corner(start);
  if (!Number.isFinite(first.value)) {
    throw new CallError({
      code: "not-finite",
      where: "nelderMead",
      needs: "a finite value at the start",
      got: String(first.value),
    });
  }
  const expand = 1 + 2 / Math.max(n, 2);
  const contract = 0.75 - 1 / (2 * Math.max(n, 2));
  const shrink = 1 - 1 / Math.max(n, 2);
  const simplex: Corner[] = [first];
  for (let i = 0; i < n; i++) {
    const x = [...first.x];
    const size = 0.05 * Math.max(Math.abs(x[i] as number), 0.1);
    const up = inside(x.map((value, k) => (k === i ? value + size : value)));
    x[i] = up[i] === x[i] ? (x[i] as number) - size : (up[i] as number);
    simplex.push(corner(x));
  }
  let iterations = 0;
  let converged = false;
  for (; iterations < maxIterations; iterations++) {
    simplex.sort((a, b) => a.value - b.value);
    const best = simplex[0] as Corner;
    const worst = simplex[n] as Corner;
    const spread = worst.value - best.value;
    const width = simplex.reduce(
      (widest, one) =>
        one.x.reduce((most, value, i) => {
          const centre = best.x[i] as number;
          return Math.max(most, Math.abs(value - centre) / Math.max(Math.abs(centre), 1));
        }, widest),
      0,
    );
    if (
      width <= Math.sqrt(tolerance) * 1e-2 &&
      spread <= tolerance * Math.max(Math.abs(best.value), 1)
    ) {
      converged = true;
      break;
    }
    const centre = start.map(
      (_, i) => simplex.slice(0, n).reduce((total, one) => total + (one.x[i] as number), 0) / n,
    );
    const along = (amount: number): Corner =>
      corner(centre.map((value, i) => value + amount * (value - (worst.x[i] as number))));
    const reflected = along(1);
    const second = simplex[n - 1] as Corner;
    if (reflected.value < best.value) {
      const further = along(expand);
      simplex[n] = further.value < reflected.value ? further : reflected;
    } else if (reflected.value < second.value) {
      simplex[n] = reflected;
    } else {
      const outside = reflected.value < worst.value;
      const nearer = along(outside ? contract : -contract);
      if (nearer.value < Math.min(reflected.value, worst.value)) {
        simplex[n] = nearer;
      } else {
        for (let k = 1; k <= n; k++) {
          const old = simplex[k] as Corner;
          simplex[k] = corner(
            old.x.map(
              (value, i) => (best.x[i] as number) + shrink * (value - (best.x[i] as number)),
            ),
          );
        }
      }
    }
  }
  simplex.sort((a, b) => a.value - b.value);
  const best = simplex[0] as Corner;
  return { x: best.x, value: best.value, iterations, converged };
};
