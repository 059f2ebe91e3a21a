import type { Interval } from "../synthesis/synthesis-results.js";
import type { SynthesisEffect } from "../synthesis/synthesis-input.js";

/** Doses every stretch of which lies between two arms of one study. */
export type LinkedDoses = Interval &
  Readonly<{
    studies: number;
    /** Whether one study compared the lowest with the highest. */
    endsCompared: boolean;
  }>;

/** What a set of doses could tell, before any model. */
export type DoseSupport = Readonly<{
  effects: number;
  studies: number;
  arms: number;
  lowest: number;
  highest: number;
  /** Distinct doses, ascending, with the arms and studies at each. */
  doses: readonly Readonly<{ dose: number; arms: number; studies: number }>[];
  /** Studies that have arms at more than one dose. */
  studiesWithin: number;
  /** Distinct doses met inside those studies. */
  dosesWithin: number;
  /** Lowest and highest dose inside those studies; undefined when there are none. */
  rangeWithin?: Interval | undefined;
  /** The chain of doses that the most studies link, the longest of such; undefined when no study compares doses. */
  linked?: LinkedDoses | undefined;
  /** Most distinct doses in one study. */
  mostDosesInAStudy: number;
  /** Distinct study means. */
  distinctMeans: number;
  /** Studies with an arm at another dose than the commonest. */
  studiesOffCommonest: number;
  /** The commonest dose and the share of arms that have it. */
  commonest?: Readonly<{ dose: number; arms: number; share: number }> | undefined;
}>;

/**
 * How doses are spread over arms and studies.
 *
 * @param effects  one per dose; arm ids unique over the file
 * @source none: counting
 */
export const doseSupport = (
  effects: readonly SynthesisEffect[],
  doses: ArrayLike<number>,
): DoseSupport => {
  const byDose = new Map<number, { arms: Set<string>; studies: Set<string> }>();
  const byStudy = new Map<string, Map<string, number>>();
  const arms = new Set<string>();
  effects.forEach((effect, row) => {
    const dose = doses[row]!;
    const arm = effect.arm ?? `unnamed arm of ${effect.study}`;
    arms.add(`${arm}\u0000${dose}`);
    const place = byDose.get(dose) ?? { arms: new Set(), studies: new Set() };
    place.arms.add(arm);
    place.studies.add(effect.study);
    byDose.set(dose, place);
    const study = byStudy.get(effect.study) ?? new Map<string, number>();
    study.set(`${arm}\u0000${dose}`, dose);
    byStudy.set(effect.study, study);
  });
  const list = [...byDose]
    .map(([dose, place]) => ({ dose, arms: place.arms.size, studies: place.studies.size }))
    .sort((a, b) => a.dose - b.dose);
  const within = new Set<number>();
  const compared: Interval[] = [];
  let studiesWithin = 0;
  let mostDosesInAStudy = 0;
  const means = new Set<string>();
  for (const study of byStudy.values()) {
    const distinct = new Set(study.values());
    mostDosesInAStudy = Math.max(mostDosesInAStudy, distinct.size);
    let total = 0;
    for (const dose of study.values()) total += dose;
    means.add((total / study.size).toPrecision(10));
    if (distinct.size < 2) continue;
    studiesWithin += 1;
    for (const dose of distinct) within.add(dose);
    compared.push({ low: Math.min(...distinct), high: Math.max(...distinct) });
  }
  const inside = [...within].sort((a, b) => a - b);
  const top = list.reduce<(typeof list)[number] | undefined>(
    (best, place) => (best === undefined || place.arms > best.arms ? place : best),
    undefined,
  );
  return {
    effects: effects.length,
    studies: byStudy.size,
    arms: arms.size,
    lowest: list[0]?.dose ?? 0,
    highest: list.at(-1)?.dose ?? 0,
    doses: list,
    studiesWithin,
    dosesWithin: inside.length,
    rangeWithin: inside.length < 2 ? undefined : { low: inside[0]!, high: inside.at(-1)! },
    linked: longestChain(compared),
    mostDosesInAStudy,
    distinctMeans: means.size,
    studiesOffCommonest: [...byStudy.values()].filter((study) =>
      [...study.values()].some((dose) => dose !== top?.dose),
    ).length,
    commonest:
      top === undefined
        ? undefined
        : { dose: top.dose, arms: top.arms, share: top.arms / arms.size },
  };
};

/** Stretches that overlap or touch joined to chains; the one of the most studies, the longest of such. */
const longestChain = (compared: readonly Interval[]): LinkedDoses | undefined => {
  const chains: (Omit<LinkedDoses, "endsCompared"> & { high: number; studies: number })[] = [];
  for (const { low, high } of [...compared].sort((a, b) => a.low - b.low)) {
    const last = chains.at(-1);
    if (last === undefined || low > last.high) chains.push({ low, high, studies: 1 });
    else {
      last.high = Math.max(last.high, high);
      last.studies += 1;
    }
  }
  const [best] = chains.sort((a, b) => b.studies - a.studies || b.high - b.low - (a.high - a.low));
  return (
    best && {
      ...best,
      endsCompared: compared.some(({ low, high }) => low === best.low && high === best.high),
    }
  );
};
