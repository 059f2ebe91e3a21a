/** The order in which a working-up changes things, and the steps of each. Longer than most: steps and their values
 * are read together. */
import { nearMaximalAbovePercent } from "../protocol/derived-quantities.js";
import type { RampLevel, RampRule } from "./ramp-start.js";

const rounding = 1e-9;

/** Even values, as a coach would write them, from above `start` to `goal`, on the coarsest grain that keeps every step in bounds. */
export const evenValues = (
  start: number,
  goal: number,
  steps: number,
  largest: number,
  grains: readonly number[],
): readonly number[] => {
  const even = Array.from({ length: steps }, (_, index) =>
    index === steps - 1 ? goal : start + ((goal - start) * (index + 1)) / steps,
  );
  for (const grain of grains) {
    const rounded = even.map((value, index) =>
      index === steps - 1 ? goal : Number((Math.round(value / grain) * grain).toFixed(6)),
    );
    const sound = rounded.every((value, index) => {
      const step = value - (index === 0 ? start : (rounded[index - 1] ?? start));
      return step > rounding && step <= largest + rounding;
    });
    if (sound) return rounded;
  }
  return even;
};

/** What can change from one week to the next: exactly one of these, or nothing. */
export const rampVariables = [
  "sets",
  "repetitions",
  "hold length",
  "sessions a week",
  "intensity",
  "muscle length",
  "intent",
] as const;
export type RampVariable = (typeof rampVariables)[number];

/** One stretch of the way: a variable, and its levels after each step. */
type Stretch = Readonly<{
  variable: RampVariable;
  /** Fewest steps that keep each within its largest, and most that are still worth taking. */
  fewest: number;
  most: number;
  /** Size of an even step as a share of the largest, by the number of steps. */
  strain: (steps: number) => number;
  levels: (steps: number, before: RampLevel) => readonly RampLevel[];
}>;

/** A level on the way, and what was changed to come to it; the first has no change. */
export type RampStage = Readonly<{ level: RampLevel; changed?: RampVariable }>;

/** Smallest steps worth a week: 5 points of effort; a tenth of the holds, or of their length. */
const smallestEffortStepPercent = 5;
const smallestVolumeStepShare = 0.1;
/** Steps are rounded to the first of these that keeps them apart and within the largest. */
const effortGrains = [5, 1, 0.5];
const holdGrains = [5, 1, 0.5];

const stretch = (
  variable: RampVariable,
  start: number,
  goal: number,
  steps: Readonly<{ largest: number; smallest: number; grains: readonly number[] }>,
  change: (value: number) => Partial<RampLevel>,
): readonly Stretch[] => {
  const way = goal - start;
  if (!(way > rounding)) return [];
  const fewest = Math.max(1, Math.ceil(way / steps.largest - rounding));
  return [
    {
      variable,
      fewest,
      most: Math.max(fewest, Math.floor(way / steps.smallest + rounding)),
      strain: (count) => way / count / steps.largest,
      levels: (count, before) =>
        evenValues(start, goal, count, steps.largest, steps.grains).map((value) => ({
          ...before,
          ...change(value),
        })),
    },
  ];
};

const switchOver = (
  variable: RampVariable,
  needed: boolean,
  change: Partial<RampLevel>,
): readonly Stretch[] =>
  needed
    ? [
        {
          variable,
          fewest: 1,
          most: 1,
          strain: () => 0,
          levels: (_count, before) => [{ ...before, ...change }],
        },
      ]
    : [];

/**
 * The stretches from the first week to the target, in the order that is common practice (no source):
 * more holds, longer holds, more sessions, more effort, then another muscle length, then the effort
 * above what that length was begun at, then near-maximal effort, then a fast intent or failure.
 */
