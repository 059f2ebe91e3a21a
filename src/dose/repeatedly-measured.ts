import type { Effect, EffectSet } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { Note } from "../errors.js";
import { doseOf } from "./dose-axes.js";

/**
 * What was measured, apart from when.
 * @source none: a choice of fields
 */
export const measurementOf = ({ row }: Effect): string =>
  [row.outcome, row.method, row.unit, row.testAngleDegrees, row.testSitePercent, row.testSide]
    .map((part) =>
      String(part ?? "")
        .trim()
        .toLowerCase(),
    )
    .join(" | ");

/**
 * Effects of arms and measurements with two weeks or more, during training; what was left out is noted.
 * @source none: a choice of rows
 */
export const repeatedlyMeasured = (
  set: EffectSet,
): Readonly<{ repeated: EffectSet; notes: Note[] }> => {
  const notes: Note[] = [];
  const afterwards = ({ row }: Effect): boolean =>
    row.weeks !== undefined && row.weekMeasured !== undefined && row.weekMeasured > row.weeks;
  const late = set.effects.filter(afterwards).length;
  if (late > 0) {
    notes.push({
      code: "after-training",
      message: `${late} ${late === 1 ? "effect" : "effects"} measured after the end of training ${late === 1 ? "is" : "are"} left out`,
    });
  }
  const weeksOf = new Map<string, Set<number>>();
  const keyOf = (effect: Effect): string =>
    `${effect.cohort} / ${effect.arm} / ${measurementOf(effect)}`;
  const weekOf = ({ row }: Effect): number | undefined =>
    row.weekMeasured === undefined || row.weekMeasured <= 0
      ? undefined
      : doseOf(row, "weeks")?.value;
  for (const effect of set.effects) {
    const week = weekOf(effect);
    if (week === undefined || afterwards(effect)) continue;
    const seen = weeksOf.get(keyOf(effect)) ?? new Set<number>();
    weeksOf.set(keyOf(effect), seen.add(week));
  }
  const repeated = effectSubset(
    set,
    (effect) =>
      weekOf(effect) !== undefined &&
      !afterwards(effect) &&
      (weeksOf.get(keyOf(effect))?.size ?? 0) > 1,
  );
  return { repeated, notes };
};
