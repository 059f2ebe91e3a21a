/**
 * What single trials compared: every two arms of one study that differ in something coded, with the gains as printed,
 * whether or not the rows have a weight. Longer than most for the rows that take part and the pairs they make.
 */
import { ofOneSexEach } from "../dose/dose-data.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import { measurementPlace } from "../effects/effect-name.js";
import { samplingCovarianceOf } from "../effects/sampling-covariance.js";
import { improvementSign } from "../effects/improvement-sign.js";
import { isTraining } from "../effects/match-comparator.js";
import { cohortOf } from "../effects/pre-post-correlation.js";
import { isScore, scalesOfRows } from "../effects/scale-of-row.js";
import { testDistanceDegrees, sameAngleWithinDegrees } from "../projection/goals.js";
import { placeOfRow, type DosePlace } from "../projection/support.js";
import { grouped } from "../records/grouped.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { symmetricInterval } from "../synthesis/inference.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import {
  allComparedVariables,
  alsoDiffer,
  comparedVariables,
  differ,
  followedBy,
  movement,
  notCoded,
  unknownIn,
  valueIn,
  variableLabel,
  type ComparedVariable,
} from "./compared-variables.js";
import { effectsOptionsOf, type EffectChoices } from "./effect-options.js";
import { chosenRows, effectsOf, type Evidence } from "./evidence.js";
import { headlineGroups, lastInTraining, type HeadlineGroup } from "./headline-selection.js";
import { heldAndMoved, movingKindOf, movingKinds } from "./moving-arms.js";
import { wantedNumbers } from "./row-fates.js";

export type ComparedArm = Readonly<{
  arm: string;
  /** Line of the file. */
  line: number;
  /** The dose as a number, or the place of a category in its order. */
  at: number;
  dose: string;
  /** As it is printed or follows from the printed means, an improvement positive; in `unit`. Null where neither. */
  gain: number | null;
  /** Of the gain, where the row has a weight. */
  interval: Interval | null;
  /** Whether the interval stands on a borrowed spread. */
  borrowed: boolean;
  /** What the row lacks for a weight; empty where it has one. */
  wanted: string;
  people: number | null;
  place: DosePlace;
}>;

/** Two arms of one study that differ in a variable, tested alike. */
export type TrialComparison = Readonly<{
  variable: ComparedVariable;
  /** The variable in words. */
  label: string;
  study: string;
  cohort: string;
  citation: string;
  doi?: string;
  /** Id and label of its kind of outcome, as other answers name it. */
  group: string;
  groupLabel: string;
  outcome: string;
  /** Angle, site and week of the test; empty where none is coded. */
  tested: string;
  muscleGroup?: string;
  /** "%", or the outcome's own unit. */
  unit: string;
  lower: ComparedArm;
  higher: ComparedArm;
  /** Gain of the higher dose minus that of the lower, and its interval where both have a weight. */
  difference: number | null;
  interval: Interval | null;
  /** Whether the arms are limbs or periods of the same people. */
  samePeople: boolean;
  /** The variable whose difference brings this one with it: at as many holds a longer hold is more tension time. */
  followsFrom?: ComparedVariable;
  /** In what else the two arms are coded as different. */
  alsoDiffer: readonly string[];
  /** What of intensity, hold length and number of holds is not coded for both. */
  unknown: readonly string[];
}>;

/** What a group is known by. */
export type ComparedGroup = Pick<HeadlineGroup, "id" | "label" | "family" | "testMode" | "outcome">;

export type TrialComparisons = Readonly<{
  groups: readonly ComparedGroup[];
  comparisons: readonly TrialComparison[];
}>;

/** A gain as the row prints it, or as its means give it; the better way up. */
const gainOf = (row: OutcomeRow): Readonly<{ raw: number; unit: string }> | undefined => {
  if (row.statisticOf === "difference from comparator") return undefined;
  const before = row.preMean ?? row.preMedian;
  const after = row.postMean ?? row.postMedian;
  const change =
    before !== undefined && after !== undefined ? after - before : (row.changeMean ?? undefined);
  if (isScore(row))
    return change === undefined ? undefined : { raw: change, unit: row.unit ?? "points" };
  if (change !== undefined && before !== undefined && before > 0)
    return { raw: (100 * change) / before, unit: "%" };
  if (row.changePercentMean !== undefined) return { raw: row.changePercentMean, unit: "%" };
  return change === undefined ? undefined : { raw: change, unit: row.unit ?? "" };
};

const testOf = (row: OutcomeRow): string =>
  JSON.stringify([
    row.outcome.trim().toLowerCase(),
    row.method,
    row.testAngleDegrees,
    row.testSitePercent,
    row.testSide ?? "trained",
  ]);

