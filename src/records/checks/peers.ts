/** What rows are compared with: the other studies of a file, and the other rows of their own trial. */
import { median } from "simple-statistics";
import type { OutcomeRow } from "../outcome-row.js";
import { grouped } from "../grouped.js";

/** The other studies' median of something, and how many they are. */
export type Peers = Readonly<{ median: number; studies: number }>;

/** Fewest other studies that make a family of peers. */
const peersNeeded = 3;

/**
 * For each study, the median over the other studies; undefined where fewer than three others have a value.
 *
 * One study, one voice: its own median, so that a paper with forty rows does not outvote the others.
 */
export const medianOfOthers = (
  values: readonly Readonly<{ study: string; value: number }>[],
): ((study: string) => Peers | undefined) => {
  const voices = new Map(
    [...grouped(values, ({ study }) => study)].map(([study, own]) => [
      study,
      median(own.map(({ value }) => value)),
    ]),
  );
  const sorted = [...voices.values()].sort((a, b) => a - b);
  const rank = new Map(sorted.map((voice, place) => [voice, place]));
  const known = new Map<string, Peers | undefined>();
  const peersOf = (study: string): Peers | undefined => {
    const voice = voices.get(study);
    const left = voice === undefined ? sorted.length : (rank.get(voice) ?? 0);
    const studies = sorted.length - (voice === undefined ? 0 : 1);
    if (studies < peersNeeded) return undefined;
    const at = (place: number) => sorted[place < left ? place : place + 1] ?? 0;
    const middle = (studies - 1) >> 1;
    return {
      studies,
      median: studies % 2 === 1 ? at(middle) : (at(middle) + at(middle + 1)) / 2,
    };
  };
  return (study) => {
    if (!known.has(study)) known.set(study, peersOf(study));
    return known.get(study);
  };
};

/** What is measured and how, whatever the arm and the week: baselines of one such key are comparable in a trial. */
export const measurementKey = (row: OutcomeRow): string =>
  [
    row.study,
    row.outcome,
    row.method,
    row.unit,
    row.testMode,
    row.testAngleDegrees,
    row.testSitePercent,
    row.testSide,
    row.muscleGroup,
    row.femalePercent,
    row.condition,
    row.trainingStatus,
  ].join("\u0000");

/** Whether the arm trained the limb that the row tests. */
export const isTrained = (row: OutcomeRow): boolean =>
  row.armKind !== undefined && row.armKind !== "no exercise" && row.testSide !== "untrained";

/** How far two positive numbers are apart, as the log of their ratio. */
export const distance = (one: number, other: number): number => Math.abs(Math.log(one / other));

/** A number as a sentence shows it. */
export const shown = (value: number): string => String(Number(value.toPrecision(3)));
