/** Does a moderator matter more than its values dealt out at random would? */
import { CallError, ConvergenceError, type Note } from "../errors.js";
import { randomStream } from "../numeric/random-stream.js";
import { fitMultilevel } from "./fit-multilevel.js";
import type { MultilevelOptions } from "./multilevel-options.js";
import { poolEffects, type PoolOptions } from "./pool-effects.js";
import type { SynthesisEffect } from "./synthesis-input.js";

export type PermutationTestOptions = Readonly<{
  /** Main effect to test; it must be among the model's moderators. */
  moderator: string;
  /** The model, with its own options. */
  model:
    | Readonly<{ kind: "pooled"; options: PoolOptions }>
    | Readonly<{ kind: "multilevel"; options: MultilevelOptions }>;
  /** Random arrangements when there are too many to try them all. */
  permutations?: number;
  /** Whole number; the same seed gives the same answer. */
  seed?: number;
}>;

export const permutationTestDefaults = { permutations: 1000, seed: 1 } as const;

export type PermutationTest = Readonly<{
  term: string;
  /** The observed joint statistic of the moderator's columns. */
  statistic: number;
  p: number;
  /** True when every arrangement was tried. */
  exact: boolean;
  permutations: number;
  /** What was exchanged. */
  exchanged: ExchangeableGroup["kind"];
  notes: readonly Note[];
}>;

/** With no more arrangements than this all are tried (7! = 5040). */
const mostArrangements = 5040;
const tieTolerance = 1e-9;
const where = "permutationTest";

/**
 * Permutation p value of a moderator: how often its values, dealt out at random, do at least as well.
 *
 * The moderator's values are exchanged between whole studies when they do not vary inside studies,
 * otherwise between effects (inside their own study in a multilevel model); estimates, variances and the
 * other moderators stay. The model is refitted, heterogeneity included, for each arrangement.
 *
 *   all arrangements tried: p = share with a statistic at least as large (the observed one counts)
 *   otherwise: p = (1 + number at least as large) / (1 + arrangements tried)
 *
 * Statistics within 1e-9 of each other are ties. An arrangement whose fit fails counts as at least as large.
 *
 * @param effects the effects
 * @param options moderator, model, number of arrangements, seed
 * @returns p value, and whether it is exact
 * @throws {CallError} "moderator-not-in-model", "too-few-permutations" and those of the model
 * @source Higgins and Thompson (2004) Statistics in Medicine 23:1663–1682
 */
export const permutationTest = (
  effects: readonly SynthesisEffect[],
  options: PermutationTestOptions,
): PermutationTest => {
  const resolved = { ...permutationTestDefaults, ...options };
  const { moderator, model } = resolved;
  if (!Number.isSafeInteger(resolved.permutations) || resolved.permutations < 99) {
    throw new CallError({
      code: "too-few-permutations",
      where,
      needs: "at least 99 arrangements",
      got: String(resolved.permutations),
    });
  }
  if (!(model.options.moderators ?? []).includes(moderator)) {
    throw new CallError({
      code: "moderator-not-in-model",
      where,
      needs: "a moderator that is a main effect of the model",
      got: moderator,
    });
  }
  const statisticOf = (rows: readonly SynthesisEffect[]): number => {
    const result =
      model.kind === "pooled"
        ? poolEffects(rows, model.options)
        : fitMultilevel(rows, { ...model.options, robust: "none", profileIntervals: false });
    return result.termTests.find((test) => test.term === moderator)!.statistic;
  };
  const observed = statisticOf(effects);
  const groups = exchangeableUnits(effects, moderator, model.kind);
  const total = groups.units.reduce((product, units) => product * factorial(units.length), 1);
  const exact = total <= mostArrangements;
  const known = new Map<string, boolean>();
  let failed = 0;
  const reaches = (arrangement: readonly (number | string)[]): boolean => {
    const key = JSON.stringify(arrangement);
    const cached = known.get(key);
    if (cached !== undefined) return cached;
    let answer: boolean;
    try {
      const statistic = statisticOf(
        effects.map((effect, index) => {
          const value = arrangement[index];
          if (value === undefined) return effect;
          return { ...effect, moderators: { ...effect.moderators, [moderator]: value } };
        }),
      );
      answer = statistic >= observed * (1 - tieTolerance) - 1e-12;
    } catch (error) {
      if (!(error instanceof CallError || error instanceof ConvergenceError)) throw error;
      failed += 1;
      answer = true;
    }
    if (exact) known.set(key, answer);
    return answer;
  };
  let tried = 0;
  let reached = 0;
  if (exact) {
    for (const orders of allOrders(groups.units.map((units) => units.length))) {
      tried += 1;
      if (reaches(arranged(groups, orders, effects.length))) reached += 1;
    }
  } else {
    const stream = randomStream(resolved.seed);
    for (; tried < resolved.permutations; tried++) {
      const orders = groups.units.map((units) => stream.shuffle([...units.keys()]));
      if (reaches(arranged(groups, orders, effects.length))) reached += 1;
    }
  }
  return {
    term: moderator,
    statistic: observed,
    p: exact ? reached / tried : (reached + 1) / (tried + 1),
    exact,
    permutations: tried,
    exchanged: groups.kind,
    notes:
      failed > 0
        ? [
            {
              code: "permutation-fits-failed",
              message: `${failed} arrangements could not be fitted and count against the moderator`,
            },
          ]
        : [],
  };
};

