/** A region of several variables that holds nearly all of a density, and a rule of points inside it. */
import type { Interval } from "../synthesis/synthesis-results.js";
import { minimise } from "../numeric/minimise.js";
import { gaussLegendre } from "../numeric/quadrature.js";

/** Where a variable may lie. */
export type Limits = Interval &
  Readonly<{
    /**
     * The density fades out before a limit or goes on beyond it as its own mirror image; equal steps then converge
     * faster than any power, with fewer points than Gauss–Legendre needs.
     */
    mirrored?: boolean;
  }>;

export type LogDensity = (place: readonly number[]) => number;

/** The interval of each variable in turn, given those before it: a box whose sides may lean. */
export type Region = Readonly<{
  variables: number;
  /** Which variables take equal steps; the others take Gauss–Legendre points. */
  mirrored: readonly boolean[];
  interval: (variable: number, before: readonly number[]) => Interval;
  /** Whether a place lies so far into a corner that nothing is there; absent: never. */
  isCorner?: (place: readonly number[]) => boolean;
}>;

/** Points of a product rule, each with the logarithm of its weight (log density is not in it). */
export type ProductRule = Readonly<{
  places: readonly (readonly number[])[];
  logWeights: Float64Array;
}>;

/** A slice through the top is followed until the log density has fallen by this much. */
const fall = 16;
/** Slices know nothing of correlation between the variables, so the first box is made wider than they say. */
const margin = 1.25;
/** Deviations the region reaches below and above the mean, by the number of variables; long tails point up. */
const reachFor = (variables: number): Readonly<{ below: number; above: number }> =>
  variables <= 1
    ? { below: 8, above: 10 }
    : variables === 2
      ? { below: 4.8, above: 6 }
      : { below: 4.2, above: 5 };
/** A place this many reaches from the centre, all variables together, is in a corner. */
const cornerFrom = 1.2;
/** Points in each variable, and rounds, of the rules that measure means and covariances. */
const measuringPoints = 6;
const measurings = 4;

const along = (top: readonly number[], variable: number, value: number): readonly number[] =>
  top.map((old, index) => (index === variable ? value : old));

/** Where the slice has fallen far enough, going from the top towards a limit; the limit if it never does. */
const sliceEnd = (
  f: LogDensity,
  top: readonly number[],
  variable: number,
  limit: number,
): number => {
  const start = top[variable]!;
  const enough = f(top) - fall;
  if (f(along(top, variable, limit)) > enough) return limit;
  let [inside, outside] = [0, 1];
  for (let halving = 0; halving < 7; halving++) {
    const middle = (inside + outside) / 2;
    if (f(along(top, variable, start + middle * (limit - start))) > enough) inside = middle;
    else outside = middle;
  }
  return start + outside * (limit - start);
};

/** Nodes and weights on −1 to 1: the middles of equal steps, or Gauss–Legendre. */
const ruleOf = (points: number, mirrored: boolean): ReturnType<typeof gaussLegendre> =>
  mirrored
    ? {
        nodes: Float64Array.from({ length: points }, (_, i) => (2 * i + 1) / points - 1),
        weights: new Float64Array(points).fill(2 / points),
      }
    : gaussLegendre(points);

/**
 * Points in the interval of every variable of a region, multiplied out.
 *
 * Variables whose density is mirrored at its limits or fades before them take the middles of equal steps, whose error then
 * falls as e^(−2π²/h²) for a normal density with steps of h deviations; the others take Gauss–Legendre points.
 *
 * @param points one number for each variable
 * @source Davis PJ, Rabinowitz P (1984) Methods of Numerical Integration, section 5.6 (product rules); Trefethen LN,
 *   Weideman JAC (2014) SIAM Review 56:385–458 (equal steps)
 */
export const productRule = (region: Region, points: readonly number[]): ProductRule => {
  let found: readonly Readonly<{ place: readonly number[]; log: number }>[] = [
    { place: [], log: 0 },
  ];
  for (let variable = 0; variable < region.variables; variable++) {
    const { nodes, weights } = ruleOf(points[variable]!, region.mirrored[variable] === true);
    found = found.flatMap(({ place, log }) => {
      const { low, high } = region.interval(variable, place);
      const half = (high - low) / 2;
      return Array.from(nodes, (node, i) => ({
        place: [...place, low + half * (1 + node)],
        log: log + Math.log(half * weights[i]!),
      }));
    });
  }
  const kept = found.filter(({ place }) => region.isCorner?.(place) !== true);
  return {
    places: kept.map(({ place }) => place),
    logWeights: Float64Array.from(kept, ({ log }) => log),
  };
};

const mirroredOf = (limits: readonly Limits[]): readonly boolean[] =>
  limits.map(({ mirrored }) => mirrored === true);

const boxRegion = (box: readonly Interval[], mirrored: readonly boolean[]): Region => ({
  variables: box.length,
  mirrored,
  interval: (variable) => box[variable]!,
});

type Moments = Readonly<{ means: readonly number[]; covariance: readonly (readonly number[])[] }>;

