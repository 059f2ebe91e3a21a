import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { testModeOf } from "../records/test-mode.js";
import type { Loading } from "./arm-change.js";
import type { CovarianceBlock } from "./effect.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import { sameWords } from "./match-comparator.js";
import { positiveDefiniteCorrelations } from "./positive-definite-correlations.js";
import type { PeopleOf } from "./people-of-rows.js";

/** One effect as the covariances see it: its cluster, its variance, and how it follows each arm's chance. */
export type LoadedEffect = Readonly<{
  cluster: string;
  variance: number;
  loadings: readonly Readonly<{ row: OutcomeRow; loading: Loading }>[];
}>;

/** The assumed correlations, by what two measurements of the same people differ in. */
export type CorrelationName = keyof Pick<
  ResolvedEffectsOptions,
  | "outcomesCorrelation"
  | "anglesCorrelation"
  | "sitesCorrelation"
  | "timesCorrelation"
  | "limbsCorrelation"
  | "periodsCorrelation"
>;

export type BlocksWithStory = Readonly<{
  blocks: readonly CovarianceBlock[];
  /** How many effects' covariances rest on each assumed correlation. */
  effectsResting: ReadonlyMap<CorrelationName, number>;
  notes: readonly Note[];
}>;

/** A measurement of some people: who, and what about them, each part as a comparable word. */
type Measurement = Readonly<{
  people: string;
  parts: readonly Readonly<{ name: CorrelationName; word: string }>[];
}>;

const measurementOf = (row: OutcomeRow, peopleOf: PeopleOf): Measurement => {
  const people = peopleOf(row);
  const word = (...values: readonly (string | number | undefined)[]): string =>
    values.map(sameWords).join(" | ");
  const armName = row.design === "crossover" ? "periodsCorrelation" : "limbsCorrelation";
  return {
    people,
    parts: [
      {
        name: "outcomesCorrelation",
        word: word(row.outcome, row.method, row.unit, testModeOf(row)),
      },
      { name: "anglesCorrelation", word: word(row.testAngleDegrees) },
      { name: "sitesCorrelation", word: word(row.testSitePercent) },
      { name: "timesCorrelation", word: word(row.weekMeasured) },
      // Where limbs were allocated, the arm is the limb, and the side says it once more.
      {
        name: "limbsCorrelation",
        word: row.design === "within-person limbs" ? "" : (row.testSide ?? "trained"),
      },
      { name: armName, word: row.arm },
    ],
  };
};

/** Names of what two measurements of the same people differ in; none when they are one and the same row. */
const differences = (
  first: Readonly<{ row: OutcomeRow; measurement: Measurement }>,
  second: Readonly<{ row: OutcomeRow; measurement: Measurement }>,
): readonly CorrelationName[] => {
  if (first.row === second.row) return [];
  const names = first.measurement.parts
    .filter((part, index) => part.word !== second.measurement.parts[index]?.word)
    .map((part) => part.name);
  // Two rows alike in everything coded still are two measurements: taken as two outcomes.
  return names.length === 0 ? ["outcomesCorrelation"] : names;
};

/**
 * Sampling covariances between effects that share people: several outcomes, angles, sites or times of the
 * same arm, limbs or periods of the same people, or one control arm behind several effects.
 *
 * Each effect is a sum of its arms' chances (`loadings`). Two measurements of the same people correlate
 * as the product of one assumed correlation for each thing they differ in (a blank counts as a value of its
 * own); other people are independent.
 *
 *   cov(i, j) = Σ over arms a of i and b of j:  mᵢₐ·mⱼᵦ·ρ + sᵢₐ·sⱼᵦ·ρ²
 *   m, s = loading on means and on deviations;  ρ = 1 for one and the same row, 0 for different people
 *
 * A product of such correlations is positive semi-definite (Schur), and so are sums of loadings, so the
 * block is a covariance matrix by construction. For log ratios and raw differences a shared control gives
 * exactly the control's own variance; for standardised differences its first-order form 1/n₀ + g₁g₂·(n₀−1)/(2ν₁ν₂),
 * which is g₁g₂/(2N) when all arms share one pooled deviation. The correlations that follow are applied to the variances
 * of the stated formulas. Each block is tried by Cholesky; a singular one is drawn towards independence, with a note.
 *
 * @param effects  in the order of the effects
 * @param peopleOf  who stands behind each row
 * @param options  the assumed correlations
 * @returns blocks of two or more effects, how many effects rest on each assumption, notes
 * @source Gleser LJ, Olkin I (2009) in The Handbook of Research Synthesis, chapter 19 (shared controls);
 *   Lajeunesse MJ (2011) Ecology 92:2049–2055 (log ratios)
 */
