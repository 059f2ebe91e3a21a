import type { OutcomeRow } from "../records/outcome-row.js";
import type { ArmReading } from "./arm-reading.js";
import type { CorrelationSource } from "./effect.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import { isTraining } from "./match-comparator.js";

/** A pre–post correlation with where it came from. */
export type ResolvedCorrelation = Readonly<{
  value: number;
  source: CorrelationSource;
  /** Family, kind of arms and number of lending studies, for a borrowed one. */
  borrowed?: Readonly<{ family: string; arms: LendingArms; studies: number }>;
}>;

/** Arms that lend: those that trained, those that did not, or both together. */
export type LendingArms = "trained arms" | "control arms" | "all arms";

/**
 * People in two papers share a cohort; a study is its own where none is coded.
 *
 * @source none: convention of this project
 */
export const cohortOf = (row: Readonly<{ study: string; cohort?: string }>): string =>
  row.cohort ?? row.study;

/**
 * A function that gives each reading its pre–post correlation, the first that applies of: the user's,
 * the source's own (stated, then computed from its deviations), one borrowed from the file's other
 * studies of the same outcome family, the documented default.
 *
 * Trained arms and controls borrow apart where each kind has `studiesNeededToBorrowApart` other cohorts that lend,
 * else from both together: people who do not train repeat themselves more closely. Either needs at least
 * `studiesNeededToBorrow` other cohorts, because one study's chance value is a worse guess than the default. The
 * row's own cohort never lends to itself.
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
    | "prePostCorrelation"
    | "defaultPrePostCorrelation"
    | "defaultPrePostCorrelationOfSymptoms"
    | "studiesNeededToBorrow"
    | "studiesNeededToBorrowApart"
  >,
): ((reading: ArmReading) => ResolvedCorrelation) => {
  const lenders = lendersOfReadings(readings);
  const lent = (
    family: string,
    arms: LendingArms,
    cohort: string,
  ): Readonly<{ value: number; studies: number }> => {
    const lender = lenders.get(lenderKey(family, arms));
    if (lender === undefined) return { value: 0, studies: 0 };
    // Everybody's sum less the row's own cohort: the cost does not grow with the number of studies.
    const own = lender.voices.get(cohort);
    const weight = lender.weight - (own?.weight ?? 0);
    const weighted = lender.weighted - (own === undefined ? 0 : own.z * own.weight);
    const studies = lender.voices.size - (own === undefined ? 0 : 1);
    return { value: Math.tanh(weighted / weight), studies };
  };
  const borrow = (family: string, row: OutcomeRow): ResolvedCorrelation | undefined => {
    const cohort = cohortOf(row);
    const apart = (["trained arms", "control arms"] as const).every(
      (arms) => lent(family, arms, cohort).studies >= options.studiesNeededToBorrowApart,
    );
    const arms = apart ? armsOf(row) : "all arms";
    const { value, studies } = lent(family, arms, cohort);
    return studies < options.studiesNeededToBorrow
      ? undefined
      : {
          value,
          source: "borrowed from like studies in the file",
          borrowed: { family, arms, studies },
        };
  };
  return (reading) => {
    if (options.prePostCorrelation !== undefined) {
      return { value: options.prePostCorrelation, source: "set by the user" };
    }
    if (reading.correlation !== undefined) return reading.correlation;
    const { row } = reading;
    const borrowed = row.outcomeFamily === undefined ? undefined : borrow(row.outcomeFamily, row);
    if (borrowed !== undefined) return borrowed;
    return row.outcomeFamily === "symptoms"
      ? { value: options.defaultPrePostCorrelationOfSymptoms, source: "documented default" }
      : { value: options.defaultPrePostCorrelation, source: "documented default" };
  };
};

type PrintedCorrelation = Readonly<{ arm: string; value: number; participants: number }>;

/** A study's say: its average on Fisher's z scale and its weight; undefined when nothing of it is usable. */
type StudyVoice = Readonly<{ z: number; weight: number }>;

/**
 * What one study says: its correlations averaged on Fisher's z scale, once however many outcomes it prints, because the
 * people are the same; correlations of ±1 and beyond, or from three people or fewer, are left out.
 *
 *   z = artanh r      weight = Σ over the study's arms of (n − 3)
 */
const studyVoice = (printed: readonly PrintedCorrelation[]): StudyVoice | undefined => {
  const usable = printed.filter(
    ({ value, participants }) => Math.abs(value) < 1 && participants > 3,
  );
  if (usable.length === 0) return undefined;
  const armWeights = new Map<string, number>();
  let inside = 0;
  let insideWeight = 0;
  for (const { arm, value, participants } of usable) {
    const weight = participants - 3;
    inside += weight * Math.atanh(value);
    insideWeight += weight;
    armWeights.set(arm, Math.max(weight, armWeights.get(arm) ?? 0));
  }
  const weight = [...armWeights.values()].reduce((sum, one) => sum + one, 0);
  return { z: inside / insideWeight, weight };
};

type Lenders = Readonly<{
  voices: ReadonlyMap<string, StudyVoice>;
  weighted: number;
  weight: number;
}>;

const lenderKey = (family: string, arms: LendingArms): string => `${family}, ${arms}`;

/** The untrained side of a trained arm repeats itself as a control does. */
const armsOf = (row: OutcomeRow): LendingArms =>
  isTraining(row) && row.testSide !== "untrained" ? "trained arms" : "control arms";

const lendersOfReadings = (readings: readonly ArmReading[]): ReadonlyMap<string, Lenders> => {
  const lenders = new Map<string, Map<string, PrintedCorrelation[]>>();
  for (const { row, correlation, participants } of readings) {
    if (correlation === undefined || row.outcomeFamily === undefined) continue;
    for (const arms of ["all arms", armsOf(row)] as const) {
      const key = lenderKey(row.outcomeFamily, arms);
      const cohorts = lenders.get(key) ?? new Map<string, []>();
      lenders.set(key, cohorts);
      const correlations = cohorts.get(cohortOf(row)) ?? [];
      cohorts.set(cohortOf(row), correlations);
      correlations.push({ arm: row.arm, value: correlation.value, participants });
    }
  }
  return new Map([...lenders].map(([key, cohorts]) => [key, lendersOf(cohorts)]));
};

const lendersOf = (cohorts: ReadonlyMap<string, readonly PrintedCorrelation[]>): Lenders => {
  // In the order of ids and values, so that the order of the rows cannot change the last digit.
  const voices = new Map<string, StudyVoice>();
  for (const study of [...cohorts.keys()].sort()) {
    const correlations = [...(cohorts.get(study) ?? [])].sort(
      (a, b) => a.value - b.value || a.participants - b.participants,
    );
    const voice = studyVoice(correlations);
    if (voice !== undefined) voices.set(study, voice);
  }
  let weighted = 0;
  let weight = 0;
  for (const voice of voices.values()) {
    weighted += voice.z * voice.weight;
    weight += voice.weight;
  }
  return { voices, weighted, weight };
};
