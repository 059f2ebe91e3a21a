/** The regression of effects on how small their studies are, by people where they are known. */
import {
  fewestSizedStudies,
  smallStudyRegression,
  type SmallStudyOptions,
  type SmallStudyRegression,
} from "../certainty/small-study-regression.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import { refusal, type Refusal } from "../errors.js";
import { counted } from "../tables/number-format.js";
import { noEffects, type AverageInput } from "./average.js";

/** People of each arm behind an effect. */
const peopleOf = ({ row, comparatorRow, participants }: Effect): readonly number[] =>
  comparatorRow === undefined
    ? [participants]
    : [row, comparatorRow].map(({ nEnd, nStart }) => nEnd ?? nStart ?? participants / 2);

/** The regression, or why there is none; standard errors of log ratios hold the effect and stand in for no people. */
export const sizeRegression = (
  { effects, covariances, set, ready }: AverageInput & Readonly<{ set?: EffectSet }>,
  {
    bySize = true,
    ...options
  }: Pick<SmallStudyOptions, "confidence" | "method"> & Readonly<{ bySize?: boolean }>,
): SmallStudyRegression | Refusal => {
  if (effects.length === 0) return noEffects;
  const people = bySize ? set?.effects.map(peopleOf) : undefined;
  const unknown = people?.filter((arms) => arms.some((some) => !(some >= 1))).length ?? 0;
  const studies = new Set(effects.map(({ study }) => study)).size;
  if (unknown > 0 && studies >= fewestSizedStudies)
    return refusal("bad-participants", `the people of ${counted(unknown, "effect")} are not known`);
  return smallStudyRegression(effects, {
    ...options,
    levels: ready ? ["study", "effect_id"] : ["study", "arm", "effect_id"],
    knownCovariances: covariances,
    ...(people !== undefined && unknown === 0 ? { participants: people } : {}),
  });
};