/** Mean and covariance of the variables under a log density, by a coarse rule on a region. */
const measured = (f: LogDensity, region: Region): Moments => {
  const { places, logWeights } = productRule(
    region,
    Array.from({ length: region.variables }, () => measuringPoints),
  );
  const logs = places.map((place, i) => f(place) + logWeights[i]!);
  const top = logs.reduce((high, log) => Math.max(high, log), -Infinity);
  const masses = logs.map((log) => Math.exp(log - top));
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  const average = (value: (place: readonly number[]) => number): number =>
    masses.reduce((sum, mass, i) => sum + (mass / total) * value(places[i]!), 0);
  const all = Array.from({ length: region.variables }, (_, variable) => variable);
  const means = all.map((a) => average((place) => place[a]!));
  const covariance = all.map((a) =>
    all.map((b) => average((place) => (place[a]! - means[a]!) * (place[b]! - means[b]!))),
  );
  return { means, covariance };
};

/** Rows of the lower factor of a covariance, no diagonal entry below its floor. */
const factorRows = (
  covariance: readonly (readonly number[])[],
  floors: readonly number[],
): readonly (readonly number[])[] => {
  const rows: number[][] = [];
  covariance.forEach((line, a) => {
    const row: number[] = [];
    for (let b = 0; b <= a; b++) {
      let total = line[b]!;
      for (let k = 0; k < b; k++) total -= row[k]! * (a === b ? row : rows[b]!)[k]!;
      row.push(
        a === b ? Math.max(Math.sqrt(Math.max(total, 0)), floors[a]!) : total / rows[b]![b]!,
      );
    }
    rows.push(row);
  });
  return rows;
};

/** The region around measured moments: each variable's interval moves with those before it, inside the limits. */
const leaningRegion = (
  { means }: Moments,
  rows: readonly (readonly number[])[],
  limits: readonly Limits[],
): Region => {
  const reach = reachFor(limits.length);
  const scoresOf = (before: readonly number[]): readonly number[] => {
    const scores: number[] = [];
    before.forEach((value, a) => scores.push((value - centreOf(a, scores)) / rows[a]![a]!));
    return scores;
  };
  const centreOf = (a: number, scores: readonly number[]): number =>
    scores.reduce((sum, score, k) => sum + rows[a]![k]! * score, means[a]!);
  return {
    variables: limits.length,
    mirrored: mirroredOf(limits),
    isCorner: (place) => {
      let squares = 0;
      for (const score of scoresOf(place))
        squares += (score > 0 ? (score * reach.below) / reach.above : score) ** 2;
      return squares > (reach.below * cornerFrom) ** 2;
    },
    interval: (variable, before) => {
      const { low, high } = limits[variable]!;
      const deviation = rows[variable]![variable]!;
      // Kept inside the limits and never empty, however far out the variables before it lie.
      const centre = Math.min(high, Math.max(low, centreOf(variable, scoresOf(before))));
      return {
        low: Math.max(low, centre - reach.below * deviation),
        high: Math.min(high, centre + reach.above * deviation),
      };
    },
  };
};

/**
 * A region around the top of a log density that holds all but a few hundred-thousandths of the mass.
 *
 * The top is searched for, each variable is followed both ways until the density has fallen by e⁻¹⁶, and that
 * box is made a quarter wider. A coarse rule there measures means and covariances; the region is drawn in to them, each
 * variable's interval leaning with the variables before it, and measured again until its size rests.
 *
 * @param limits of each variable
 * @param start inside the limits
 * @source none: a search
 */
export const quadratureRegion = (
  f: LogDensity,
  limits: readonly Limits[],
  start: readonly number[],
): Region => {
  if (limits.length === 0) return boxRegion([], []);
  const top = minimise((place) => -f(place), start, {
    lower: limits.map(({ low }) => low),
    upper: limits.map(({ high }) => high),
    tolerance: 1e-4,
    maxIterations: 60,
  }).x;
  const box = limits.map((limit, variable): Interval => {
    const at = top[variable]!;
    const low = sliceEnd(f, top, variable, limit.low);
    const high = sliceEnd(f, top, variable, limit.high);
    return {
      low: Math.max(limit.low, at - margin * (at - low)),
      high: Math.min(limit.high, at + margin * (high - at)),
    };
  });
  let region = boxRegion(box, mirroredOf(limits));
  let widths = box.map(({ low, high }) => high - low);
  for (let round = 0; round < measurings; round++) {
    const moments = measured(f, region);
    // A coarse rule cannot see a deviation much below the distance of its points.
    const rows = factorRows(
      moments.covariance,
      widths.map((width) => width / (4 * measuringPoints)),
    );
    region = leaningRegion(moments, rows, limits);
    const reach = reachFor(limits.length);
    const next = rows.map((row, a) => Math.min(widths[a]!, (reach.below + reach.above) * row[a]!));
    const rests = next.every((width, a) => width > 0.9 * widths[a]!);
    widths = next;
    if (rests) break;
  }
  return region;
};
