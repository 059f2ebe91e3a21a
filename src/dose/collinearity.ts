import type { EffectSet } from "../effects/effect.js";
import {
  doseAxes,
  doseOf,
  followsFrom,
  tabledAxes,
  type DoseAxis,
  type DoseAxisName,
} from "./dose-axes.js";

/** How two doses move together in one kind of comparison. */
export type DoseCorrelation = Readonly<{
  r: number;
  /** Studies in which at least one of the two varies (within), or studies compared (between). */
  studies: number;
  arms: number;
}>;

export type CollinearPair = Readonly<{
  first: DoseAxis;
  second: DoseAxis;
  /**
   * Between arms of the same study; undefined where one of the two varies in fewer than three studies and they do
   * not move together all the same.
   */
  within?: DoseCorrelation | undefined;
  /** Between studies' means. */
  between?: DoseCorrelation | undefined;
  /** In plain words, without a full stop. */
  words: string;
  toldApart: "yes" | "hardly" | "no" | "not studied";
}>;

/**
 * Correlation from which on two doses' parts count as not to be told apart, and from which on as hardly.
 *
 * At 0.8 a slope's variance is 1/(1 − 0.64) = 2.8 times what it would be were the other dose held still: three
 * times the studies would be needed for the same precision.
 */
export const notToldApart = 0.8;
export const hardlyToldApart = 0.6;

/** Fewest studies behind a correlation that is spoken of. */
const fewestStudies = 3;

/** One arm's doses on several axes. */
export type ArmDoses = Readonly<{ study: string; values: readonly number[] }>;

/** What is known of each effect's arm on several axes. */
const knownDosesOf = (set: EffectSet, axes: readonly DoseAxis[]) =>
  set.effects.map(({ cohort, arm, row }) => ({
    study: cohort,
    arm,
    values: axes.map((axis) => doseOf(row, axis.name)?.value),
  }));

/** Of these the arms with all of some doses, each combination once. */
const complete = (
  known: ReturnType<typeof knownDosesOf>,
  places: readonly number[],
): readonly ArmDoses[] => {
  const arms = new Map<string, ArmDoses>();
  for (const { study, arm, values: all } of known) {
    const values = places.map((place) => all[place]);
    if (values.some((value) => value === undefined)) continue;
    arms.set(`${study}\u0000${arm}\u0000${values.join(" ")}`, {
      study,
      values: values as readonly number[],
    });
  }
  return [...arms.values()];
};

/** The arms of a set whose doses on all axes are known, each combination of doses once. */
export const armDosesOf = (set: EffectSet, axes: readonly DoseAxis[]): readonly ArmDoses[] =>
  complete(
    knownDosesOf(set, axes),
    axes.map((_, place) => place),
  );

/** Study means and each arm's distance from them, axis by axis. */
export const splitArms = (arms: readonly ArmDoses[]) => {
  const byStudy = new Map<string, ArmDoses[]>();
  for (const arm of arms) {
    const list = byStudy.get(arm.study);
    if (list === undefined) byStudy.set(arm.study, [arm]);
    else list.push(arm);
  }
  return [...byStudy].map(([study, members]) => {
    const means = members[0]!.values.map(
      (_, k) => members.reduce((total, { values }) => total + values[k]!, 0) / members.length,
    );
    return {
      study,
      means,
      deviations: members.map(({ values }) => values.map((value, k) => value - means[k]!)),
    };
  });
};

const correlation = (pairs: readonly (readonly [number, number])[], centre: boolean): number => {
  const n = pairs.length;
  const mean = (k: 0 | 1): number =>
    centre ? pairs.reduce((total, pair) => total + pair[k], 0) / n : 0;
  const [a, b] = [mean(0), mean(1)];
  let [xx, yy, xy] = [0, 0, 0];
  for (const [x, y] of pairs) {
    xx += (x - a) ** 2;
    yy += (y - b) ** 2;
    xy += (x - a) * (y - b);
  }
  const scale = pairs.reduce((most, [x, y]) => Math.max(most, Math.abs(x), Math.abs(y)), 0);
  // Deviations that are rounding are no variation.
  if (xx <= (1e-9 * scale) ** 2 || yy <= (1e-9 * scale) ** 2) return NaN;
  return Math.max(-1, Math.min(1, xy / Math.sqrt(xx * yy)));
};

