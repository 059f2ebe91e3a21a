import type { EffectSet } from "../effects/effect.js";
import { doseAxes, doseOf, type DoseAxis, type DoseAxisName } from "./dose-axes.js";

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
  /** Between arms of the same study; undefined where one of the two varies in fewer than three studies. */
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

/** The arms of a set whose doses on all axes are known, each combination of doses once. */
export const armDosesOf = (set: EffectSet, axes: readonly DoseAxis[]): readonly ArmDoses[] => {
  const arms = new Map<string, ArmDoses>();
  for (const { cohort, arm, row } of set.effects) {
    const values = axes.map((axis) => doseOf(row, axis.name)?.value);
    if (values.some((value) => value === undefined)) continue;
    arms.set(`${cohort}\u0000${arm}\u0000${values.join(" ")}`, {
      study: cohort,
      values: values as readonly number[],
    });
  }
  return [...arms.values()];
};

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
): readonly CollinearPair[] =>
  names.flatMap((name, i) =>
    names.slice(i + 1).map((other) => pairOf(set, doseAxes[name], doseAxes[other])),
  );

const pairOf = (set: EffectSet, first: DoseAxis, second: DoseAxis): CollinearPair => {
  const studies = splitArms(armDosesOf(set, [first, second]));
  const varied = studies.filter(({ deviations }) =>
    deviations.some(([a, b]) => Math.abs(a!) > 1e-12 || Math.abs(b!) > 1e-12),
  );
  const inside = varied.flatMap(({ deviations }) => deviations.map(([a, b]) => [a!, b!] as const));
  const means = studies.map(({ means: [a, b] }) => [a!, b!] as const);
  const varying = (k: 0 | 1): number =>
    studies.filter(({ deviations }) => deviations.some((list) => Math.abs(list[k]!) > 1e-12))
      .length;
  // A dose that varies in one or two studies has a correlation near nothing that says nothing.
  const within =
    Math.min(varying(0), varying(1)) < fewestStudies
      ? undefined
      : kept(correlation(inside, false), varied.length, inside.length);
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