/** A row as the grouping of outcomes takes it; those without a weight stand in with numbers that nobody averages. */
export const asEffect = (row: OutcomeRow, set: EffectSet, scale: Effect["scale"]): Effect => ({
  effectId: String(row.line),
  study: row.study,
  cohort: cohortOf(row),
  arm: row.arm,
  scale,
  contrast: set.contrast,
  estimate: 0,
  variance: 1,
  route: "",
  correlationSource: "not needed",
  participants: row.nEnd ?? row.nStart ?? 0,
  row,
  notes: [],
});

/** Where and when a test was taken; the week only where it is not the end of training. */
const placeOf = ({ weekMeasured, ...row }: OutcomeRow): string =>
  measurementPlace({
    row: weekMeasured === undefined || weekMeasured === row.weeks ? row : { ...row, weekMeasured },
  });

const isNear = (row: OutcomeRow): boolean => {
  const distance = testDistanceDegrees(row);
  return distance === undefined || distance <= sameAngleWithinDegrees;
};

/** How a gain in the row's unit and way up follows from an effect's error; undefined where the scale is another. */
const errorPer = (effect: Effect, raw: number, unit: string): number | undefined =>
  unit === "%" && effect.scale.startsWith("log-ratio-of-means")
    ? 100 + raw
    : effect.scale === "raw-mean-difference" && unit !== "%"
      ? 1
      : undefined;

/** Rows, assumptions and coverage; scale and contrast are always those of gains in percent. */
export type ComparisonChoices = Omit<EffectChoices, "scale" | "contrast"> &
  Readonly<{ confidence: number }>;

const kept = new WeakMap<Evidence, Map<string, TrialComparisons>>();

/**
 * Every two arms of one study that differ in a variable and were tested alike, by outcome and variable.
 *
 * Each arm stands with its last test in training; of several test angles those within 5° of an angle that one of the
 * two trained at, or all where there is none. Gains are as printed, or 100·(after − before)/before of the printed means,
 * positive where better. Where both rows have a weight the difference d has the variance
 *
 *   (100 + g₁)²v₁ + (100 + g₂)²v₂ − 2(100 + g₁)(100 + g₂)c,
 *
 * v and c the variances and covariance of the two log ratios, g the changes in percent (of scores, their points: v₁ + v₂ − 2c).
 * Two arms that differ in nothing coded stand under "arms coded alike", in the file's order.
 *
 * @param options rows, assumptions and coverage; always changes within arms
 * @returns kept for the next asker of the same file and options
 * @source none: the delta method on 100·(eˣ − 1)
 */