/** Effects that carry one value together. */
type ExchangeableUnit = Readonly<{ rows: readonly number[]; value: number | string }>;

type ExchangeableGroup = Readonly<{
  kind: "studies" | "effects" | "effects inside studies";
  /** Units are exchanged inside each list. */
  units: readonly (readonly ExchangeableUnit[])[];
}>;

/**
 * Units that may be exchanged: whole studies when the moderator does not vary inside any, else effects:
 * all of them when rows are independent, inside their own study when they are not.
 *
 * Effects without the moderator's value take no part.
 *
 * @source Higgins and Thompson (2004) Statistics in Medicine 23:1663–1682; blocks: none, exchangeability
 */
export const exchangeableUnits = (
  effects: readonly SynthesisEffect[],
  moderator: string,
  kind: "pooled" | "multilevel",
): ExchangeableGroup => {
  const byStudy = new Map<string, ExchangeableUnit[]>();
  effects.forEach((effect, row) => {
    const value = effect.moderators?.[moderator];
    if (value === undefined) return;
    const list = byStudy.get(effect.study) ?? [];
    list.push({ rows: [row], value });
    byStudy.set(effect.study, list);
  });
  const studies = [...byStudy.values()];
  const constant = studies.every((units) => units.every((unit) => unit.value === units[0]!.value));
  if (constant) {
    return {
      kind: "studies",
      units: [
        studies.map((units) => ({
          rows: units.flatMap((unit) => unit.rows),
          value: units[0]!.value,
        })),
      ],
    };
  }
  if (kind === "pooled") return { kind: "effects", units: [studies.flat()] };
  return { kind: "effects inside studies", units: studies };
};

const factorial = (n: number): number => {
  let product = 1;
  for (let i = 2; i <= n; i++) product *= i;
  return product;
};

/** The moderator's value by effect when each group's units take each other's values. */
const arranged = (
  groups: ExchangeableGroup,
  orders: readonly (readonly number[])[],
  count: number,
): readonly (number | string)[] => {
  const values = new Array<number | string>(count);
  groups.units.forEach((units, g) => {
    units.forEach((unit, place) => {
      const from = units[orders[g]![place]!]!;
      for (const row of unit.rows) values[row] = from.value;
    });
  });
  return values;
};

function* allOrders(sizes: readonly number[]): Generator<readonly (readonly number[])[]> {
  const [size, ...rest] = sizes;
  if (size === undefined) {
    yield [];
    return;
  }
  for (const order of ordersOf(size)) {
    for (const others of allOrders(rest)) yield [order, ...others];
  }
}

function* ordersOf(size: number): Generator<readonly number[]> {
  if (size === 0) {
    yield [];
    return;
  }
  for (const shorter of ordersOf(size - 1)) {
    for (let place = 0; place < size; place++) {
      yield [...shorter.slice(0, place), size - 1, ...shorter.slice(place)];
    }
  }
}
