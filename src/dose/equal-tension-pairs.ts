/**
 * Pairs of arms of one study with the same amount of work, which differ in how it was given.
 *
 * Longer than most: what makes a pair is one rule with several parts.
 */
import { samplingCovarianceOf } from "../effects/sampling-covariance.js";
import { measurementPlace, outcomeName } from "../effects/effect-name.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { symmetricInterval } from "../synthesis/inference.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { ofOneSexEach } from "./dose-data.js";
import { doseAxes, doseOf, type DoseAxisName } from "./dose-axes.js";

/**
 * Places of pairs that join effects not yet joined: fewest other differences first, then furthest apart.
 *
 * Three arms make three pairs of which two are free; the third follows from them and would be counted twice.
 *
 * @param pairs positions of the two effects, how far apart they are, in what else they differ
 * @source Kruskal (1956) Proceedings of the American Mathematical Society 7:48–50
 */
export const freePairs = (
  pairs: readonly Readonly<{
    positions: readonly [number, number];
    size: number;
    alsoDiffer: readonly string[];
  }>[],
): ReadonlySet<number> => {
  const parent = new Map<number, number>();
  const root = (position: number): number => {
    const up = parent.get(position) ?? position;
    return up === position ? position : root(up);
  };
  const order = pairs
    .map((_, index) => index)
    .sort(
      (a, b) =>
        pairs[a]!.alsoDiffer.length - pairs[b]!.alsoDiffer.length ||
        pairs[b]!.size - pairs[a]!.size,
    );
  const free = new Set<number>();
  for (const index of order) {
    const [a, b] = pairs[index]!.positions.map(root) as [number, number];
    if (a === b) continue;
    parent.set(a, b);
    free.add(index);
  }
  return free;
};

export const equalTensionQuestions = ["hold length", "intensity"] as const;
/** What differs between the two arms of a pair. */
export type EqualTensionQuestion = (typeof equalTensionQuestions)[number];

export const equalTensionQuantities = ["tension time", "torque–time"] as const;
/** What is the same in the two arms of a pair. */
export type EqualTensionQuantity = (typeof equalTensionQuantities)[number];

export type PairRules = Readonly<{
  /** The larger total may exceed the smaller by this share. */
  tolerance: number;
  /** The longer hold is at least so many times the shorter. */
  leastHoldRatio: number;
  /** The higher intensity is at least so many points of MVC above the easier. */
  leastIntensityPoints: number;
  confidence: number;
}>;

/** One side of a pair. */
export type PairSide = Readonly<{
  arm: string;
  effectId: string;
  holdSeconds?: number | undefined;
  intensityPercent?: number | undefined;
  /** Tension time in s or torque–time in %MVC·s, over `over`. */
  total: number;
}>;

export type EqualTensionPair = Readonly<{
  study: string;
  /** Full name of the measurement: outcome with its place. */
  outcome: string;
  /** Angle, site, side and week alone; empty where none is coded. */
  place: string;
  /** The arm with the longer holds, or the higher intensity. */
  more: PairSide;
  less: PairSide;
  /** The longest stretch over which both arms' totals are known. */
  over: "programme" | "week" | "session";
  /** Effect of `more` minus effect of `less`, on the effects' scale (a log ratio of ratios on that of ratios). */
  estimate: number;
  variance: number;
  /** Normal, from the sampling covariances of this pair alone. */
  interval: Interval;
  /** What else is coded differently in the two arms. */
  alsoDiffer: readonly string[];
  design?: OutcomeRow["design"];
  /** False where the pair follows from other pairs of the study, and would be counted twice. */
  pooled: boolean;
  /** Positions of the two effects in the set. */
  positions: readonly [more: number, less: number];
}>;

const totalAxes: Readonly<
  Record<
    EqualTensionQuantity,
    readonly (readonly [over: EqualTensionPair["over"], axis: DoseAxisName])[]
  >
> = {
  "tension time": [
    ["programme", "tensionTimeProgrammeSeconds"],
    ["week", "tensionTimePerWeekSeconds"],
    ["session", "tensionTimePerSessionSeconds"],
  ],
  "torque–time": [
    ["programme", "torqueTimeProgramme"],
    ["week", "torqueTimePerWeek"],
    ["session", "torqueTimePerSession"],
  ],
};

const valueOn = (axis: DoseAxisName, { row }: Effect): number | undefined =>
  doseOf(row, axis)?.value;

/** What was measured, where and when: only like is set against like. */
const measurementOf = ({ row }: Effect): string =>
  [
    row.outcomeFamily,
    row.outcome,
    row.method,
    row.unit,
    row.testAngleDegrees,
    row.testSitePercent,
    row.testSide,
    row.weekMeasured,
  ]
    .map((part) =>
      String(part ?? "")
        .trim()
        .toLowerCase(),
    )
    .join(" | ");

const alike = (a: number, b: number, tolerance: number): boolean =>
  Math.max(a, b) <= Math.min(a, b) * (1 + tolerance) + 1e-9 * Math.abs(a);

/** Number fields in which two arms may differ besides the question. */
const otherNumbers: readonly DoseAxisName[] = [
  "intensityPercent",
  "holdSeconds",
  "sessionsPerWeek",
  "weeks",
  "trainingAngleDegrees",
];
const otherWords = [
  ["muscleLength", "muscle length"],
  ["action", "action"],
  ["effortIntent", "intent of the hold"],
] as const satisfies readonly (readonly [keyof OutcomeRow, string])[];

