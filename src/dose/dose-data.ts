import type { Contrast, Effect, EffectScale, EffectSet } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import { CallError } from "../errors.js";
import type { Note } from "../errors.js";
import { grouped } from "../records/grouped.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import type { KnownCovariance, SynthesisEffect } from "../synthesis/synthesis-input.js";
import { doseOf, type DoseAxis } from "./dose-axes.js";
import { doseSupport, type DoseSupport } from "./dose-support.js";

/** The effects whose dose on one axis is known, as the models take them. */
export type DoseData = Readonly<{
  axis: DoseAxis;
  scale: EffectScale;
  contrast: Contrast;
  effects: readonly SynthesisEffect[];
  covariances: readonly KnownCovariance[];
  /** Dose of each effect. */
  doses: Float64Array;
  /** Mean dose of each effect's study, every arm at every dose counted once. */
  studyMeans: Float64Array;
  /** Whether the dose of each effect is the midpoint of a range. */
  midpoints: readonly boolean[];
  support: DoseSupport;
  /** People behind the effects, each arm counted once. */
  people: number;
  notes: readonly Note[];
}>;

/**
 * Mean over each study of the doses or of what is worked out from them, every arm at every dose counted once.
 *
 * @param doses one per effect
 * @param values one per effect, the same for equal doses; the doses themselves where not given
 */
export const studyMeansOf = (
  effects: readonly SynthesisEffect[],
  doses: ArrayLike<number>,
  values: ArrayLike<number> = doses,
): Float64Array => {
  const seen = new Map<string, Map<string, number>>();
  effects.forEach((effect, row) => {
    const list = seen.get(effect.study) ?? new Map<string, number>();
    list.set(`${effect.arm ?? ""}\u0000${doses[row]!}`, values[row]!);
    seen.set(effect.study, list);
  });
  const means = new Map(
    [...seen].map(([study, list]) => {
      let total = 0;
      for (const value of list.values()) total += value;
      return [study, total / list.size];
    }),
  );
  return Float64Array.from(effects, ({ study }) => means.get(study)!);
};

/** Arms of women beside arms of men: who they are differs as much as what they did. */
export const ofOneSexEach = (first: OutcomeRow, second: OutcomeRow): boolean =>
  Math.abs((first.femalePercent ?? 50) - (second.femalePercent ?? 50)) === 100;

/** Studies that set women at one dose beside men at another. */
const studiesOfTwoSexes = (effects: readonly Effect[], doses: Float64Array): readonly string[] =>
  [
    ...grouped(
      effects.map(({ cohort, study, row }, i) => ({ cohort, study, row, dose: doses[i]! })),
      ({ cohort }) => cohort,
    ).values(),
  ]
    .filter((own) =>
      own.some((one) =>
        own.some((other) => other.dose !== one.dose && ofOneSexEach(other.row, one.row)),
      ),
    )
    .map(([first]) => first!.study);

const peopleOf = (effects: readonly Effect[]): number => {
  const largest = new Map<string, number>();
  for (const { cohort, arm, participants } of effects) {
    const key = `${cohort} / ${arm}`;
    largest.set(key, Math.max(largest.get(key) ?? 0, participants));
  }
  let total = 0;
  for (const people of largest.values()) total += people;
  return total;
};

/**
 * The effects of a set that have a dose on an axis, with what the axis can tell.
 *
 * @param set   changes within arms, or arms against a control: an effect of one arm against another has no
 *   single dose
 * @param axis  from `doseAxes`
 * @throws {CallError} "between-arms" for contrasts of two trained arms
 */
export const doseData = (set: EffectSet, axis: DoseAxis): DoseData => {
  if (set.contrast === "between-arms") {
    throw new CallError({
      code: "between-arms",
      where: "dose-response",
      needs: "changes within arms or arms against a control",
      got: "contrasts of two trained arms, which have two doses each",
      try: "choose the contrast change-within-arm or against-control",
    });
  }
  const subset = effectSubset(set, ({ row }) => doseOf(row, axis.name) !== undefined);
  const values = subset.effects.map(({ row }) => doseOf(row, axis.name)!);
  const { effects, covariances } = effectInputs(subset);
  const doses = Float64Array.from(values, ({ value }) => value);
  const midpoints = values.map(({ isMidpoint }) => isMidpoint);
  const without = set.effects.length - subset.effects.length;
  const notes: Note[] = [];
  if (without > 0) {
    notes.push({
      code: "dose-unknown",
      message: `${without} of ${set.effects.length} effects are left out because their ${axis.label} is not coded or cannot be worked out`,
    });
  }
  const ranges = midpoints.filter(Boolean).length;
  if (ranges > 0) {
    notes.push({
      code: "dose-midpoints",
      message: `${ranges} of ${values.length} effects have a range as their ${axis.label}; its midpoint is used`,
    });
  }
  const mixed = studiesOfTwoSexes(subset.effects, doses);
  if (mixed.length > 0) {
    notes.push({
      code: "women-beside-men",
      message: `arms of women stand beside arms of men inside ${mixed.join(", ")}: who they are is part of what doses differ by there`,
    });
  }
  return {
    ...doseDataOf({ axis, effects, covariances, doses, scale: set.scale, contrast: set.contrast }),
    midpoints,
    people: peopleOf(subset.effects),
    notes,
  };
};

/** Effects with their doses, from wherever they come. */
export type DosedEffects = Readonly<{
  axis: DoseAxis;
  effects: readonly SynthesisEffect[];
  covariances: readonly KnownCovariance[];
  doses: ArrayLike<number>;
  scale?: EffectScale;
  contrast?: Contrast;
}>;

/**
 * The same for effects whose doses are at hand; arm ids are unique over all studies. People are not known.
 *
 * @throws {CallError} "unequal-lengths" or "not-finite" for doses that do not fit the effects
 */
export const doseDataOf = (dosed: DosedEffects): DoseData => {
  const { axis, effects, covariances } = dosed;
  const doses = Float64Array.from(dosed.doses);
  const bad = doses.find((dose) => !Number.isFinite(dose));
  if (doses.length !== effects.length || bad !== undefined) {
    throw new CallError({
      code: bad === undefined ? "unequal-lengths" : "not-finite",
      where: "dose-response",
      needs: "one finite dose for each effect",
      got: bad === undefined ? `${doses.length} doses for ${effects.length} effects` : String(bad),
    });
  }
  return {
    axis,
    scale: dosed.scale ?? "log-ratio-of-means",
    contrast: dosed.contrast ?? "change-within-arm",
    effects,
    covariances,
    doses,
    studyMeans: studyMeansOf(effects, doses),
    midpoints: effects.map(() => false),
    support: doseSupport(effects, doses),
    people: 0,
    notes: [],
  };
};