/**
 * How every two doses of a file move together, inside studies and between them, in plain words.
 *
 * Inside studies: correlation of the arms' distances from their study's means, over studies in which one of the two
 * varies. Between: correlation of studies' means. A pair is judged by the comparisons a curve would be made of:
 * those inside studies where each of the two varies in three studies, else those between.
 *
 * @param set  effects of one outcome family
 * @param names  axes looked at, two or more
 * @source none: Pearson's correlation
 */
export const collinearity = (
  set: EffectSet,
  names: readonly DoseAxisName[],
): readonly CollinearPair[] => {
  const axes = names.map((name) => doseAxes[name]);
  const known = knownDosesOf(set, axes);
  return axes.flatMap((first, i) =>
    axes
      .slice(i + 1)
      .map((second, j) => pairOf(first, second, splitArms(complete(known, [i, i + 1 + j])))),
  );
};

const pairOf = (
  first: DoseAxis,
  second: DoseAxis,
  studies: ReturnType<typeof splitArms>,
): CollinearPair => {
  const varied = studies.filter(({ deviations }) =>
    deviations.some(([a, b]) => Math.abs(a!) > 1e-12 || Math.abs(b!) > 1e-12),
  );
  const inside = varied.flatMap(({ deviations }) => deviations.map(([a, b]) => [a!, b!] as const));
  const means = studies.map(({ means: [a, b] }) => [a!, b!] as const);
  const varying = (k: 0 | 1): number =>
    studies.filter(({ deviations }) => deviations.some((list) => Math.abs(list[k]!) > 1e-12))
      .length;
  const moving = kept(correlation(inside, false), varied.length, inside.length);
  // A dose that varies in one or two studies has a correlation near nothing that says nothing.
  const within =
    Math.min(varying(0), varying(1)) < fewestStudies && !(Math.abs(moving?.r ?? 0) >= notToldApart)
      ? undefined
      : moving;
  const between = kept(correlation(means, true), studies.length, studies.length);
  const [used, where] =
    within === undefined ? ([between, "between"] as const) : ([within, "inside"] as const);
  const toldApart =
    used === undefined
      ? "not studied"
      : Math.abs(used.r) >= notToldApart
        ? "no"
        : Math.abs(used.r) >= hardlyToldApart
          ? "hardly"
          : "yes";
  return {
    first,
    second,
    within,
    between,
    toldApart,
    words: wordsOf(first, second, used, where, toldApart),
  };
};

const kept = (r: number, studies: number, arms: number): DoseCorrelation | undefined =>
  Number.isNaN(r) || studies < fewestStudies ? undefined : { r, studies, arms };

const wordsOf = (
  first: DoseAxis,
  second: DoseAxis,
  used: DoseCorrelation | undefined,
  where: "inside" | "between",
  toldApart: CollinearPair["toldApart"],
): string => {
  if (used === undefined) {
    return `${first.label} and ${second.label} do not both vary in three studies, so nothing can be said about how they move together`;
  }
  const r = `r = ${used.r < 0 ? "−" : ""}${Math.abs(used.r).toFixed(2)}`;
  const place =
    where === "inside"
      ? `in these ${used.studies} studies`
      : `between these ${used.studies} studies`;
  const direction = used.r < 0 ? "move against each other" : "move together";
  if (toldApart === "no") {
    return `${place} ${first.label} and ${second.label} ${direction}, ${r}: their parts cannot be told apart`;
  }
  if (toldApart === "hardly") {
    return `${place} ${first.label} and ${second.label} ${direction}, ${r}: their parts can hardly be told apart`;
  }
  return `${place} ${first.label} and ${second.label} vary apart enough, ${r}`;
};

/** A dose that another moves with inside studies, so that what either does cannot be told. */
export type Inseparable = Readonly<{ axis: DoseAxis }> & DoseCorrelation;

/** Doses that are one contrast in a file, the plainest first. */
export type ContrastGroup = readonly DoseAxis[];

/**
 * Which doses are one contrast in a file, as one follows from the other and they move together inside studies.
 *
 * A dose that is worked out from others (tension time, say) joins the one among them with which it moves most, from
 * |r| = 0.8 on inside three studies or more: where only the hold was varied, its length, the tension time and the
 * duty cycle are the same comparison.
 *
 * @param pairs from `collinearity`
 * @source none: our rule
 */