const stretchesOf = (start: RampLevel, goal: RampLevel, rule: RampRule): readonly Stretch[] => {
  const share = rule.largestVolumeStepShare;
  const counts = (target: number) => ({
    largest: Math.max(1, Math.floor(target * share)),
    smallest: Math.max(1, Math.floor(target * smallestVolumeStepShare)),
    grains: [1],
  });
  const effort = (from: number, to: number): readonly Stretch[] =>
    stretch(
      "intensity",
      from,
      to,
      {
        largest: rule.largestEffortStepPercent,
        smallest: smallestEffortStepPercent,
        grains: effortGrains,
      },
      (effortPercent) => ({ effortPercent }),
    );
  const changesLength = !start.atTargetLength;
  const belowMaximal = Math.min(goal.effortPercent, nearMaximalAbovePercent);
  const beforeLength = changesLength
    ? Math.max(start.effortPercent, Math.min(belowMaximal, rule.effortBeforeLengthPercent))
    : belowMaximal;
  return [
    ...stretch("sets", start.sets, goal.sets, counts(goal.sets), (sets) => ({ sets })),
    ...stretch(
      "repetitions",
      start.repetitions,
      goal.repetitions,
      counts(goal.repetitions),
      (n) => ({
        repetitions: n,
      }),
    ),
    ...stretch(
      "hold length",
      start.holdSeconds,
      goal.holdSeconds,
      {
        largest: Math.max(1, goal.holdSeconds * share),
        smallest: Math.max(1, goal.holdSeconds * smallestVolumeStepShare),
        grains: holdGrains,
      },
      (holdSeconds) => ({ holdSeconds }),
    ),
    ...stretch(
      "sessions a week",
      start.sessionsPerWeek ?? 0,
      goal.sessionsPerWeek ?? 0,
      { largest: 1, smallest: 1, grains: [1, 0.5] },
      (sessionsPerWeek) => ({ sessionsPerWeek }),
    ),
    ...effort(start.effortPercent, beforeLength),
    ...switchOver("muscle length", changesLength, { atTargetLength: true }),
    ...effort(beforeLength, belowMaximal),
    ...effort(Math.max(belowMaximal, beforeLength), goal.effortPercent),
    ...switchOver("intent", !start.withTargetIntent, { withTargetIntent: true }),
  ];
};

const stagesOf = (
  start: RampLevel,
  stretches: readonly Stretch[],
  counts: readonly number[],
): readonly RampStage[] => {
  const stages: RampStage[] = [{ level: start }];
  stretches.forEach((each, index) => {
    const before = stages.at(-1)?.level ?? start;
    for (const level of each.levels(counts[index] ?? each.fewest, before))
      stages.push({ level, changed: each.variable });
  });
  return stages;
};

export type RampSchedule = Readonly<{
  /** The fewest weeks in which one thing at a time, in steps no larger than the rule's, arrives. */
  shortestWeeks: number;
  /** The stages of that fewest number of weeks. */
  shortest: readonly RampStage[];
  /** A stage for each week, or undefined when the weeks are too few; a repeated stage is a steady week. */
  weekly: readonly RampStage[] | undefined;
}>;

/**
 * A stage for each week. Weeks beyond the fewest first go, where another muscle length is not the end of
 * the way, to a second week at it; then they make the largest steps smaller; what is left over
 * lets stages last longer, from the first on.
 */
export const rampSchedule = (
  start: RampLevel,
  goal: RampLevel,
  rule: RampRule,
  weeks: number,
): RampSchedule => {
  const stretches = stretchesOf(start, goal, rule);
  const counts = stretches.map(({ fewest }) => fewest);
  const shortest = stagesOf(start, stretches, counts);
  const shortestWeeks = shortest.length;
  if (weeks < shortestWeeks) return { shortestWeeks, shortest, weekly: undefined };

  let spare = weeks - shortestWeeks;
  const settles =
    spare > 0 && stretches.slice(0, -1).some(({ variable }) => variable === "muscle length");
  if (settles) spare -= 1;
  for (; spare > 0; spare -= 1) {
    let widest = -1;
    stretches.forEach((each, index) => {
      const count = counts[index] ?? each.fewest;
      if (count >= each.most) return;
      const other = stretches[widest];
      if (other === undefined || each.strain(count) > other.strain(counts[widest] ?? 1) + rounding)
        widest = index;
    });
    if (widest === -1) break;
    counts[widest] = (counts[widest] ?? 1) + 1;
  }
  const stages = stagesOf(start, stretches, counts);
  const each = Math.floor(spare / stages.length);
  const first = spare % stages.length;
  const weekly = stages.flatMap((stage, index): readonly RampStage[] => {
    const extra =
      each + (index < first ? 1 : 0) + (settles && stage.changed === "muscle length" ? 1 : 0);
    return [stage, ...Array.from({ length: extra }, () => ({ level: stage.level }))];
  });
  return { shortestWeeks, shortest, weekly };
};