export const covarianceBlocks = (
  effects: readonly LoadedEffect[],
  peopleOf: PeopleOf,
  options: ResolvedEffectsOptions,
): BlocksWithStory => {
  const clusters = new Map<string, number[]>();
  effects.forEach((effect, index) => {
    const members = clusters.get(effect.cluster);
    if (members === undefined) clusters.set(effect.cluster, [index]);
    else members.push(index);
  });
  const blocks: CovarianceBlock[] = [];
  const notes: Note[] = [];
  const resting = new Map<CorrelationName, Set<number>>();
  for (const [cluster, indices] of clusters) {
    if (indices.length < 2) continue;
    const members = indices.map((index) => effects[index] as LoadedEffect);
    const correlations = blockCorrelations(members, peopleOf, options, (name, i, j) => {
      const touched = resting.get(name) ?? new Set<number>();
      resting.set(name, touched);
      touched.add(indices[i] as number).add(indices[j] as number);
    });
    if (correlations === undefined) continue;
    const { values, kept } = positiveDefiniteCorrelations(correlations, members.length);
    if (kept < 1) {
      notes.push({
        code: "covariances-shrunk",
        message: `the effects of "${cluster}" repeat each other, so their correlations were drawn towards independence (${Math.round(kept * 100)}% kept) to keep the block usable`,
      });
    }
    const size = members.length;
    const deviations = members.map((member) => Math.sqrt(member.variance));
    blocks.push({
      cluster,
      indices,
      values: values.map((value, place) => {
        const [i, j] = [Math.floor(place / size), place % size];
        return i === j
          ? (members[i] as LoadedEffect).variance
          : value * ((deviations[i] as number) * (deviations[j] as number));
      }),
    });
  }
  const counts = [...resting].map(([name, touched]) => [name, touched.size] as const);
  return { blocks, effectsResting: new Map(counts), notes };
};

/** Correlations of one cluster, row-major; undefined when all are independent. */
const blockCorrelations = (
  members: readonly LoadedEffect[],
  peopleOf: PeopleOf,
  options: ResolvedEffectsOptions,
  rests: (name: CorrelationName, i: number, j: number) => void,
): readonly number[] | undefined => {
  const size = members.length;
  const arms = members.map((member) =>
    member.loadings.map((arm) => ({ ...arm, measurement: measurementOf(arm.row, peopleOf) })),
  );
  const covariance = (i: number, j: number): number => {
    let total = 0;
    for (const a of arms[i] ?? []) {
      for (const b of arms[j] ?? []) {
        if (a.measurement.people !== b.measurement.people) continue;
        const names = differences(a, b);
        const correlation = names.reduce((product, name) => product * options[name], 1);
        if (i !== j) names.forEach((name) => rests(name, i, j));
        total += a.loading.mean * b.loading.mean * correlation;
        total += a.loading.spread * b.loading.spread * correlation ** 2;
      }
    }
    return total;
  };
  const own = members.map((_, i) => covariance(i, i));
  const values = new Array<number>(size * size).fill(0);
  let dependent = false;
  for (let i = 0; i < size; i += 1) {
    values[i * size + i] = 1;
    for (let j = 0; j < i; j += 1) {
      const scale = Math.sqrt((own[i] as number) * (own[j] as number));
      const correlation = scale > 0 ? covariance(i, j) / scale : 0;
      if (correlation !== 0) dependent = true;
      values[i * size + j] = correlation;
      values[j * size + i] = correlation;
    }
  }
  return dependent ? values : undefined;
};
