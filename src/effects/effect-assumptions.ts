import { grouped } from "../records/grouped.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { LentSpread } from "./lent-spread.js";
import type { Assumption } from "./effect.js";
import type { CorrelationName } from "./covariance-blocks.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import type { ResolvedCorrelation } from "./pre-post-correlation.js";

/** What one effect's variance rests on. */
export type EffectGrounds = Readonly<{
  correlations: readonly ResolvedCorrelation[];
  lent: readonly LentSpread[];
  family: OutcomeRow["outcomeFamily"];
  betweenLimbs?: number;
}>;

const names: Readonly<Record<CorrelationName, string>> = {
  outcomesCorrelation: "correlation between two outcomes of the same people",
  anglesCorrelation: "correlation between two test angles of the same people",
  sitesCorrelation: "correlation between two measurement sites of the same people",
  timesCorrelation: "correlation between changes at two times of the same people",
  limbsCorrelation: "correlation between the changes of two limbs of the same people",
  periodsCorrelation: "correlation between the changes of the same people in two periods",
};

/**
 * Every number assumed rather than read, with its source and how many effects rest on it.
 *
 * @param grounds  what each effect's variance rests on
 * @param effectsResting  effects whose covariances rest on each assumed correlation
 * @param options  the assumed values
 * @returns one line per assumption, in a fixed order
 * @source none: bookkeeping
 */
export const effectAssumptions = (
  grounds: readonly EffectGrounds[],
  effectsResting: ReadonlyMap<CorrelationName, number>,
  options: ResolvedEffectsOptions,
): readonly Assumption[] => {
  const assumptions: Assumption[] = [];
  const resting = (source: ResolvedCorrelation["source"]): number =>
    grounds.filter(({ correlations }) => correlations.some((one) => one.source === source)).length;
  if (options.prePostCorrelation !== undefined) {
    assumptions.push({
      name: "pre–post correlation",
      value: options.prePostCorrelation,
      source: "set by the user in place of every other",
      effects: resting("set by the user"),
    });
  }
  assumptions.push(...borrowedAssumptions(grounds));
  assumptions.push(...defaultAssumptions(grounds, options));
  assumptions.push(...spreadAssumptions(grounds));
  const limbs = grounds.filter(({ betweenLimbs }) => betweenLimbs !== undefined).length;
  if (limbs > 0) {
    assumptions.push({
      name: "correlation between the changes of two arms made of the same people, within the contrast",
      value: grounds.find(({ betweenLimbs }) => betweenLimbs !== undefined)?.betweenLimbs ?? 0,
      source: "a default, not from your file; seldom printed, try 0 to 0.8",
      effects: limbs,
    });
    if (options.scale.startsWith("standardised")) {
      assumptions.push({
        name: "correlation between the two limbs' scores before training",
        value: options.limbsBaselineCorrelation,
        source: "a default, not from your file",
        effects: limbs,
      });
    }
  }
  for (const name of Object.keys(names) as CorrelationName[]) {
    const effects = effectsResting.get(name) ?? 0;
    if (effects === 0) continue;
    assumptions.push({
      name: names[name],
      value: options[name],
      source: "a default, not from your file; try others between effects of the same people",
      effects,
    });
  }
  return assumptions;
};

const defaultAssumptions = (
  grounds: readonly EffectGrounds[],
  options: ResolvedEffectsOptions,
): readonly Assumption[] => {
  const resting = (symptoms: boolean): number =>
    grounds.filter(
      (one) =>
        (one.family === "symptoms") === symptoms &&
        one.correlations.some(({ source }) => source === "documented default"),
    ).length;
  const lines: readonly Assumption[] = [
    {
      name: "pre–post correlation",
      value: options.defaultPrePostCorrelation,
      source:
        "a default, not from your file: just under the test–retest coefficients printed for strength (0.85 to 0.99), within the usual imputations of 0.5 to 0.9",
      effects: resting(false),
    },
    {
      name: "pre–post correlation of symptoms outcomes",
      value: options.defaultPrePostCorrelationOfSymptoms,
      source:
        "a default, not from your file: the lowest of the usual imputations of 0.5 to 0.9, as such scores wander by themselves",
      effects: resting(true),
    },
  ];
  return lines.filter(({ effects }) => effects > 0);
};

const spreadAssumptions = (grounds: readonly EffectGrounds[]): readonly Assumption[] =>
  [
    ...grouped(
      grounds.flatMap(({ lent }) => lent.slice(0, 1)),
      ({ of }) => of,
    ),
  ]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([of, lent]) => {
      const { coefficient, studies, low, high } = lent[0]!;
      return {
        name: `coefficient of variation of ${of}, lent to rows that print no spread`,
        value: coefficient,
        source: `averaged over ${studies} studies of the file that print a spread, as squares weighted by people (Nakagawa 2023); a further study would print ${low.toFixed(2)} to ${high.toFixed(2)} (10th to 90th percentile)`,
        effects: lent.length,
      };
    });

const borrowedAssumptions = (grounds: readonly EffectGrounds[]): readonly Assumption[] => {
  type Borrowed = NonNullable<ResolvedCorrelation["borrowed"]>;
  const nameOf = ({ family, arms }: Borrowed): string =>
    `pre–post correlation of ${family} outcomes${arms === "all arms" ? "" : `, ${arms}`}`;
  const groups = new Map<string, { values: number[]; effects: number; lent: Borrowed[] }>();
  for (const { correlations } of grounds) {
    const seen = new Set<string>();
    for (const { value, borrowed } of correlations) {
      if (borrowed === undefined) continue;
      const name = nameOf(borrowed);
      const group = groups.get(name) ?? { values: [], effects: 0, lent: [] };
      groups.set(name, group);
      group.values.push(value);
      group.lent.push(borrowed);
      if (!seen.has(name)) group.effects += 1;
      seen.add(name);
    }
  }
  return [...groups]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, { values, effects, lent }]) => {
      const low = Math.min(...values);
      const high = Math.max(...values);
      const most = Math.max(...lent.map(({ studies }) => studies));
      const together =
        lent[0]?.arms === "all arms"
          ? "trained and control arms together"
          : `their ${lent[0]?.arms} only`;
      const range =
        high - low < 0.005
          ? ""
          : `, ${low.toFixed(2)} to ${high.toFixed(2)} as each leaves its own study out`;
      return {
        name,
        value: values.reduce((sum, value) => sum + value, 0) / values.length,
        source: `borrowed from up to ${most} other studies of the file, ${together}, averaged on Fisher's z scale${range}`,
        effects,
      };
    });
};
