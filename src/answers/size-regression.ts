/** The regression of effects on how small their studies are, by people where they are known. */
import {
  smallStudyRegression,
  type SmallStudyOptions,
  type SmallStudyRegression,
} from "../certainty/small-study-regression.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import type { Refusal } from "../errors.js";
import { noEffects, type AverageInput } from "./average.js";

/** People of each arm behind an effect. */
const peopleOf = ({ row, comparatorRow, participants }: Effect): readonly number[] =>
  comparatorRow === undefined
    ? [participants]
    : [row, comparatorRow].map(({ nEnd, nStart }) => nEnd ?? nStart ?? participants / 2);

/** The regression, or why there is none. */
export const sizeRegression = (
  { effects, covariances, set, ready }: AverageInput & Readonly<{ set?: EffectSet }>,
  {
    bySize = true,
    ...options
  }: Pick<SmallStudyOptions, "confidence" | "method"> & Readonly<{ bySize?: boolean }>,
): SmallStudyRegression | Refusal =>
  effects.length === 0
    ? noEffects
    : smallStudyRegression(effects, {
        ...options,
        levels: ready ? ["study", "effect_id"] : ["study", "arm", "effect_id"],
        knownCovariances: covariances,
        ...(bySize && set !== undefined ? { participants: set.effects.map(peopleOf) } : {}),
      });