export const trialComparisons = (
  evidence: Evidence,
  options: ComparisonChoices,
  variables: readonly ComparedVariable[] = comparedVariables,
): TrialComparisons => {
  const effectOptions = effectsOptionsOf({
    ...options,
    scale: "log-ratio-of-means",
    contrast: "change-within-arm",
    ...(variables.includes(movement) ? { armKinds: [...options.armKinds, ...movingKinds] } : {}),
  });
  const known = kept.get(evidence) ?? new Map<string, TrialComparisons>();
  kept.set(evidence, known);
  const key = JSON.stringify([effectOptions, options.confidence, variables]);
  const before = known.get(key);
  if (before !== undefined) return before;

  const set = effectsOf(evidence, effectOptions);
  const positionOf = new Map(set.effects.map(({ row }, position) => [row.line, position]));
  const covariance = samplingCovarianceOf(set);
  const all = chosenRows(evidence, options.where);
  const scaleOf = scalesOfRows(all, "log-ratio-of-means");
  const rows = all.filter(
    (row) =>
      isTraining(row) &&
      (movingKindOf(row) === undefined || variables.includes(movement)) &&
      row.testSide !== "untrained" &&
      row.weekMeasured !== 0,
  );
  const groups = headlineGroups({
    ...set,
    effects: rows.map((row) => asEffect(row, set, scaleOf(row))),
    blocks: [],
  });

  const armOf = (row: OutcomeRow, at: number, dose: string): ComparedArm => {
    const gain = gainOf(row);
    const sign = improvementSign(row, "log-ratio-of-means");
    const shown = gain === undefined ? null : sign * gain.raw + 0;
    const effect = set.effects[positionOf.get(row.line) ?? -1];
    const per =
      gain === undefined || effect === undefined
        ? undefined
        : errorPer(effect, gain.raw, gain.unit);
    return {
      arm: row.arm,
      line: row.line,
      at,
      dose,
      gain: shown,
      interval:
        shown === null || per === undefined
          ? null
          : symmetricInterval(
              shown,
              per * Math.sqrt(effect!.variance),
              Infinity,
              options.confidence,
            ),
      borrowed: effect?.borrowed !== undefined,
      wanted: effect === undefined ? wantedNumbers(row, gain?.unit === "%") : "",
      people: row.nEnd ?? row.nStart ?? null,
      place: placeOfRow(row),
    };
  };

  const intervalOf = (
    difference: number,
    lower: OutcomeRow,
    higher: OutcomeRow,
  ): Interval | null => {
    const [a, b] = [lower, higher].map((row) => positionOf.get(row.line));
    const [one, other] = [gainOf(lower), gainOf(higher)];
    if (a === undefined || b === undefined || one === undefined || other === undefined) return null;
    const p = errorPer(set.effects[a]!, one.raw, one.unit);
    const q = errorPer(set.effects[b]!, other.raw, other.unit);
    if (p === undefined || q === undefined) return null;
    const variance =
      p ** 2 * set.effects[a]!.variance +
      q ** 2 * set.effects[b]!.variance -
      2 * p * q * covariance(a, b);
    return symmetricInterval(
      difference,
      Math.sqrt(Math.max(0, variance)),
      Infinity,
      options.confidence,
    );
  };

  const comparisonOf = (
    name: ComparedVariable,
    pair: readonly [OutcomeRow, OutcomeRow],
    { id, label }: ComparedGroup,
  ): TrialComparison | undefined => {
    const values = pair.map((row) => valueIn(row, name));
    if (name !== notCoded && !differ(...pair, name)) return undefined;
    const turned = name !== notCoded && values[0]!.at > values[1]!.at;
    const [low, high] = turned ? [pair[1], pair[0]] : pair;
    const side = (row: OutcomeRow): ComparedArm => {
      const value = valueIn(row, name);
      return armOf(row, value?.at ?? 0, value?.written ?? row.arm);
    };
    const [lower, higher] = [side(low), side(high)];
    const [one, other] = [gainOf(low), gainOf(high)];
    const alike = one?.unit === other?.unit;
    const difference =
      lower.gain === null || higher.gain === null || !alike ? null : higher.gain - lower.gain;
    const { study, citation = study, doi, muscleGroup } = high;
    return {
      variable: name,
      label: variableLabel(name),
      study,
      cohort: cohortOf(high),
      citation,
      ...(doi === undefined ? {} : { doi }),
      group: id,
      groupLabel: label,
      outcome: high.outcome,
      tested: placeOf(high),
      ...(muscleGroup === undefined ? {} : { muscleGroup }),
      unit: one?.unit ?? other?.unit ?? "",
      lower,
      higher,
      difference,
      interval: difference === null ? null : intervalOf(difference, low, high),
      samePeople: high.design === "within-person limbs" || high.design === "crossover",
      ...followedBy(low, high, name),
      alsoDiffer: alsoDiffer(low, high, name),
      unknown: unknownIn(low, high, name),
    };
  };

  const comparisons = groups.flatMap((group) => {
    const last = lastInTraining(group.all.effects, ({ cohort, row }) =>
      JSON.stringify([cohort, row.arm, testOf(row)]),
    ).map(({ row }) => row);
    const pairs = [...grouped(last, (row) => JSON.stringify([cohortOf(row), testOf(row)])).values()]
      .flatMap((own) =>
        own.flatMap((first, place) =>
          own.slice(place + 1).map((second): readonly [OutcomeRow, OutcomeRow] => [first, second]),
        ),
      )
      .filter((pair) => pair.every((row) => movingKindOf(row) === undefined))
      .concat(variables.includes(movement) ? heldAndMoved(last) : [])
      .filter(([first, second]) => first.arm !== second.arm && !ofOneSexEach(first, second));
    const chosen = [
      ...grouped(pairs, ([first, second]) =>
        JSON.stringify([cohortOf(first), first.arm, second.arm, first.outcome]),
      ).values(),
    ].flatMap((own) => {
      const near = own.filter((pair) => pair.some(isNear));
      return near.length > 0 ? near : own;
    });
    return variables.flatMap((name) =>
      chosen.flatMap((pair) =>
        name === notCoded &&
        (pair.some((row) => movingKindOf(row) !== undefined) ||
          allComparedVariables.some((other) => other !== notCoded && differ(...pair, other)))
          ? []
          : (comparisonOf(name, pair, group) ?? []),
      ),
    );
  });
  const made: TrialComparisons = {
    groups: groups.map(({ id, label, family, testMode, outcome }) => ({
      id,
      label,
      family,
      testMode,
      ...(outcome === undefined ? {} : { outcome }),
    })),
    comparisons,
  };
  known.set(key, made);
  return made;
};
