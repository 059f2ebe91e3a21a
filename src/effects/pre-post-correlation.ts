import type { ArmReading } from "./arm-reading.js";
import type { CorrelationSource } from "./effect.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import type { StudyCorrelations } from "./pooled-correlation.js";
import { pooledCorrelation } from "./pooled-correlation.js";

/** A pre–post correlation with where it came from. */
export type ResolvedCorrelation = Readonly<{
  value: number;
  source: CorrelationSource;
  /** Family and number of lending studies, for a borrowed one. */
  borrowed?: Readonly<{ family: string; studies: number }>;
}>;

/** People in two papers share a cohort; a study is its own where none is coded. */
export const cohortOf = (row: Readonly<{ study: string; cohort?: string }>): string =>
  row.cohort ?? row.study;

/**
 * A function that gives each reading its pre–post correlation, the first that applies of: the user's,
 * the source's own (stated, then computed from its deviations), one borrowed from the file's other
 * studies of the same outcome family, the documented default.
 *
 * Borrowing needs at least `studiesNeededToBorrow` other cohorts, because one study's chance value
 * is a worse guess than the default. The row's own cohort never lends to itself.
 *
 * @param readings  every reading of the file
 * @param options  resolved options
 * @returns reading to correlation and source
 * @source Cochrane Handbook for Systematic Reviews of Interventions, chapter 6 (borrowing a
 *   correlation); Fisher RA (1921) Metron 1:3–32 (the scale it is averaged on)
 */
export const correlationResolver = (
  readings: readonly ArmReading[],
  options: Pick<
    ResolvedEffectsOptions,
    "prePostCorrelation" | "defaultPrePostCorrelation" | "studiesNeededToBorrow"
  >,
): ((reading: ArmReading) => ResolvedCorrelation) => {
  const lenders = lendersByFamily(readings);
  const borrowed = new Map<string, ResolvedCorrelation | undefined>();
  const borrow = (family: string, cohort: string): ResolvedCorrelation | undefined => {
    const key = JSON.stringify([family, cohort]);
    if (borrowed.has(key)) return borrowed.get(key);
    const others = [...(lenders.get(family) ?? [])].filter((one) => one.study !== cohort);
    const pooled = pooledCorrelation(others);
    const found: ResolvedCorrelation | undefined =
      pooled === undefined || pooled.studies < options.studiesNeededToBorrow
        ? undefined
        : {
            value: pooled.correlation,
            source: "borrowed from like studies in the file",
            borrowed: { family, studies: pooled.studies },
          };
    borrowed.set(key, found);
    return found;
  };
  return (reading) => {
    if (options.prePostCorrelation !== undefined) {
      return { value: options.prePostCorrelation, source: "set by the user" };
    }
    if (reading.correlation !== undefined) return reading.correlation;
    const { row } = reading;
    const lent =
      row.outcomeFamily === undefined ? undefined : borrow(row.outcomeFamily, cohortOf(row));
    return lent ?? { value: options.defaultPrePostCorrelation, source: "documented default" };
  };
};

const lendersByFamily = (
  readings: readonly ArmReading[],
): ReadonlyMap<string, readonly StudyCorrelations[]> => {
  type Lender = { study: string; correlations: StudyCorrelations["correlations"][number][] };
  const families = new Map<string, Map<string, Lender>>();
  for (const { row, correlation, participants } of readings) {
    if (correlation === undefined || row.outcomeFamily === undefined) continue;
    const family = families.get(row.outcomeFamily) ?? new Map<string, Lender>();
    families.set(row.outcomeFamily, family);
    const study = cohortOf(row);
    const lender = family.get(study) ?? { study, correlations: [] };
    family.set(study, lender);
    lender.correlations.push({ arm: row.arm, value: correlation.value, participants });
  }
  return new Map(
    [...families].map(([family, members]) => [
      family,
      // In the order of their ids, so that the order of the rows cannot change the last digit.
      [...members.values()]
        .sort((a, b) => (a.study < b.study ? -1 : 1))
        .map((lender) => ({
          ...lender,
          correlations: [...lender.correlations].sort(
            (a, b) => a.value - b.value || a.participants - b.participants,
          ),
        })),
    ]),
  );
};
