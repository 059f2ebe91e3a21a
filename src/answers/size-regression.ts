/** The regression of effects on how small their studies are, by people where they are known. */
import {
  smallStudyRegression,
  type SmallStudyOptions,
  type SmallStudyRegression,
} from "../certainty/small-study-regression.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import { refusal, type Refusal } from "../errors.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { counted } from "../tables/number-format.js";
import { noEffects, type AverageInput } from "./average.js";

/** People of each arm behind an effect. */
const peopleOf = ({ row, comparatorRow, participants }: Effect): readonly number[] =>
  comparatorRow === undefined
    ? [participants]
    : [row, comparatorRow].map(({ nEnd, nStart }) => nEnd ?? nStart ?? participants / 2);

/**
 * The regression, or why there is none; standard errors of log ratios hold the effect and stand in for no people, so
 * effects whose people are not known are left out and named. Where standard errors are asked for all the same, borrowed
 * ones are left out: they tell nothing beyond the people, or were moved to what the result's own p allows.
 */
export const sizeRegression = (
  { effects, covariances, set, ready }: AverageInput & Readonly<{ set?: EffectSet }>,
  {
    bySize = true,
    ...options
  }: Pick<SmallStudyOptions, "confidence" | "method"> & Readonly<{ bySize?: boolean }>,
): SmallStudyRegression | Refusal => {
  if (effects.length === 0) return noEffects;
  const isSized = (effect: Effect): boolean =>
    bySize ? peopleOf(effect).every((some) => some >= 1) : effect.borrowed === undefined;
  const sized = set === undefined ? undefined : effectSubset(set, isSized);
  const unsized = sized === undefined ? [] : set!.effects.filter((effect) => !isSized(effect));
  if (sized?.effects.length === 0)
    return refusal(
      "bad-participants",
      bySize ? "the people of no effect are known" : "no effect has a spread of its own",
    );
  const used =
    sized === undefined || unsized.length === 0 ? { effects, covariances } : effectInputs(sized);
  const answer = smallStudyRegression(used.effects, {
    ...options,
    levels: ready ? ["study", "effect_id"] : ["study", "arm", "effect_id"],
    knownCovariances: used.covariances,
    ...(sized === undefined || !bySize ? {} : { participants: sized.effects.map(peopleOf) }),
  });
  if (unsized.length === 0) return answer;
  const studies = [...new Set(unsized.map(({ study }) => study))].join(", ");
  const lacking = bySize ? "whose people are not known" : "whose spread is borrowed";
  if (answer.kind === "refusal")
    return { ...answer, reason: `without ${studies}, ${lacking}, ${answer.reason}` };
  const message = `${counted(unsized.length, "effect")} ${lacking} ${unsized.length === 1 ? "is" : "are"} left out of small studies against large ones: ${studies}`;
  return { ...answer, notes: [...answer.notes, { code: "rows-left-out", message }] };
};