const differencesOf = (
  more: Effect,
  less: Effect,
  question: EqualTensionQuestion,
  tolerance: number,
): readonly string[] => {
  const asked: DoseAxisName = question === "hold length" ? "holdSeconds" : "intensityPercent";
  const numbers = otherNumbers.flatMap((axis) => {
    const [a, b] = [valueOn(axis, more), valueOn(axis, less)];
    if (axis === asked || a === undefined || b === undefined) return [];
    return alike(Math.abs(a), Math.abs(b), tolerance) && Math.sign(a) === Math.sign(b)
      ? []
      : [doseAxes[axis].label];
  });
  const people = ofOneSexEach(more.row, less.row) ? ["who trained (women, men)"] : [];
  const words = otherWords.flatMap(([field, label]) => {
    const [a, b] = [more.row[field], less.row[field]];
    return a === undefined || b === undefined || a === b ? [] : [label];
  });
  return [...numbers, ...people, ...words];
};

const varies = (
  first: Effect,
  second: Effect,
  question: EqualTensionQuestion,
  rules: PairRules,
): readonly [more: Effect, less: Effect, size: number] | undefined => {
  const axis = question === "hold length" ? "holdSeconds" : "intensityPercent";
  const [a, b] = [valueOn(axis, first), valueOn(axis, second)];
  if (a === undefined || b === undefined) return undefined;
  const [high, low] = [Math.max(a, b), Math.min(a, b)];
  const enough =
    question === "hold length"
      ? low > 0 && high >= low * rules.leastHoldRatio
      : high - low >= rules.leastIntensityPoints;
  if (!enough) return undefined;
  const size = question === "hold length" ? Math.log(high / low) : high - low;
  return a > b ? [first, second, size] : [second, first, size];
};

const totals = (first: Effect, second: Effect, quantity: EqualTensionQuantity) => {
  for (const [over, axis] of totalAxes[quantity]) {
    const [a, b] = [valueOn(axis, first), valueOn(axis, second)];
    if (a !== undefined && b !== undefined) return { over, a, b };
  }
  return undefined;
};

/**
 * Every pair of a set for one question, with the covariances among them.
 *
 * Two arms of one study, the same measurement, totals that agree within the tolerance, and holds or intensities
 * far enough apart. Of pairs that follow from each other (three arms make three pairs, two of them free) those
 * that differ in least else, then those furthest apart, are pooled; every pair is listed.
 *
 *   estimate = y_more − y_less;  cov(pair i, pair j) = c_i' V c_j with c = (+1, −1) at the two effects
 *
 * @param set changes within arms or arms against a control; a shared control then drops out on the log scale
 * @returns pairs in the order of the file; covariance of any two of them
 * @source Gleser and Olkin (2009) in The Handbook of Research Synthesis, chapter 19 (contrasts of dependent
 *   effects); Kruskal (1956) Proceedings of the American Mathematical Society 7:48–50 (free pairs)
 */
export const equalTensionPairs = (
  set: EffectSet,
  question: EqualTensionQuestion,
  quantity: EqualTensionQuantity,
  rules: PairRules,
): Readonly<{
  pairs: readonly EqualTensionPair[];
  covarianceOf: (a: EqualTensionPair, b: EqualTensionPair) => number;
}> => {
  const covariance = samplingCovarianceOf(set);
  const groups = new Map<string, number[]>();
  set.effects.forEach((effect, position) => {
    const key = `${effect.cohort}\u0000${measurementOf(effect)}`;
    const members = groups.get(key);
    if (members === undefined) groups.set(key, [position]);
    else members.push(position);
  });
  const positionOf = new Map(set.effects.map((effect, position) => [effect, position]));
  const found: (Omit<EqualTensionPair, "pooled"> & Readonly<{ size: number }>)[] = [];
  for (const members of groups.values()) {
    members.forEach((one, i) => {
      for (const other of members.slice(i + 1)) {
        const [first, second] = [set.effects[one]!, set.effects[other]!];
        if (first.arm === second.arm) continue;
        const sums = totals(first, second, quantity);
        if (sums === undefined || !(sums.a > 0 && sums.b > 0)) continue;
        if (!alike(sums.a, sums.b, rules.tolerance)) continue;
        const ordered = varies(first, second, question, rules);
        if (ordered === undefined) continue;
        const [more, less, size] = ordered;
        const positions = [positionOf.get(more)!, positionOf.get(less)!] as const;
        const side = (effect: Effect): PairSide => ({
          arm: effect.arm,
          effectId: effect.effectId,
          holdSeconds: valueOn("holdSeconds", effect),
          intensityPercent: valueOn("intensityPercent", effect),
          total: effect === first ? sums.a : sums.b,
        });
        const estimate = more.estimate - less.estimate;
        const variance = more.variance + less.variance - 2 * covariance(positions[0], positions[1]);
        found.push({
          study: more.cohort,
          outcome: outcomeName(more),
          place: measurementPlace(more),
          more: side(more),
          less: side(less),
          over: sums.over,
          estimate,
          variance,
          interval: symmetricInterval(estimate, Math.sqrt(variance), Infinity, rules.confidence),
          alsoDiffer: differencesOf(more, less, question, rules.tolerance),
          design: more.row.design,
          positions,
          size,
        });
      }
    });
  }
  const free = freePairs(found);
  const pairs = found.map(({ size: _size, ...pair }, index) => ({
    ...pair,
    pooled: free.has(index),
  }));
  return {
    pairs,
    covarianceOf: ({ positions: [a, b] }, { positions: [c, d] }) =>
      covariance(a, c) - covariance(a, d) - covariance(b, c) + covariance(b, d),
  };
};
