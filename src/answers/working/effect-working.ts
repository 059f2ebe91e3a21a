import { armReading, type ArmReading } from "../../effects/arm-reading.js";
import type { Effect } from "../../effects/effect.js";
import { resolvedEffectsOptions, type EffectsOptions } from "../../effects/effects-options.js";
import { improvementSign } from "../../effects/improvement-sign.js";
import { peopleOfRows } from "../../effects/people-of-rows.js";
import { correlationResolver } from "../../effects/pre-post-correlation.js";
import { isRefusal, orRefusal } from "../../effects/refusal.js";
import { relationCorrelation, type ArmRelation } from "../../effects/arm-relation.js";
import type { OutcomeRow } from "../../records/outcome-row.js";
import { armWorking } from "./arm-working.js";
import { factorOf, figureOf, type Step, type Working } from "./working.js";

/** An effect worked out line by line; each arm first, then what is made of the two. */
export type EffectWorking = Readonly<{ arms: readonly Working[]; last: readonly Step[] }>;

/** Numbers that agree to this share are the same number, written two ways. */
const sameWithin = 1e-9;

const agrees = (a: number, b: number): boolean =>
  Math.abs(a - b) <= sameWithin * Math.max(1e-12, Math.abs(a), Math.abs(b)) + 1e-15;

/** What the rows of a table print, read once for all its effects. */
export type ReadRows = Readonly<{
  readings: ReadonlyMap<OutcomeRow, ArmReading>;
  peopleOf: ReturnType<typeof peopleOfRows>;
}>;

/** Reads every row of a table, since correlations are borrowed among them. */
export const readRowsOf = (rows: readonly OutcomeRow[]): ReadRows => {
  const readings = new Map<OutcomeRow, ArmReading>();
  for (const row of rows) {
    if (row.statisticOf === "difference from comparator") continue;
    const reading = orRefusal(() => armReading(row));
    if (!isRefusal(reading)) readings.set(row, reading);
  }
  return { readings, peopleOf: peopleOfRows(rows) };
};

const relationOf = (
  { row, comparatorRow }: Effect,
  peopleOf: ReadRows["peopleOf"],
): ArmRelation => {
  if (comparatorRow === undefined || peopleOf(row) !== peopleOf(comparatorRow))
    return "different people";
  return row.design === "crossover" ? "periods of the same people" : "limbs of the same people";
};

/**
 * An effect worked out again line by line from its row, or nothing where its route is not one that is
 * shown so (a test statistic, an interval, an effect computed elsewhere, a pooled deviation).
 *
 * What comes out is held against the effect itself; a calculation that would not give the same number
 * is not shown.
 *
 * @param read every row of the table
 */
export const effectWorking = (
  effect: Effect,
  { readings, peopleOf }: ReadRows,
  options: EffectsOptions = {},
): EffectWorking | undefined => {
  const resolved = resolvedEffectsOptions({
    ...options,
    scale: effect.scale,
    contrast: effect.contrast,
  });
  const correlationOf = correlationResolver([...readings.values()], resolved);
  const workOut = (row: OutcomeRow) => {
    const reading = readings.get(row);
    if (reading === undefined) return undefined;
    const { value, source } = correlationOf(reading);
    return armWorking(effect.scale, {
      reading,
      correlation: value,
      correlationSource: source,
      order: resolved.logRatioOrder,
    });
  };
  const first = workOut(effect.row);
  if (first === undefined) return undefined;
  const sign = improvementSign(effect.row, effect.scale);
  const turned: readonly Step[] =
    sign === 1
      ? []
      : [
          {
            formula: "lower is better, so the sign is turned",
            numbers: "−1 times the estimate",
            result: figureOf(effect.estimate),
          },
        ];
  if (effect.contrast === "change-within-arm") {
    const same =
      agrees(sign * first.estimate, effect.estimate) && agrees(first.variance, effect.variance);
    return same ? { arms: [first.working], last: turned } : undefined;
  }
  const second = effect.comparatorRow === undefined ? undefined : workOut(effect.comparatorRow);
  if (second === undefined) return undefined;
  const relation = relationOf(effect, peopleOf);
  const between = relationCorrelation(relation, resolved);
  const [v1, v2] = [first.variance, second.variance];
  const estimate = first.estimate - second.estimate;
  const variance = v1 + v2 - 2 * between * Math.sqrt(v1 * v2);
  if (!agrees(sign * estimate, effect.estimate) || !agrees(variance, effect.variance))
    return undefined;
  const shared = between !== 0;
  return {
    arms: [
      { ...first.working, title: `Trained arm, “${effect.arm}”: ${first.working.title}` },
      {
        ...second.working,
        title: `Comparator, “${effect.comparatorArm ?? ""}”: ${second.working.title}`,
      },
    ],
    last: [
      {
        formula: "difference = trained − comparator",
        numbers: `${figureOf(first.estimate)} − ${factorOf(second.estimate)}`,
        result: figureOf(estimate),
      },
      {
        formula: shared
          ? `V = V₁ + V₂ − 2·ρ·√(V₁·V₂), ${relation}, ρ = ${figureOf(between)}`
          : "V = V₁ + V₂, different people",
        numbers: `${figureOf(v1)} + ${figureOf(v2)}${shared ? ` − 2 · ${factorOf(between)} · √(${figureOf(v1)} · ${figureOf(v2)})` : ""}`,
        result: figureOf(variance),
      },
      ...turned,
    ],
  };
};