export const contrastGroups = (
  names: readonly DoseAxisName[],
  pairs: readonly CollinearPair[],
): readonly ContrastGroup[] => {
  const groups: DoseAxis[][] = [];
  const placed = new Map<DoseAxisName, DoseAxis[]>();
  const waiting = new Set(names);
  const place = (name: DoseAxisName): DoseAxis[] => {
    waiting.delete(name);
    const found = movingWith(pairs, name)
      .filter(({ axis }) => names.includes(axis.name) && followsFrom(name, axis.name))
      .sort((a, b) => Math.abs(b.r) - Math.abs(a.r))[0];
    const group =
      found === undefined ? [] : (placed.get(found.axis.name) ?? place(found.axis.name));
    if (found === undefined) groups.push(group);
    group.push(doseAxes[name]);
    placed.set(name, group);
    return group;
  };
  while (waiting.size > 0) place([...waiting][0]!);
  return groups;
};

/** Doses that one cannot be told apart from inside studies, the closest first. */
export const movingWith = (
  pairs: readonly CollinearPair[],
  name: DoseAxisName,
): readonly Inseparable[] =>
  pairs
    .flatMap(({ first, second, within }): readonly Inseparable[] =>
      within === undefined || Math.abs(within.r) < notToldApart
        ? []
        : first.name === name
          ? [{ axis: second, ...within }]
          : second.name === name
            ? [{ axis: first, ...within }]
            : [],
    )
    .sort((a, b) => Math.abs(b.r) - Math.abs(a.r));

/** Which doses are the same contrast as one in a file, and which other it cannot be told apart from. */
export type Standing = Readonly<{
  /** Doses that are the same contrast in this file. */
  withIt: readonly DoseAxis[];
  /** Another dose that moves with it inside studies, so that neither can be favoured. */
  inseparable?: Inseparable | undefined;
}>;

/**
 * How some doses stand to all that the table of variables shows, each contrast once.
 *
 * @param set effects of one outcome family
 * @param asked doses; of one contrast the first asked for stands for all
 * @source none: contrastGroups and movingWith
 */
export const standings = (
  set: EffectSet,
  asked: readonly DoseAxisName[],
): readonly (Standing & Readonly<{ axis: DoseAxis }>)[] => {
  const names = [...new Set([...tabledAxes, ...asked])];
  const pairs = collinearity(set, names);
  return contrastGroups(names, pairs).flatMap((group) => {
    const axis = group.find(({ name }) => asked.includes(name));
    if (axis === undefined) return [];
    const inseparable = movingWith(pairs, axis.name).find(
      (other) => tabledAxes.includes(other.axis.name) && !group.includes(other.axis),
    );
    return [{ axis, withIt: group.filter((one) => one !== axis), inseparable }];
  });
};

/** `cannot be separated from intensity (r −0.96 inside 12 studies)`. */
export const inseparableWords = ({ axis, r, studies }: Inseparable): string =>
  `cannot be separated from ${axis.label} (r ${r < 0 ? "−" : ""}${Math.abs(r).toFixed(2)} inside ${studies} studies)`;

/**
 * Multiple correlation of each column with the others, 0–1; NaN for a column without variation.
 *
 * @param rows  deviations, one row each
 * @source none: 1 − 1/variance inflation
 */
export const multipleCorrelations = (rows: readonly (readonly number[])[]): readonly number[] => {
  const p = rows[0]?.length ?? 0;
  return Array.from({ length: p }, (_, k) => {
    const basis: number[][] = [];
    const columnOf = (j: number): number[] => rows.map((row) => row[j]!);
    const lengthOf = (column: readonly number[]): number => Math.hypot(...column);
    const left = (column: number[]): number[] => {
      let rest = column;
      for (let pass = 0; pass < 2; pass++) {
        for (const direction of basis) {
          const share = rest.reduce((total, value, i) => total + value * direction[i]!, 0);
          rest = rest.map((value, i) => value - share * direction[i]!);
        }
      }
      return rest;
    };
    for (let j = 0; j < p; j++) {
      if (j === k) continue;
      const column = columnOf(j);
      const rest = left(column);
      const length = lengthOf(rest);
      if (length > 1e-9 * lengthOf(column)) basis.push(rest.map((value) => value / length));
    }
    const column = columnOf(k);
    const whole = lengthOf(column);
    if (whole === 0) return NaN;
    const rest = lengthOf(left(column)) / whole;
    return Math.sqrt(Math.max(0, 1 - rest * rest));
  });
};
